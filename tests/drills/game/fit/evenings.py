"""Evenings for tests: ground of one typed size, and players of one year group."""

from typing import Any

from drills.game.evening import Evening, Piece, PlayerAges


def evening(
    players: int,
    length_m: float,
    width_m: float,
    *,
    under: int | None = None,
    a_side: int | None = None,
    **more: Any,
) -> Evening:
    """So many players with one adult on open ground; `under` for an age group of one year, `a_side` in its matches."""
    more.setdefault("adults", 1)
    ages = None if under is None else PlayerAges(under, under, under - 1, a_side)
    return Evening(players, pieces=(Piece("", length_m, width_m),), ages=ages, **more)
