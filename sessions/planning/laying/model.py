"""Values of a set-up plan: the parts with what they need, the adults, what is laid when, and what follows from it."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from sessions.planning.laying.things import ALL_OF_IT, GridAt, PlacedKit
from sessions.planning.numbers import at_least, whole
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.rounds import HALF_MINUTE_S

When = Literal["before", "during", "changeover"]
# The seconds are an estimate: by less than this a changeover is not too short (ours, a judgement).
SLACK_S = 15


@dataclass(frozen=True, slots=True)
class PartToLay:
    """A part: its things on the ground, where it is played, its seconds, and the adults it can't spare meanwhile.

    `changeover_s` lies before it. Raises ValueError naming the field, also where two things are the same.
    """

    key: str
    things: tuple[PlacedKit, ...] = ()
    grids: tuple[GridAt, ...] = ()
    play_s: float = 0.0
    changeover_s: int = 0
    needed: int = 1

    def __post_init__(self) -> None:
        at_least("play_s", self.play_s, 0)
        whole("changeover_s", self.changeover_s, 0)
        whole("needed", self.needed, 0)
        if len(set(self.things)) != len(self.things):
            raise ValueError("things: two of a part stand in the same place")


@dataclass(frozen=True, slots=True)
class Crew:
    """The adults of the evening; `watching` of them stay with the players in a changeover, as long as one is left to lay.

    Raises ValueError naming the field.
    """

    adults: int
    watching: int = 1

    def __post_init__(self) -> None:
        whole("adults", self.adults, 0)
        whole("watching", self.watching, 0)

    @property
    def before(self) -> int:
        """How many lay before the start: every adult; one where nobody is down for it."""
        return max(1, self.adults)

    @property
    def between(self) -> int:
        """How many lay in a changeover: all but those who watch, one at least."""
        return max(1, self.adults - self.watching)

    def spare(self, part: PartToLay) -> int:
        """Adults who are not needed while a part is played."""
        return max(0, self.adults - part.needed)


@dataclass(frozen=True, slots=True)
class Lay:
    """What is laid at one time for one part; `at` and `part` number the parts from 0.

    `at` is the part that is played meanwhile, or whose changeover it is; 0 before the start. `seconds` are on the clock,
    with `adults` at it together.
    """

    when: When
    at: int
    part: int
    things: tuple[PlacedKit, ...]
    adults: int

    @property
    def seconds(self) -> float:
        """Seconds for one adult ÷ the adults at it."""
        return sum(each.seconds for each in self.things) / self.adults

    @property
    def kit(self) -> dict[str, int]:
        """How many of each kind, in the order of their names."""
        return counted(self.things)


@dataclass(frozen=True, slots=True)
class SetUpPlan:
    """The evening: in order what is laid, and for each part what stands already when its changeover begins.

    `stands` are of the part's own things; `most` is how many of each kind are out at the same time at most.
    """

    parts: tuple[PartToLay, ...]
    lays: tuple[Lay, ...]
    stands: tuple[tuple[PlacedKit, ...], ...]
    most: Mapping[str, int]

    @property
    def before_minutes(self) -> int:
        """Minutes before the start at which laying begins: whole, rounded up."""
        return math.ceil(sum(each.seconds for each in self.lays if each.when == "before") / 60 - 1e-9)

    def changing_s(self, part: int) -> float:
        """Seconds that laying takes in the changeover into a part."""
        return sum(each.seconds for each in self.lays if each.when == "changeover" and each.part == part)

    def changeover_minutes(self, part: int) -> float:
        """The same to the nearest half minute; half a minute for anything at all."""
        return half_minutes(self.changing_s(part))

    def short_s(self, part: int) -> float:
        """Seconds by which the changeover into a part is too short for what has to be laid in it."""
        over_s = self.changing_s(part) - self.parts[part].changeover_s
        return over_s if over_s > SLACK_S + 1e-6 else 0.0

    def laid_for(self, part: int) -> tuple[Lay, ...]:
        """What is laid for a part, in order of time."""
        return tuple(each for each in self.lays if each.part == part)

    def laid_at(self, when: When, at: int) -> tuple[Lay, ...]:
        """What is laid at one time, for whichever part."""
        return tuple(each for each in self.lays if (each.when, each.at) == (when, at))

    def stays(self, part: int) -> dict[str, int]:
        """How many of each kind a part finds standing, in the order of their names."""
        return dict(
            sorted(Counter(each.kind for each in self.stands[part] if each.kind != ALL_OF_IT).items())
        )

    @property
    def reasons(self) -> tuple[PlanningReason, ...]:
        """Beside each part whose changeover is too short: by how much, and what would clear it."""
        return tuple(_too_short(self, index) for index in range(1, len(self.parts)) if self.short_s(index))


def counted(things: Iterable[PlacedKit]) -> dict[str, int]:
    """Kind → how many, in the order of the kinds' names; without what names nothing to lay (`ALL_OF_IT`)."""
    found: Counter[str] = Counter()
    for each in things:
        found[each.kind] += each.count
    found.pop(ALL_OF_IT, None)
    return dict(sorted(found.items()))


def half_minutes(seconds: float) -> float:
    """Seconds as minutes to the nearest half; half a minute for anything at all, 0 for nothing."""
    return max(1, math.floor(seconds / HALF_MINUTE_S + 0.5 - 1e-9)) / 2 if seconds else 0.0


def _too_short(plan: SetUpPlan, index: int) -> PlanningReason:
    part = plan.parts[index]
    need_min = plan.changeover_minutes(index)
    return reason(
        "changeover_too_short",
        part.key,
        (reason("clear_changeover", part.key, minutes=need_min),),
        need_min=need_min,
        there_min=part.changeover_s / 60,
        short_min=half_minutes(plan.short_s(index)),
    )
