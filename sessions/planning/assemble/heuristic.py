"""A first session, found without the solver: so that there is something to show whatever the time limit."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sessions.planning.assemble.options import POINT, Option
from sessions.planning.assemble.request import Request
from sessions.planning.assemble.totals import (
    Choice,
    curve_points,
    kept,
    off_curve,
    score_if_kept,
    totals,
)

ROUNDS = 4
CHEAP = 15  # options a part that are looked at because they cost little


def first_choice(
    request: Request,
    parts: Sequence[Sequence[Option]],
    good: Sequence[Sequence[Option]],
    fine: Callable[[Choice], bool],
) -> Choice | None:
    """One option a part that keeps all limits and is `fine`, out of the good ones and some cheap ones; None where none is
    met.
    """
    offered = [
        [*best, *sorted(options, key=_cheap)[:CHEAP]] for options, best in zip(parts, good, strict=True)
    ]
    choice = dive(request, offered)
    return _one_by_one(request, offered, choice, fine) if choice else None


def dive(request: Request, offered: Sequence[Sequence[Option]]) -> list[Option] | None:
    """One option a part, in order: each the first that leaves enough of every limit for the cheapest of the parts to come.

    None where the choice still breaks a limit.
    """
    choice = [min(options, key=_cheap) for options in offered]
    used: set[int] = set()
    for at, options in enumerate(offered):
        for option in options:
            tried = [*choice[:at], option, *choice[at + 1 :]]
            if option.drill not in used and kept(request.without("once"), tried):
                choice = tried
                break
        else:
            fresh = [o for o in options if o.drill not in used]
            choice[at] = min(fresh or options, key=_cheap)
        used.add(choice[at].drill)
    return choice if kept(request, choice) else None


def _cheap(option: Option) -> tuple[int, ...]:
    """Enough in play before little of anything else: what lacks there is made good by nothing cheap."""
    return max(0, option.in_play_all), option.minutes, option.load, option.set_up


def _one_by_one(
    request: Request,
    offered: Sequence[Sequence[Option]],
    choice: list[Option],
    fine: Callable[[Choice], bool],
) -> Choice | None:
    """Change one part at a time as long as that makes it better."""
    score = totals(request, choice).score
    for _ in range(ROUNDS):
        before = score
        for at, options in enumerate(offered):
            for option in options:
                if option.score + _around(request, choice) <= choice[at].score:
                    continue  # not even with cones that stay on both sides and a perfect curve
                tried = [*choice[:at], option, *choice[at + 1 :]]
                better = score_if_kept(request, tried)
                if better is not None and better > score:
                    choice, score = tried, better
        if score == before:
            break
    return choice if fine(choice) else None


def _around(request: Request, choice: Sequence[Option]) -> int:
    """Points that another option could gain beyond its own: cones that stay before and after it, and the curve."""
    curve = curve_points(request) * off_curve([option.effort for option in choice])
    return 2 * round(POINT * request.weights.moves) + curve
