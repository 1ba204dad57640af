"""Who waits in which bout: even first, then nobody twice running where it can be avoided."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.rotation.evening import Night, bound_and_targets, unevenness
from sessions.planning.rotation.seating import GaveUp, Seating, smallest_clash

Sets = dict[int, frozenset[str]]

MOST_PLANS = 5_000
MOST_SETS = 2_000


@dataclass(frozen=True, slots=True)
class Waiting:
    """Waiting players by bout; `exhausted` where every plan was looked at and none is more even."""

    sets: Sets
    exhausted: bool


def plan_waiting(night: Night) -> Waiting | PlanningReason:
    """Plan the bouts that are still to come, or say which role cannot be filled."""
    bound, targets = bound_and_targets(night)
    sets: Sets = {bout.number: frozenset(bout.waiting) for bout in night.played}
    for bout in night.to_plan:
        who = _who_waits(night, bout, sets, targets)
        if who is None:
            return _why_not(night, bout)
        sets[bout] = who
    if unevenness(night, sets) <= bound:
        return Waiting(_fewer_twice(night, sets), exhausted=False)
    better = _every_plan(night, sets)
    if better is None:
        return Waiting(_fewer_twice(night, sets), exhausted=False)
    return Waiting(better, exhausted=True)


def _who_waits(night: Night, bout: int, sets: Sets, targets: dict[str, int]) -> frozenset[str] | None:
    """Those whose waiting is most pressing, as long as every role stays filled; None where it can't be."""
    there = [name for name in night.there(bout) if name in targets]
    waited = {name: sum(name in who for who in sets.values()) for name in there}
    to_come = [frozenset(night.there(each)) for each in range(bout, night.bouts + 1)]
    left = {name: sum(name in each for each in to_come) for name in there}
    last = sets.get(bout - 1, frozenset())

    def pressing(name: str) -> tuple[bool, bool, float, int]:
        needs = targets[name] - waited[name]
        return (
            needs < left[name] or needs <= 0,
            name in last or needs <= 0,
            -needs / left[name],
            there.index(name),
        )

    waiting: frozenset[str] = frozenset()
    for name in sorted(there, key=pressing):
        if len(waiting) < night.waiting_places(bout) and _can_spare(night, bout, waiting | {name}):
            waiting |= {name}
    if fills(night, bout, waiting):
        return waiting
    return _other_set(night, bout, sorted(there, key=pressing)) if night.seating else None


def _other_set(night: Night, bout: int, there: list[str]) -> frozenset[str] | None:
    """Pairs are no matroid: every set is looked at, the most pressing first. Raises GaveUp where there are too many."""
    for looked_at, who in enumerate(combinations(there, night.waiting_places(bout))):
        if looked_at >= MOST_SETS:
            raise GaveUp
        if fills(night, bout, frozenset(who)):
            return frozenset(who)
    return None


def _why_not(night: Night, bout: int) -> PlanningReason:
    """The pairs that can't all be kept in a bout, else the role that nobody is left for."""
    if night.seating is None:
        return reason("role_not_filled", bout=bout, role=_unfilled(night, bout))
    free = [name for name in night.there(bout) if name in night.free]
    clash = smallest_clash(
        night.seating, lambda each: _other_set(replace(night, seating=each), bout, free) is not None
    )
    return pairs_reason(bout, clash) if clash else _why_not(replace(night, seating=None), bout)


def pairs_reason(bout: int, clash: Seating) -> PlanningReason:
    """These pairs can't all be kept; `together` and `apart` name them, a space within and a comma between pairs."""
    together, apart = (",".join(map(" ".join, pairs)) for pairs in (clash.together, clash.apart))
    count = len(clash.together) + len(clash.apart)
    return reason("pairs_impossible", bout=bout, pairs=count, together=together, apart=apart)


def _can_spare(night: Night, bout: int, waiting: frozenset[str]) -> bool:
    """Whether the others can still fill every place.

    The sets that can be spared are a matroid (the dual of the one of a matching), so that taking the most
    pressing first, one by one, never ends short of a full set where there is one.
    """
    if not night.only and not night.pinned:
        return True
    others = [name for name in night.there(bout) if name not in waiting]
    return len(match(night, others)) == sum(night.slots.values())


