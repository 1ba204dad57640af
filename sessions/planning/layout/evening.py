"""The grids of a whole evening: each part's on the same ground as the part before, so that cones are laid once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from club.caches import MIB, remembered
from drills.game.evening import Piece
from drills.game.margins import RUN_OFF_WISHED_M
from sessions.planning.layout.ground import GridToLay, LayOut, decimetres
from sessions.planning.layout.laid import laid, refused
from sessions.planning.layout.look import Corner, Look, in_arrays, look
from sessions.planning.layout.margins import LADDER, WISHED, Margins
from sessions.planning.layout.place import may_fit, not_laid, search
from sessions.planning.numbers import at_least


@dataclass(frozen=True, slots=True)
class KeptLayout:
    """A part's lay-out, with how many of its corner cones stand already and how many it has."""

    layout: LayOut
    cones_kept: int
    cones: int


def lay_out_evening(
    parts: Sequence[Sequence[GridToLay]],
    pieces: Sequence[Piece],
    *,
    pace_m: float = 1.0,
    seconds: float = 1.0,
) -> tuple[KeptLayout, ...]:
    """Places for the grids of each part, in order, keeping as many corners of the part before as will do.

    Grids of one part stand at the same time and keep apart; grids of different parts may lie on each other. A part's
    grids are looked for at few likely places first, with the part before in mind; the exact search of `lay_out` proves
    which margins are the widest where the look finds none with those that are wished. ValueError for impossible input.
    """
    at_least("pace_m", pace_m, 0.3)
    found: list[KeptLayout] = []
    anchor = _anchor(parts)
    standing: frozenset[Corner] = frozenset()
    for grids in parts:
        asked = Look(tuple(grids), tuple(pieces), WISHED, standing, anchor)
        layout = _placed(asked, pace_m, seconds)
        corners = corners_of(layout)
        found.append(KeptLayout(layout, len(standing & corners), len(corners)))
        standing = corners or standing
    return tuple(found)


def corners_of(layout: LayOut) -> frozenset[Corner]:
    """(piece, decimetres along, decimetres across) of every corner cone of a lay-out."""
    return frozenset(
        (each.space, round(10 * x), round(10 * y))
        for each in layout.placed
        for x in (each.grid.x_m, each.grid.x_m + each.grid.length_m)
        for y in (each.grid.y_m, each.grid.y_m + each.grid.width_m)
    )


def _anchor(parts: Sequence[Sequence[GridToLay]]) -> tuple[int, int]:
    """Where the lower-left corner of every first grid may stand: beyond the run-off and the widest strip of any."""
    strips = [0, *(decimetres(depth) for grids in parts for grid in grids[:1] for _, depth in grid.strips_m)]
    return (10 * RUN_OFF_WISHED_M + max(strips),) * 2


@remembered(most_bytes=2 * MIB, key=lambda asked, pace_m, seconds: (asked, pace_m, seconds))
def _placed(asked: Look, pace_m: float, seconds: float) -> LayOut:
    if not asked.grids:
        return LayOut((), proven=True, margins=WISHED)
    if may_fit(asked.grids, asked.pieces, WISHED):
        spots = look(asked)
        if spots:
            return laid(spots, WISHED, pace_m, proven=False)
    if len(asked.grids) == 1:
        return _alone(asked, pace_m)
    return _together(asked, pace_m, seconds)


def _alone(asked: Look, pace_m: float) -> LayOut:
    """A single grid is looked for in the tightest corner of each piece, in each turn: what isn't found does not fit."""
    for margins in LADDER[1:]:
        spots = look(replace(asked, margins=margins))
        if spots:
            return laid(spots, margins, pace_m, proven=False)
    return refused(asked.grids, asked.pieces, 0)


def _together(asked: Look, pace_m: float, seconds: float) -> LayOut:
    """Several grids: in columns and rows, unless the exact search finds wider margins than these have."""
    margins = next((each for each in LADDER[1:] if _in_columns_and_rows(asked, each)), None)
    wider = LADDER if margins is None else LADDER[: LADDER.index(margins)]
    answer = search(asked.grids, asked.pieces, wider, seconds)
    margins = answer.margins or margins
    if margins is None:
        return not_laid(asked.grids, asked.pieces, answer.status, seconds)
    spots = look(replace(asked, margins=margins)) or answer.spots
    return laid(spots, margins, pace_m, proven=False)


def _in_columns_and_rows(asked: Look, margins: Margins) -> bool:
    return any(True for _ in in_arrays(asked.grids, asked.pieces, margins))
