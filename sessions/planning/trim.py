"""The least changes that bring a load under its budget, exactly: rounds off, an easier variation, a shorter part, the last
part left out, or a whole session left out.

Loads are counted in tenths of an AU, as the ledger keeps them: a saving is rounded down and what is over is rounded up, so
that what is offered is never too little.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from sessions.planning.numbers import at_least
from sessions.planning.plan import PlannedPart
from sessions.planning.reasons import PlanningReason, Value, reason
from sessions.planning.shares import share_words

# By how much a session may be shorter: common practice, no source.
SHORTER_STEPS_MIN = (5, 10)
FEWEST_MINUTES_LEFT = 5
FEWEST_PARTS_LEFT = 2
NEAR_TENTHS = 1e-5

Kind = Literal["bouts", "rung", "shorter", "part", "session"]
When = Literal["after", "same", "before"]
Played = Literal["match", "tournament"]
_CODES: Mapping[Kind, str] = {
    "bouts": "trim_bouts",
    "rung": "trim_rung",
    "shorter": "trim_shorter",
    "part": "trim_part",
    "session": "trim_session",
}
_BESIDE: Mapping[tuple[When, Played], str] = {
    ("after", "match"): "trim_session_after_match",
    ("after", "tournament"): "trim_session_after_tournament",
    ("before", "match"): "trim_session_before_match",
    ("before", "tournament"): "trim_session_before_tournament",
    ("same", "match"): "trim_session_same_match",
    ("same", "tournament"): "trim_session_same_tournament",
}


@dataclass(frozen=True, slots=True)
class NearbyGame:
    """A match or tournament the day before a session (`after` it), on its day or the day after it (`before`)."""

    when: When
    kind: Played
    title: str


@dataclass(frozen=True, slots=True)
class TrimChange:
    """One change to one part, or to a whole session, and the expected AU that it takes off.

    `size` is rounds, rungs, minutes, parts or sessions, by `kind`; `minutes` are those that go.
    """

    part: str
    title: str
    kind: Kind
    size: int
    saving_au: float
    session: str = ""
    minutes: int = 0
    beside: NearbyGame | None = None

    def reason(self, over_au: float) -> PlanningReason:
        """The change in words, beside its part: which share of what is over it takes off."""
        share = share_words(min(self.saving_au, over_au), over_au)
        more: dict[str, Value] = {}
        if self.kind == "bouts":
            more = {"count": self.size}
        elif self.kind == "shorter":
            more = {"minutes": self.size}
        elif self.kind == "session" and self.beside:
            more = {"event": self.beside.title}
        values: dict[str, Any] = {**more, "title": self.title, "share": share, "saving_au": self.saving_au}
        return reason(self.code, self.part or None, **values)

    @property
    def code(self) -> str:
        """The key of its sentence in the catalogue."""
        if self.kind == "session" and self.beside:
            return _BESIDE[self.beside.when, self.beside.kind]
        return _CODES[self.kind]


@dataclass(frozen=True, slots=True)
class Offers:
    """What can be taken off one session: at most one change of each part, or the whole of it left out."""

    parts: tuple[tuple[TrimChange, ...], ...]
    left_out: TrimChange | None = None


@dataclass(frozen=True, slots=True)
class Trim:
    """The chosen changes, what they take off and what remains over (0 where the budget is met), in AU."""

    over_au: float
    changes: tuple[TrimChange, ...]
    saving_au: float
    left_over_au: float

    @property
    def is_enough(self) -> bool:
        """Whether the budget is met afterwards."""
        return self.left_over_au <= 0

    @property
    def reasons(self) -> tuple[PlanningReason, ...]:
        """The changes in words, and what remains if they are not enough."""
        found = tuple(change.reason(self.over_au) for change in self.changes)
        if self.is_enough:
            return found
        if not self.changes:
            return (reason("trim_nothing", left_au=self.left_over_au),)
        share = share_words(self.left_over_au, self.over_au)
        return (
            *found,
            reason("trim_impossible", share=share, saving_au=self.saving_au, left_au=self.left_over_au),
        )


def changes_of(part: PlannedPart, k: float = 1.0, session: str = "") -> tuple[TrimChange, ...]:
    """What can be taken off a part, in expected AU (plan × k): up to all rounds but one, a rung, or 5 or 10 min.

    Rounds take whole minutes along, since a part has whole minutes. Raises ValueError for `k` below 0.
    """
    at_least("k", k, 0)
    found = []
    for count in range(1, part.bouts):
        minutes = min(int(count * (part.bout_length_s + part.rest_s) / 60 + 1e-9), int(part.minutes) - 1)
        found.append(_change(part, session, "bouts", count, k * part.cr10 * minutes, minutes))
    if part.easier_cr10 is not None and part.easier_cr10 < part.cr10:
        saving_au = k * (part.cr10 - part.easier_cr10) * part.minutes
        found.append(_change(part, session, "rung", 1, saving_au, 0))
    if part.bouts == 1:
        steps = (step for step in SHORTER_STEPS_MIN if part.minutes - step >= FEWEST_MINUTES_LEFT)
        found.extend(_change(part, session, "shorter", step, k * part.cr10 * step, step) for step in steps)
    return tuple(change for change in found if change.saving_au > 0)


def left_out(part: PlannedPart, k: float = 1.0, session: str = "") -> TrimChange:
    """A whole part that is left out, with the changeover into it; in expected AU (plan × `k`)."""
    au = k * (part.cr10 * part.minutes + part.changeover_s / 60)
    return _change(part, session, "part", 1, au, int(part.minutes))


def offers_of(
    parts: Sequence[PlannedPart],
    k: float = 1.0,
    *,
    session: str = "",
    title: str = "",
    total_au: float | None = None,
    beside: NearbyGame | None = None,
) -> Offers:
    """What can be taken off a session, in expected AU (plan × `k`).

    That is what can be taken off each part; its last part where two remain; and all of it where `total_au` is given.
    """
    each = [list(changes_of(part, k, session)) for part in parts]
    if len(parts) > FEWEST_PARTS_LEFT:
        each[-1].append(left_out(parts[-1], k, session))
    whole = None
    if total_au is not None and total_au > 0:
        whole = TrimChange("", title, "session", 1, total_au, session, beside=beside)
    return Offers(tuple(tuple(changes) for changes in each), whole)


def _change(
    part: PlannedPart, session: str, kind: Kind, size: int, saving_au: float, minutes: int
) -> TrimChange:
    return TrimChange(part.key, part.name, kind, size, saving_au, session, minutes)


def trim(over_au: float, offers: Sequence[Offers]) -> Trim:
    """As few sessions left out as can be, then as few changes, then the least load taken off, so that `over_au` is gone.

    Exact to a tenth of an AU. When all that can be taken off is not enough it is answered, with what is left over.
    """
    return _trim(over_au, offers, leaving_out=0)


def ways(over_au: float, offers: Sequence[Offers]) -> tuple[Trim, ...]:
    """One way or two: the least changes, and the least where a session is left out as well.

    Leaving out comes first where a session stands the day after a tournament: then it is that one. A way that would not be
    enough is answered only where none is.
    """
    first = trim(over_au, offers)
    if over_au <= 0 or not first.is_enough or any(each.kind == "session" for each in first.changes):
        return (first,)
    tired = [each for each in offers if _day_after_tournament(each)]
    allowed = tired or [each for each in offers if each.left_out]
    narrowed = [each if each in allowed else replace(each, left_out=None) for each in offers]
    second = _trim(over_au, narrowed, leaving_out=1) if allowed else first
    if not second.is_enough or second == first:
        return (first,)
    return (second, first) if tired else (first, second)


def _day_after_tournament(offers: Offers) -> bool:
    beside = offers.left_out.beside if offers.left_out else None
    return beside is not None and (beside.when, beside.kind) == ("after", "tournament")


_Costs = tuple[int, int]  # sessions left out, changes to parts
_Reached = dict[tuple[int, int, int], tuple[TrimChange, ...]]  # both, and the tenths taken off


def _tenths(change: TrimChange) -> int:
    return math.floor(change.saving_au * 10 + NEAR_TENTHS)


def _trim(over_au: float, offers: Sequence[Offers], *, leaving_out: int) -> Trim:
    at_least("over_au", over_au, 0)
    over = math.ceil(over_au * 10 - NEAR_TENTHS)
    if over <= 0:
        return Trim(over_au, (), 0.0, 0.0)
    most = [_most(each) for each in offers]
    together = _sums(most)
    fewest = min(
        (costs for costs, tenths in together.items() if tenths >= over and costs[0] >= leaving_out),
        default=None,
    )
    if fewest is None:
        return Trim(over_au, (), 0.0, over_au) if leaving_out else _all_of_it(over_au, offers)
    changes = _least(over, offers, fewest, [_sums(most[index + 1 :]) for index in range(len(most))])
    return Trim(over_au, changes, sum(each.saving_au for each in changes), 0.0)


def _most(offers: Offers) -> dict[_Costs, int]:
    """The most tenths that one session gives, for each number of changes, and where it is left out."""
    largest = sorted((max(map(_tenths, options)) for options in offers.parts if options), reverse=True)
    found: dict[_Costs, int] = {(0, count): sum(largest[:count]) for count in range(len(largest) + 1)}
    if offers.left_out:
        found[1, 0] = _tenths(offers.left_out)
    return found


def _sums(most: Iterable[Mapping[_Costs, int]]) -> dict[_Costs, int]:
    """The same of several sessions together."""
    found: dict[_Costs, int] = {(0, 0): 0}
    for each in most:
        added: dict[_Costs, int] = {}
        for (out, count), tenths in found.items():
            for (more_out, more), saving in each.items():
                costs = out + more_out, count + more
                added[costs] = max(added.get(costs, 0), tenths + saving)
        found = added
    return found


def _all_of_it(over_au: float, offers: Sequence[Offers]) -> Trim:
    """Everything that can be taken off: of each session the whole, else the largest change of each part."""
    changes: list[TrimChange] = []
    for each in offers:
        parts = [max(options, key=lambda change: change.saving_au) for options in each.parts if options]
        parts.sort(key=lambda change: -change.saving_au)
        whole = each.left_out
        changes += [whole] if whole and whole.saving_au >= sum(part.saving_au for part in parts) else parts
    total_au = sum(change.saving_au for change in changes)
    return Trim(over_au, tuple(changes), total_au, max(0.0, over_au - total_au))


def _least(
    over: int, offers: Sequence[Offers], costs: _Costs, later: Sequence[Mapping[_Costs, int]]
) -> tuple[TrimChange, ...]:
    """Of all choices with these costs that are enough, the one that takes off least. `later` is the most of what follows."""
    reached: _Reached = {(0, 0, 0): ()}
    for each, most_later in zip(offers, later, strict=True):
        states = dict(reached)
        for options in each.parts:
            for (out, count, tenths), taken in list(states.items()):
                if count == costs[1]:
                    continue
                for option in options:
                    states.setdefault((out, count + 1, tenths + _tenths(option)), (*taken, option))
        if each.left_out and costs[0]:
            for (out, count, tenths), taken in reached.items():
                key = out + 1, count, tenths + _tenths(each.left_out)
                states.setdefault(key, (*taken, each.left_out))
        reached = {
            key: taken
            for key, taken in states.items()
            if key[2] + most_later.get((costs[0] - key[0], costs[1] - key[1]), -over) >= over
        }
    return reached[min(reached, key=lambda key: key[2])]