def fills(night: Night, bout: int, waiting: frozenset[str]) -> bool:
    """Whether those who play can fill every place (a matching of players and places), every pair kept."""
    if night.seating is not None:
        playing = [name for name in night.there(bout) if name not in waiting]
        return night.seating.has_room(playing, night.may)
    if not night.only and not night.pinned:
        return True
    playing = [name for name in night.there(bout) if name not in waiting]
    return len(match(night, playing)) == len(playing) == sum(night.slots.values())


def match(night: Night, playing: list[str]) -> dict[str, tuple[str, int]]:
    """As many players as possible on places they may take, by augmenting paths."""
    places = [(role, i) for role, count in night.slots.items() for i in range(count)]
    taken: dict[tuple[str, int], str] = {}

    def settle(name: str, seen: set[tuple[str, int]]) -> bool:
        for place in places:
            if place in seen or not night.may(name, place[0]):
                continue
            seen.add(place)
            if place not in taken or settle(taken[place], seen):
                taken[place] = name
                return True
        return False

    # the pinned first: later players move about them, never the other way round
    for name in sorted(playing, key=lambda n: n not in night.pinned):
        settle(name, set())
    return {name: place for place, name in taken.items()}


def _unfilled(night: Night, bout: int) -> str:
    placed = match(night, list(night.there(bout)))
    for role, count in night.slots.items():
        if sum(place[0] == role for place in placed.values()) < count:
            return role
    return next(iter(night.slots), "")


def _twice(sets: Sets, bouts: Iterable[int]) -> int:
    """How many wait in one of these bouts and in the next one too."""
    return sum(len(sets[bout] & sets[bout + 1]) for bout in bouts if bout in sets and bout + 1 in sets)


def _fewer_twice(night: Night, sets: Sets) -> Sets:
    """Let two players change turns of waiting while that leaves fewer waiting twice running."""
    best = dict(sets)
    improved = True
    while improved:
        improved = False
        for a, b in combinations(night.to_plan, 2):
            beside = {a - 1, a, b - 1, b}  # all that a change of these two can change
            before = _twice(best, beside)
            changed = (each for each in _turns_changed(night, best, a, b) if _twice(each, beside) < before)
            # Whether the places can be filled is asked last: with pairs it is a search.
            allowed = (each for each in changed if fills(night, a, each[a]) and fills(night, b, each[b]))
            fewer = next(allowed, None) if before else None
            if fewer is not None:
                best, improved = fewer, True
    return best


def _turns_changed(night: Night, sets: Sets, a: int, b: int) -> Iterator[Sets]:
    """Every way in which two players change their turns of waiting in two bouts."""
    there_a, there_b = (frozenset(night.there(each)) for each in (a, b))
    for x in sorted((sets[a] - sets[b]) & there_b):
        for y in sorted((sets[b] - sets[a]) & there_a):
            yield {**sets, a: sets[a] - {x} | {y}, b: sets[b] - {y} | {x}}


def _every_plan(night: Night, start: Sets) -> Sets | None:
    """The most even plan of all, where there are few enough to look at; else None."""
    free = {bout: [n for n in night.there(bout) if n in night.free] for bout in night.to_plan}
    if math.prod(math.comb(len(free[b]), night.waiting_places(b)) for b in night.to_plan) > MOST_PLANS:
        return None
    choices = {bout: _choices(night, bout, there) for bout, there in free.items()}
    plans: list[Sets] = [{bout.number: frozenset(bout.waiting) for bout in night.played}]
    for bout, options in choices.items():
        plans = [{**plan, bout: who} for plan in plans for who in options]
    return min([start, *plans], key=lambda plan: (unevenness(night, plan), _twice(plan, plan)))


def _choices(night: Night, bout: int, there: list[str]) -> list[frozenset[str]]:
    options = (frozenset(who) for who in combinations(there, night.waiting_places(bout)))
    return [who for who in options if fills(night, bout, who)]
