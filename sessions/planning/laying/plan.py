"""When each thing of an evening is laid, and by how many: before the start, while others play, or in a changeover.

What is new for a part is laid while the part before is played, where an adult is spare then; else in the changeover. What
the changeover can't hold is laid before the start, unless it would stand in the way of what is played until then or the
club has too little of it. So there is one figure for the time before the start, the least with which every changeover is
long enough; where that can't be had the part says how much is missing. Who is done with a part carries its kit in: that
takes no adult's time here (common practice, no source).
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from sessions.planning.laying.things import ALL_OF_IT, GridAt, Thing
from sessions.planning.numbers import at_least, whole
from sessions.planning.reasons import Reason, reason

When = Literal["before", "during", "changeover"]
HALF_MINUTE_S = 30
SLACK_S = (
    15  # the seconds are an estimate: by less than this a changeover is not too short (ours, a judgement)
)


@dataclass(frozen=True, slots=True)
class PartToLay:
    """A part: what it needs on the ground, where it is played, its seconds, and the adults it can't spare while it is played.

    `changeover_s` lies before it. Things are all different.
    """

    key: str
    things: tuple[Thing, ...] = ()
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
    """The adults of the evening; `watching` of them stay with the players in a changeover, as long as one is left to lay."""

    adults: int
    watching: int = 1

    def __post_init__(self) -> None:
        whole("adults", self.adults, 0)
        whole("watching", self.watching, 0)

    @property
    def before(self) -> int:
        return max(1, self.adults)

    @property
    def between(self) -> int:
        return max(1, self.adults - self.watching)

    def spare(self, part: PartToLay) -> int:
        """Adults who are not needed while a part is played."""
        return max(0, self.adults - part.needed)


@dataclass(frozen=True, slots=True)
class Lay:
    """What is laid at one time for one part, in whole parts' numbers from 0.

    `at` is the part that is played meanwhile, or whose changeover it is; 0 before the start. `seconds` are on the clock,
    with `adults` at it together.
    """

    when: When
    at: int
    part: int
    things: tuple[Thing, ...]
    adults: int

    @property
    def seconds(self) -> float:
        return sum(each.seconds for each in self.things) / self.adults

    @property
    def kit(self) -> dict[str, int]:
        """How many of each kind, in the order of their names."""
        return dict(sorted(Counter(each.kind for each in self.things if each.kind != ALL_OF_IT).items()))


@dataclass(frozen=True, slots=True)
class SetUpPlan:
    """The evening: in order what is laid, and for each part what stands already when its changeover begins.

    `stands` are of the part's own things; `most` is how many of each kind are out at the same time at most.
    """

    parts: tuple[PartToLay, ...]
    lays: tuple[Lay, ...]
    stands: tuple[tuple[Thing, ...], ...]
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
    def reasons(self) -> tuple[Reason, ...]:
        """Beside each part whose changeover is too short: by how much, and what would clear it."""
        return tuple(_too_short(self, index) for index in range(1, len(self.parts)) if self.short_s(index))


def set_up_plan(parts: Sequence[PartToLay], crew: Crew, stock: Mapping[str, int] | None = None) -> SetUpPlan:
    """The set-up plan of an evening. `stock` is what the club has of each kind; one that it doesn't list is enough.

    Nobody has to lend a hand: it is the best plan with as many adults as there are, or fewer. Best is what is short in the
    changeovers, then before the start, then in the changeovers together. Deterministic.
    """
    plans = [
        _Evening(parts, Crew(adults, crew.watching), stock or {}).plan()
        for adults in range(min(1, crew.adults), crew.adults + 1)
    ]
    return min(reversed(plans), key=_worth)


def _worth(plan: SetUpPlan) -> tuple[float, int, float]:
    every = range(len(plan.parts))
    short_s = sum(plan.short_s(index) for index in every)
    return round(short_s, 6), plan.before_minutes, round(sum(plan.changing_s(index) for index in every), 6)


def in_the_way(thing: Thing, part: PartToLay) -> bool:
    """Whether a thing that a part doesn't need would stand where it is played, or too near for a goal or a pole."""
    keep = thing.clearance
    left, low, length, width = thing.area
    return any(
        grid.space == thing.space
        and left < grid.body[0] + grid.body[2] + keep
        and grid.body[0] - keep < left + length
        and low < grid.body[1] + grid.body[3] + keep
        and grid.body[1] - keep < low + width
        for grid in part.grids
    )


