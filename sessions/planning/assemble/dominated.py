"""Options that are never needed beside others: as good or better, as hard, as long, on the same cones, and enough of them.

The other parts of a session use at most (parts − 1) drills, and a session that is to differ from earlier ones leaves out at
most the drills of those. So of one drill more than that one is always free to stand in, with no less of a score and no
more of anything that is limited: whatever the best session is, one as good is left.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sessions.planning.assemble.options import ALONE, Option
from sessions.planning.assemble.totals import near_cones


def without_dominated(parts: Sequence[Sequence[Option]], *, avoided: int = 0) -> list[list[Option]]:
    """Each part's options without those that enough others can stand in for, even where `avoided` drills are ruled out
    besides.
    """
    near = near_cones(parts)
    enough = len(parts) + avoided
    return [_needed(options, near[at], enough) for at, options in enumerate(parts)]


def _needed(options: Iterable[Option], near: set[int], enough: int) -> list[Option]:
    groups: dict[tuple[int, int, int], list[Option]] = {}
    for option in options:
        cones = option.cones if option.cones in near else ALONE
        groups.setdefault((option.minutes, option.effort, cones), []).append(option)
    kept = []
    for group in groups.values():
        group.sort(key=_order)
        kept += _undominated(group, enough) if len(group) > enough else group
    kept.sort(key=lambda option: (option.offer, option.way, option.minutes))
    return kept


def _order(option: Option) -> tuple[int, ...]:
    return -option.score, option.headers, option.set_up, option.in_play_all, option.offer, option.way


def _undominated(group: Sequence[Option], enough: int) -> list[Option]:
    """In order of score: an option falls when so many drills before it head no more, are laid out no slower, leave no more off,
    and are worth no less where last week's drills earn nothing any more.
    """
    kept: list[Option] = []
    for option in group:
        over: set[int] = set()
        for other in kept:
            if (
                other.headers <= option.headers
                and other.set_up <= option.set_up
                and other.in_play_all <= option.in_play_all
                and other.score - other.again >= option.score - option.again
            ):
                over.add(other.drill)
                if option.drill in over or len(over) >= enough:
                    break
        else:
            kept.append(option)
    return kept
