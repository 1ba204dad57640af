"""The least changes that bring a load under its budget, exactly: bouts off, an easier rung, a shorter part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from sessions.planning.numbers import at_least
from sessions.planning.plan import PlannedPart
from sessions.planning.reasons import Reason, reason

# By how much a session may be shorter: common practice, no source.
SHORTER_STEPS_MIN = (5, 10)
FEWEST_MINUTES_LEFT = 5
NEAR_AU = 1e-6


@dataclass(frozen=True, slots=True)
class Change:
    """One change to one part and the AU it takes away. `size` is bouts, rungs or minutes, by `kind`."""

    part: str
    title: str
    kind: Literal["bouts", "rung", "shorter"]
    size: int
    saving_au: float

    @property
    def reason(self) -> Reason:
        """The change in words, beside its part."""
        match self.kind:
            case "bouts":
                return reason(
                    "trim_bouts", self.part, title=self.title, count=self.size, saving_au=self.saving_au
                )
            case "rung":
                return reason("trim_rung", self.part, title=self.title, saving_au=self.saving_au)
            case _:
                return reason(
                    "trim_shorter", self.part, title=self.title, minutes=self.size, saving_au=self.saving_au
                )


@dataclass(frozen=True, slots=True)
class Trim:
    """The chosen changes, what they take away and what remains over (0 where the budget is met), in AU."""

    changes: tuple[Change, ...]
    saving_au: float
    left_over_au: float

    @property
    def reasons(self) -> tuple[Reason, ...]:
        """The changes in words, and what remains if they are not enough."""
        found = tuple(change.reason for change in self.changes)
        if self.left_over_au <= 0:
            return found
        return (*found, reason("trim_impossible", saving_au=self.saving_au, left_au=self.left_over_au))


def changes_of(part: PlannedPart, k: float = 1.0) -> tuple[Change, ...]:
    """What can be taken off a part, in expected AU (plan × k): up to all bouts but one, a rung, 5 or 10 min."""
    at_least("k", k, 0)
    found = []
    for count in range(1, part.bouts):
        minutes = count * (part.bout_length_s + part.rest_s) / 60
        found.append(Change(part.key, part.name, "bouts", count, k * part.cr10 * min(minutes, part.minutes)))
    if part.easier_cr10 is not None and part.easier_cr10 < part.cr10:
        saving_au = k * (part.cr10 - part.easier_cr10) * part.minutes
        found.append(Change(part.key, part.name, "rung", 1, saving_au))
    if part.bouts == 1:
        steps = (step for step in SHORTER_STEPS_MIN if part.minutes - step >= FEWEST_MINUTES_LEFT)
        found.extend(Change(part.key, part.name, "shorter", step, k * part.cr10 * step) for step in steps)
    return tuple(change for change in found if change.saving_au > 0)


def trim(over_au: float, offers: Sequence[Sequence[Change]]) -> Trim:
    """The fewest parts changed, then the least load taken away, so that `over_au` is gone.

    At most one change is taken from each of `offers` (one per part). Exact. When even the largest changes
    together are not enough they are answered, with what is left over.
    """
    at_least("over_au", over_au, 0)
    if over_au == 0:
        return Trim((), 0.0, 0.0)
    largest = [max(options, key=lambda change: change.saving_au) for options in offers if options]
    largest.sort(key=lambda change: -change.saving_au)
    savings = [change.saving_au for change in largest]
    fewest = next((n for n in range(1, len(savings) + 1) if sum(savings[:n]) >= over_au - NEAR_AU), None)
    if fewest is None:
        total_au = sum(savings)
        return Trim(tuple(largest), total_au, over_au - total_au)
    changes = _least(over_au, [options for options in offers if options], fewest)
    return Trim(changes, sum(change.saving_au for change in changes), 0.0)


def _least(over_au: float, offers: Sequence[Sequence[Change]], fewest: int) -> tuple[Change, ...]:
    """Of all choices of `fewest` changes that are enough, the one that takes away least."""
    reached: dict[tuple[int, float], tuple[Change, ...]] = {(0, 0.0): ()}
    enough = float("inf")
    for index, options in enumerate(offers):
        later = sorted((max(c.saving_au for c in more) for more in offers[index + 1 :]), reverse=True)
        for (count, saving), taken in list(reached.items()):
            for option in options if count < fewest else ():
                # rounded only so that equal sums meet
                sum_au = round(saving + option.saving_au, 6)
                still = sum(later[: fewest - count - 1])
                if sum_au < enough and sum_au + still >= over_au - NEAR_AU:
                    reached.setdefault((count + 1, sum_au), (*taken, option))
                    enough = sum_au if count + 1 == fewest else enough
    least = min(sum_au for count, sum_au in reached if count == fewest and sum_au >= over_au - NEAR_AU)
    return reached[fewest, least]
