"""Whether anything fits at all: only the options that cost least are looked at, since every limit is an upper one.

An option is left out when others of its part break no more limits, take no more minutes, load, headers or set-up and
leave no more players off, on cones that are worth no less. "Each drill once" stays exact by counting them: the other parts use at most (parts − 1)
drills, so of as many stand-ins as there are parts one is always free; the same drill with less is free by itself.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from sessions.planning.assemble.options import ALONE, Option
from sessions.planning.assemble.request import Request
from sessions.planning.assemble.totals import near_cones


def cheapest_options(request: Request, parts: Sequence[Sequence[Option]]) -> list[list[Option]]:
    """For each part the options that are enough to decide whether any session keeps the limits. They say nothing of how
    good it is.
    """
    matter = cones_matter(request)
    near = near_cones(parts)
    made = []
    for at, options in enumerate(parts):
        plain = (
            o if matter and o.cones in near[at] else o._replace(cones=ALONE)
            for o in (_without_idle(request, each) for each in options)
        )
        made.append(_cheapest(plain, len(parts)))
    return made


def cones_matter(request: Request) -> bool:
    """Whether cones that stay save anything that is limited."""
    saves = request.same_cones_minutes < request.changeover_minutes
    return request.holds("set_up") or (saves and (request.holds("minutes") or request.holds("load")))


def _without_idle(request: Request, option: Option) -> Option:
    """Headers, set-up and what is off count as none where nothing limits them."""
    return option._replace(
        score=0,
        again=0,
        load=option.load if request.holds("load") else 0,
        headers=option.headers if request.holds("headers") else 0,
        set_up=option.set_up if request.holds("set_up") else 0,
        in_play_all=option.in_play_all if request.holds("in_play_all") else 0,
    )


def _cheapest(options: Iterable[Option], enough: int) -> list[Option]:
    kept: list[Option] = []
    of_cones: dict[int, list[Option]] = defaultdict(list)
    for option in sorted(options, key=_order):
        over: set[int] = set()
        for other in kept if option.cones == ALONE else of_cones[option.cones]:
            if _costs_no_more(other, option):
                over.add(other.drill)
                if option.drill in over or len(over) >= enough:
                    break
        else:
            kept.append(option)
            of_cones[option.cones].append(option)
    return kept


def _order(option: Option) -> tuple[int, ...]:
    costs = option.minutes, option.load, option.headers, option.set_up, option.in_play_all
    return (len(option.broken), *costs, option.offer, option.way)


def _costs_no_more(other: Option, option: Option) -> bool:
    return (
        other.minutes <= option.minutes
        and other.load <= option.load
        and other.headers <= option.headers
        and other.set_up <= option.set_up
        and other.in_play_all <= option.in_play_all
        and other.broken <= option.broken
    )
