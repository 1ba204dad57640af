"""A first division of a session's minutes over the club's order of parts, for a coach to change."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sessions.planning.numbers import at_least
from sessions.planning.places import usual_changeover_s

# Shares of the minutes and CR10 by a part's place in the order (common practice, no source).
SHARES = {"arrival": 1.0, "warm-up": 1.0, "practice": 2.0, "game": 2.0, "cool-down": 0.5}
EFFORTS = {"arrival": 3.0, "warm-up": 4.0, "practice": 5.0, "game": 6.0, "cool-down": 2.0}
LEAST_MINUTES = 5  # of a part (common practice, no source)
DEFAULT_ORDER = ("arrival", "practice", "game")


@dataclass(frozen=True, slots=True)
class Slice:
    """One empty part: its place in the order, minutes, CR10, and seconds to change over into it."""

    kind: str
    minutes: int
    cr10: float
    changeover_s: int


def slices(
    order: Sequence[str], *, minutes: float, clear_minutes: float, changeover_s: int
) -> tuple[Slice, ...]:
    """Share `minutes` out over the parts named in `order`; clearing and changeovers come off first.

    Whole minutes, rounded down, at least 5 each, so a very short session may come out over its minutes, and says
    so itself. ValueError for an unknown part or negative times.
    """
    kinds = tuple(order) or DEFAULT_ORDER
    for kind in kinds:
        if kind not in SHARES:
            raise ValueError(f"order: there is no part called {kind!r}")
    changing = at_least("changeover_s", changeover_s, 0) * (len(kinds) - 1) / 60
    left = at_least("minutes", minutes, 0) - at_least("clear_minutes", clear_minutes, 0) - changing
    whole = sum(SHARES[kind] for kind in kinds)
    return tuple(
        Slice(
            kind=kind,
            minutes=max(LEAST_MINUTES, int(left * SHARES[kind] / whole)),
            cr10=EFFORTS[kind],
            changeover_s=usual_changeover_s(index, changeover_s),
        )
        for index, kind in enumerate(kinds)
    )
