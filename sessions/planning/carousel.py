"""Several stations at the same time: groups that change round, one that stays, an adult each."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from sessions.planning.numbers import whole
from sessions.planning.reasons import PlanningReason, reason


@dataclass(frozen=True, slots=True)
class Post:
    """A station as the carousel sees it: who begins there, and whether they stay."""

    group: str
    stays: bool = False
    adult: str = ""


@dataclass(frozen=True, slots=True)
class CarouselRounds:
    """`bouts[b][s]` is the group at station s in bout b + 1. `cycle` is how many bouts take everybody everywhere."""

    bouts: tuple[tuple[str, ...], ...]
    cycle: int
    reasons: tuple[PlanningReason, ...]


def carousel(
    posts: Sequence[Post], *, bouts: int, changes_round: bool, part: str | None = None
) -> CarouselRounds:
    """Who is where in which bout. Each group goes on to the next station, past those whose group stays.

    Groups without a name are called A, B, C … in the order of the stations. With fewer than two stations that change,
    or where groups don't, everybody stays. ValueError for no bouts.
    """
    whole("bouts", bouts, 1)
    names = _names(posts)
    moving = [index for index, each in enumerate(posts) if not each.stays] if changes_round else []
    rows = []
    for bout in range(bouts):
        row = list(names)
        for place, index in enumerate(moving):
            row[index] = names[moving[(place - bout) % len(moving)]]
        rows.append(tuple(row))
    cycle = max(1, len(moving))
    return CarouselRounds(tuple(rows), cycle, _reasons(posts, bouts, cycle, part))


def _names(posts: Sequence[Post]) -> list[str]:
    given = [each.group for each in posts]
    free = iter(each for each in "ABCDEFGHIJKL" if each not in given)
    return [each or next(free) for each in given]


def _reasons(posts: Sequence[Post], bouts: int, cycle: int, part: str | None) -> tuple[PlanningReason, ...]:
    found = []
    if cycle > 1 and bouts % cycle:
        wanted = cycle * math.ceil(bouts / cycle)
        found.append(reason("carousel_uneven", part=part, bouts=bouts, stations=cycle, wanted=wanted))
    if len(posts) > 1:
        without = sum(not each.adult for each in posts)
        if without:
            found.append(reason("stations_without_adult", part=part, stations=without))
        for name, count in Counter(each.adult for each in posts if each.adult).items():
            if count > 1:
                found.append(reason("adult_twice", part=part, name=name, stations=count))
    return tuple(found)