class _Evening:
    """The parts in order, with what stands where while each is played."""

    def __init__(self, parts: Sequence[PartToLay], crew: Crew, stock: Mapping[str, int]) -> None:
        self.parts, self.crew = tuple(parts), crew
        self.needs = [set(each.things) for each in parts]
        used = [Counter(thing.kind for thing in each.things) for each in parts]
        self.out = [Counter(each) for each in used]
        self.most = [{kind: stock[kind] for kind in stock} for _ in parts]
        self.last: dict[Thing, int] = {}
        self.lays: list[Lay] = []
        self.stands: list[tuple[Thing, ...]] = []

    def plan(self) -> SetUpPlan:
        for index in range(len(self.parts)):
            self._part(index)
        order = {"before": 0, "changeover": 1, "during": 2}
        self.lays.sort(key=lambda each: (each.when != "before", each.at, order[each.when], each.part))
        most: Counter[str] = Counter()
        for out in self.out:
            most |= out
        most.pop(ALL_OF_IT, None)
        return SetUpPlan(self.parts, tuple(self.lays), tuple(self.stands), dict(sorted(most.items())))

    def _part(self, index: int) -> None:
        part = self.parts[index]
        stands = [
            each for each in part.things if each in self.last and self._keep(each, self.last[each] + 1, index)
        ]
        standing = set(stands)
        # The longest first: they have the fewest times that hold them.
        new = sorted(
            (each for each in part.things if each not in standing),
            key=lambda each: (-each.seconds, each.kind, each.space, each.area, each.mark),
        )
        if index:
            new = self._during(index, new)
            new = self._before(index, new)
            self._lay("changeover", index, index, new, self.crew.between)
        else:
            self._lay("before", 0, 0, new, self.crew.before)
        early = [
            each for lay in self.lays if lay.part == index and lay.when != "changeover" for each in lay.things
        ]
        self.stands.append(tuple(stands) if not index else (*stands, *early))
        self.last |= dict.fromkeys(part.things, index)

    def _during(self, index: int, new: list[Thing]) -> list[Thing]:
        """Lay what spare adults can while the part before is played; what is left."""
        spare = self.crew.spare(self.parts[index - 1])
        left_s = spare * self.parts[index - 1].play_s
        done = []
        for each in new:
            if spare and each.seconds <= left_s and self._keep(each, index - 1, index):
                left_s -= each.seconds
                done.append(each)
        self._lay("during", index - 1, index, done, max(1, spare))
        return [each for each in new if each not in set(done)]

    def _before(self, index: int, new: list[Thing]) -> list[Thing]:
        """Lay before the start what the changeover can't hold, as little as will do; what is left for the changeover."""
        there_s = self.parts[index].changeover_s + SLACK_S
        over_s = sum(each.seconds for each in new) - self.crew.between * there_s
        if over_s <= 0:
            return new
        may = [each for each in new if each.seconds and self._may_stand(each, 0, index)]
        chosen = []
        for each in _least_enough(self._as_many_as_there_are(may, index), over_s):
            if self._keep(each, 0, index):
                chosen.append(each)
        self._lay("before", 0, index, chosen, self.crew.before)
        return [each for each in new if each not in set(chosen)]

    def _as_many_as_there_are(self, things: Iterable[Thing], until: int) -> list[Thing]:
        """Of each kind no more than the stock has left while the parts before `until` are played."""
        left: dict[str, int] = {}
        found = []
        for each in things:
            spare = min(
                (
                    self.most[n][each.kind] - self.out[n][each.kind]
                    for n in range(until)
                    if each.kind in self.most[n]
                ),
                default=None,
            )
            left.setdefault(each.kind, len(self.parts[until].things) if spare is None else max(0, spare))
            if left[each.kind]:
                left[each.kind] -= 1
                found.append(each)
        return found

    def _may_stand(self, thing: Thing, first: int, until: int) -> bool:
        """Whether a thing can stand while parts from `first` up to `until`, which is left out, are played."""
        return all(
            thing in self.needs[n]
            or (
                not in_the_way(thing, self.parts[n])
                and self.out[n][thing.kind] < self.most[n].get(thing.kind, math.inf)
            )
            for n in range(first, until)
        )

    def _keep(self, thing: Thing, first: int, until: int) -> bool:
        """Let a thing stand meanwhile, if it can."""
        if not self._may_stand(thing, first, until):
            return False
        for n in range(first, until):
            if thing not in self.needs[n]:
                self.out[n][thing.kind] += 1
        return True

    def _lay(self, when: When, at: int, part: int, things: Sequence[Thing], adults: int) -> None:
        if things:
            self.lays.append(Lay(when, at, part, tuple(things), adults))


def _least_enough(things: Sequence[Thing], over_s: int) -> tuple[Thing, ...]:
    """Those that together take least and still at least `over_s` seconds; all of them where that isn't enough."""
    if sum(each.seconds for each in things) <= over_s:
        return tuple(things)
    reached: dict[int, tuple[Thing, ...]] = {0: ()}
    for each in things:
        for total, chosen in sorted(reached.items()):
            if total < over_s:
                reached.setdefault(total + each.seconds, (*chosen, each))
    return reached[min(total for total in reached if total >= over_s)]


def half_minutes(seconds: float) -> float:
    """Minutes to the nearest half, half a minute for anything at all."""
    return max(1, math.floor(seconds / HALF_MINUTE_S + 0.5 - 1e-9)) / 2 if seconds else 0.0


def _too_short(plan: SetUpPlan, index: int) -> Reason:
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
