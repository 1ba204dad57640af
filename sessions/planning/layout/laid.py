"""The answer put together from places: rectangles, paces, waiting lines, and what there is to say about it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from drills.game.evening import Piece
from drills.game.fit.arrays import stands_at
from drills.game.margins import RUN_OFF_WISHED_M
from drills.game.space import Edge
from sessions.planning.layout.ground import (
    EDGES,
    Box,
    GridToLay,
    LayOut,
    Placed,
    PlacedGrid,
    Rectangle,
    Turned,
    apart,
    beyond,
    decimetres,
    moved,
    turns,
    whole_decimetres,
)
from sessions.planning.layout.margins import LEAST, Margins
from sessions.planning.reasons import PlanningReason, reason


def laid(spots: Sequence[PlacedGrid], margins: Margins, pace_m: float, *, proven: bool) -> LayOut:
    """The lay-out of grids in their places, with a note where a fence is near or a goal shoots at others."""
    placed = tuple(_placed(each, spots, pace_m) for each in spots)
    return LayOut(placed, proven, margins, (*_near_fence(spots), *_behind_goals(spots)))


def _placed(spot: PlacedGrid, spots: Sequence[PlacedGrid], pace_m: float) -> Placed:
    grid = rectangle(spot.box)
    corner, paces = paced(spot.piece, grid, pace_m)
    return Placed(
        key=spot.grid.key,
        space=spot.piece.key,
        grid=grid,
        body=rectangle(spot.body),
        clear=tuple(rectangle(each) for each in spot.clear),
        turned=spot.turned.turned,
        corner=corner,
        paces=paces,
        lines=tuple(rectangle(each) for each in _lines(spot, spots)),
    )


def _lines(spot: PlacedGrid, spots: Sequence[PlacedGrid]) -> Iterator[Box]:
    """Where lines wait: as deep as is free up to the edge of the ground, to other grids and the ground behind goals."""
    others = [each for each in spots if each is not spot and each.piece.key == spot.piece.key]
    kept = [box for each in others for box in (each.body, *each.clear)]
    for edge, wished_m in spot.grid.waits_m:
        turned = moved(edge, spot.turned.turned)
        depth = min(decimetres(wished_m), max(0, _to_edge(spot, turned)))
        while depth > 0 and not all(apart(beyond(spot.body, turned, depth), each, 0) for each in kept):
            depth -= 1
        if depth > 0:
            yield beyond(spot.body, turned, depth)


def _to_edge(spot: PlacedGrid, edge: Edge) -> int:
    """Decimetres between a body and an edge of the ground."""
    x, y, length, width = spot.body
    long, wide = whole_decimetres(spot.piece.length_m), whole_decimetres(spot.piece.width_m)
    return {"left": x, "bottom": y, "right": long - x - length, "top": wide - y - width}[edge]


def rectangle(box: Box) -> Rectangle:
    """A box of decimetres in metres."""
    x, y, length, width = box
    return Rectangle(x / 10, y / 10, length / 10, width / 10)


def paced(piece: Piece, grid: Rectangle, pace_m: float) -> tuple[str, tuple[int, int]]:
    """The nearest corner of the ground ("lower left" …), with the whole paces from it along its length and its width."""
    right = piece.length_m - grid.x_m - grid.length_m
    top = piece.width_m - grid.y_m - grid.width_m
    side, along = ("left", grid.x_m) if grid.x_m <= right else ("right", right)
    end, across = ("lower", grid.y_m) if grid.y_m <= top else ("upper", top)
    return f"{end} {side}", (math.floor(along / pace_m + 0.5), math.floor(across / pace_m + 0.5))


# --- what is said ----------------------------------------------------------------------------------------------


def _near_fence(spots: Sequence[PlacedGrid]) -> Iterator[PlanningReason]:
    """Said where the nearest fence, wall or fixed goal is nearer than wished."""
    near = [
        _to_edge(spot, edge) / 10
        for spot in spots
        for edge in EDGES
        if stands_at(spot.piece, edge) == "fence"
    ]
    if near and min(near) < RUN_OFF_WISHED_M:
        yield reason("layout_near_fence", metres=min(near))


def _behind_goals(spots: Sequence[PlacedGrid]) -> Iterator[PlanningReason]:
    goals = sum(_reaches_group(spot, edge, depth) for spot in spots for edge, depth in spot.turned.shot_at)
    if goals:
        yield reason("layout_behind_goal", goals=goals)


def _reaches_group(spot: PlacedGrid, edge: Edge, depth: int) -> bool:
    """Whether the clear ground behind a goal reaches over an edge beyond which another group may train."""
    return stands_at(spot.piece, edge) == "group" and depth > _to_edge(spot, edge) + spot.turned.strip(edge)


def refused(grids: Sequence[GridToLay], pieces: Sequence[Piece], room_for: int) -> LayOut:
    """Proven not to fit, even with the least margins, with the size or the number of grids that would do."""
    why = _too_close(grids[0], pieces)
    if len(grids) > 1:
        why = reason("layout_too_many", grids=len(grids), room_for=room_for) if room_for else why
    return LayOut((), True, LEAST, (why,))


def _too_close(grid: GridToLay, pieces: Sequence[Piece]) -> PlanningReason:
    """The largest grid that would do in place of this one, in whole metres and in its own frame."""
    ways = [(piece, turned) for piece in pieces for turned in turns(grid)]
    sizes = [_most(grid, piece, turned) for piece, turned in ways]
    usable = [(long * wide, -n) for n, (long, wide) in enumerate(sizes) if min(long, wide) >= 1]
    if not usable:
        return reason("layout_no_room")
    number = -max(usable)[1]
    (piece, turned), (long, wide) = ways[number], sizes[number]
    short = (
        "both" if long < grid.length_m and wide < grid.width_m else "long" if long < grid.length_m else "wide"
    )
    edges = [
        edge for edge in EDGES if short == "both" or (edge in ("left", "right")) == _is_along(short, turned)
    ]
    fence = any(stands_at(piece, edge) == "fence" for edge in edges)
    code = f"layout_fence_{short}" if fence else f"layout_space_{short}"
    return reason(code, long_m=float(long), wide_m=float(wide))


def _is_along(short: str, turned: Turned) -> bool:
    """Whether a grid's length (or its width) runs along the length of the ground."""
    return (short == "long") != bool(turned.turned % 2)


def _most(grid: GridToLay, piece: Piece, turned: Turned) -> tuple[float, float]:
    """Length and width, at most the grid's own, that have room in this turn; whole metres where they are less."""
    left, right, bottom, top = turned.room(piece, LEAST)
    along, across = turned.grid[2] + min(0, right - left), turned.grid[3] + min(0, top - bottom)
    length, width = (across, along) if turned.turned % 2 else (along, across)
    return (
        grid.length_m if length >= 10 * grid.length_m else length // 10,
        grid.width_m if width >= 10 * grid.width_m else width // 10,
    )
