"""What a whole choice comes to: one option a part, with its minutes, load, set-up, moves, curve and score."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from sessions.planning.assemble.options import ALONE, POINT, Option
from sessions.planning.assemble.request import Request

Choice = Sequence[Option]


@dataclass(frozen=True, slots=True)
class Totals:
    """Sums of one choice; load in tenths of an AU, score in thousandths of a point, `in_play_all` as in an option."""

    minutes: int
    load: int
    headers: int
    set_up: int
    in_play_all: int
    stays: tuple[bool, ...]
    off_curve: int
    score: int


def curve_points(request: Request) -> int:
    """Thousandths of a point for each tenth of CR10 that effort falls too early or rises too late."""
    return round(POINT * request.weights.effort / 10)


def near_cones(parts: Sequence[Sequence[Option]]) -> list[set[int]]:
    """For each part the cones that another part beside it could share: there already, or staying for the next."""
    cones = [{option.cones for option in options} - {ALONE} for options in parts]
    return [
        each & set().union(*cones[max(0, at - 1) : at], *cones[at + 1 : at + 2])
        for at, each in enumerate(cones)
    ]


def cones_stay(choice: Choice) -> tuple[bool, ...]:
    """For each part, whether it is played on the cones of the part before."""
    return tuple(
        index > 0 and option.cones != ALONE and option.cones == choice[index - 1].cones
        for index, option in enumerate(choice)
    )


def off_curve(efforts: Sequence[int]) -> int:
    """How much effort falls before the highest part or rises after it, added up, with the peak where that is least.

    `efforts` and the answer are in tenths of CR10.
    """
    steps = [after - before for before, after in pairwise(efforts)]
    least = off = sum([step for step in steps if step > 0])  # the peak in front: every rise comes too late
    for step in steps:
        off -= step  # the peak one step later: a rise is right now, a fall comes too early
        least = min(least, off)
    return least


def totals(request: Request, choice: Choice) -> Totals:
    """All sums of one option a part, in order."""
    stays = cones_stay(choice)
    changing = sum(request.same_cones_minutes if stay else request.changeover_minutes for stay in stays[1:])
    curve = off_curve([option.effort for option in choice])
    moves = stays[1:].count(False)
    return Totals(
        minutes=sum(option.minutes for option in choice) + changing + request.clear_minutes,
        load=sum(option.load for option in choice) + request.changeover_load_tenths * changing,
        headers=sum(option.headers for option in choice),
        set_up=sum(option.set_up for option, stay in zip(choice, stays, strict=True) if not stay),
        in_play_all=sum(option.in_play_all for option in choice),
        stays=stays,
        off_curve=curve,
        score=sum(option.score for option in choice)
        - too_often(request, choice)
        - round(POINT * request.weights.moves) * moves
        - curve_points(request) * curve,
    )


def too_often(request: Request, choice: Choice) -> int:
    """Thousandths of a point that last week's drills earn beyond the `again` parts in which they earn most."""
    earned = sorted((option.again for option in choice), reverse=True)
    return sum(earned[request.again :])


def kept(request: Request, choice: Choice) -> bool:
    """Whether a choice keeps every limit on sums, and uses each drill once."""
    sums = totals(request, choice)
    return _keeps(request, choice, sums)


def score_if_kept(request: Request, choice: Choice) -> int | None:
    """The score of a choice that keeps every limit; None for one that doesn't."""
    sums = totals(request, choice)
    return sums.score if _keeps(request, choice, sums) else None


def _keeps(request: Request, choice: Choice, sums: Totals) -> bool:
    most_load = request.most_load_tenths
    return not (
        (sums.minutes > request.minutes and request.holds("minutes"))
        or (most_load is not None and sums.load > most_load and request.holds("load"))
        or (request.headers is not None and sums.headers > request.headers and request.holds("headers"))
        or (
            request.set_up_minutes is not None
            and sums.set_up > request.set_up_minutes
            and request.holds("set_up")
        )
        or (sums.in_play_all > 0 and request.holds("in_play_all"))
        or (len({option.drill for option in choice}) < len(choice) and request.holds("once"))
    )
