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

from sessions.planning.laying.model import SLACK_S, Crew, Lay, PartToLay, SetUpPlan, When, counted
from sessions.planning.laying.things import ALL_OF_IT, PlacedKit

MOST_CREW = 8  # more would be in each other's way (common practice, no source)


def set_up_plan(parts: Sequence[PartToLay], crew: Crew, stock: Mapping[str, int] | None = None) -> SetUpPlan:
    """The set-up plan of an evening. `stock` is what the club has of each kind; one that it doesn't list is enough.

    Not every adult has to lay: it is the best of the plans with each number of adults up to all of them (`MOST_CREW` at
    most). Best has the fewest seconds short in changeovers, then the fewest minutes before the start, then the fewest
    seconds in changeovers. Deterministic.
    """
    most, blocked = min(crew.adults, MOST_CREW), _Blocked(parts)
    plans = [
        _Evening(parts, Crew(adults, crew.watching), stock or {}, blocked).plan()
        for adults in range(min(1, most), most + 1)
    ]
    return min(reversed(plans), key=_worth)


def _worth(plan: SetUpPlan) -> tuple[float, int, float]:
    every = range(len(plan.parts))
    short_s = sum(plan.short_s(index) for index in every)
    return round(short_s, 6), plan.before_minutes, round(sum(plan.changing_s(index) for index in every), 6)


def in_the_way(thing: PlacedKit, part: PartToLay) -> bool:
    """Whether a thing lies on the ground of a part's grids, or nearer to it than its `clearance` lets it."""
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


class _Blocked:
    """What would be in the way while which part is played, worked out once for all plans."""

    def __init__(self, parts: Sequence[PartToLay]) -> None:
        self.parts = parts
        self.known: list[dict[PlacedKit, bool]] = [{} for _ in parts]

    def __call__(self, thing: PlacedKit, part: int) -> bool:
        known = self.known[part]
        if thing not in known:
            known[thing] = in_the_way(thing, self.parts[part])
        return known[thing]


class _Evening:
    """The parts in order, with what stands where while each is played."""

    def __init__(
        self, parts: Sequence[PartToLay], crew: Crew, stock: Mapping[str, int], blocked: _Blocked
    ) -> None:
        self.parts, self.crew, self.blocked = tuple(parts), crew, blocked
        self.needs = [set(each.things) for each in parts]
        self.out = [Counter(counted(each.things)) for each in parts]
        self.most = [{kind: stock[kind] for kind in stock} for _ in parts]
        self.last: dict[PlacedKit, int] = {}
        self.lays: list[Lay] = []
        self.stands: list[tuple[PlacedKit, ...]] = []

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

    def _during(self, index: int, new: list[PlacedKit]) -> list[PlacedKit]:
        """Lay what spare adults can while the part before is played; what is left."""
        spare = self.crew.spare(self.parts[index - 1])
        left_s = spare * self.parts[index - 1].play_s
        done = []
        for each in new:
            if spare and each.seconds <= left_s and self._keep(each, index - 1, index):
                left_s -= each.seconds
                done.append(each)
        self._lay("during", index - 1, index, done, max(1, spare))
        return _without(new, done)

    def _before(self, index: int, new: list[PlacedKit]) -> list[PlacedKit]:
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
        return _without(new, chosen)

    def _as_many_as_there_are(self, things: Iterable[PlacedKit], until: int) -> list[PlacedKit]:
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
            if spare is not None and left.setdefault(each.kind, spare) < each.count:
                continue
            if spare is not None:
                left[each.kind] -= each.count
            found.append(each)
        return found

    def _may_stand(self, thing: PlacedKit, first: int, until: int) -> bool:
        """Whether a thing can stand while parts from `first` up to `until`, which is left out, are played."""
        return all(
            thing in self.needs[n]
            or (
                not self.blocked(thing, n)
                and self.out[n][thing.kind] + thing.count <= self.most[n].get(thing.kind, math.inf)
            )
            for n in range(first, until)
        )

    def _keep(self, thing: PlacedKit, first: int, until: int) -> bool:
        """Let a thing stand meanwhile, if it can."""
        if not self._may_stand(thing, first, until):
            return False
        for n in range(first, until):
            if thing not in self.needs[n]:
                self.out[n][thing.kind] += thing.count
        return True

    def _lay(self, when: When, at: int, part: int, things: Sequence[PlacedKit], adults: int) -> None:
        if things:
            self.lays.append(Lay(when, at, part, tuple(things), adults))


def _least_enough(things: Sequence[PlacedKit], over_s: int) -> tuple[PlacedKit, ...]:
    """Those that together take least and still at least `over_s` seconds; all of them where that isn't enough."""
    if sum(each.seconds for each in things) <= over_s:
        return tuple(things)
    # By sum, the last thing that was added to reach it: its own sum before that was reached without it.
    last: dict[int, PlacedKit] = {}
    for each in things:
        for total in sorted({0, *last}):
            if total < over_s and total + each.seconds not in last:
                last[total + each.seconds] = each
        if over_s in last:
            break
    total, chosen = min(reached for reached in last if reached >= over_s), []
    while total:
        chosen.append(last[total])
        total -= last[total].seconds
    return tuple(chosen)


def _without(things: Iterable[PlacedKit], gone: Iterable[PlacedKit]) -> list[PlacedKit]:
    left_out = set(gone)
    return [each for each in things if each not in left_out]
