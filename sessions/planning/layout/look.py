"""A quick look for places: few likely ones, with the cones that stand already in mind. It finds, and proves nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, permutations, product

from drills.game.evening import Piece
from drills.game.fit.arrays import arrays
from drills.game.space import Edge
from sessions.planning.layout.ground import Box, GridToLay, PlacedGrid, Turned, turn, turns
from sessions.planning.layout.margins import Margins

MOST_LOOKS = 200
MOST_TRIED = 4000  # places, over all looks
MOST_BY_PLACE = 4  # grids of one part that are looked for place by place; more in columns and rows alone
_AXES: tuple[tuple[Edge, Edge], ...] = (("left", "right"), ("bottom", "top"))
Corner = tuple[str, int, int]  # piece, decimetres along and across
Spots = tuple[PlacedGrid, ...]


@dataclass(frozen=True, slots=True)
class Look:
    """What is looked for. `anchor` is where the corner of every first grid may stand."""

    grids: tuple[GridToLay, ...]
    pieces: tuple[Piece, ...]
    margins: Margins
    standing: frozenset[Corner] = frozenset()
    anchor: tuple[int, int] = (0, 0)


def look(asked: Look) -> Spots:
    """The best of the likely places, one for each grid in its order; empty for none.

    Best keeps most corners that stand already, then lies nearest to the lower-left corner.
    """
    best: tuple[tuple[int, int], Spots] | None = None
    for looks, spots in enumerate(_likely(asked), start=1):
        corners = {(each.piece.key, *at) for each in spots for at in corners_of(each.box)}
        rank = (-len(asked.standing & corners), sum(each.x + each.y for each in spots))
        if best is None or rank < best[0]:
            best = rank, spots
        if looks >= MOST_LOOKS:
            break
    if best is None:
        return ()
    keys = [each.key for each in asked.grids]
    return tuple(sorted(best[1], key=lambda spot: keys.index(spot.grid.key)))


def corners_of(box: Box) -> list[tuple[int, int]]:
    """The four corners of a box: lower left, lower right, upper left, upper right."""
    x, y, length, width = box
    return [(x, y), (x + length, y), (x, y + width), (x + length, y + width)]


def _likely(asked: Look) -> Iterator[Spots]:
    if len(asked.grids) > 1:
        yield from in_arrays(asked.grids, asked.pieces, asked.margins)
    if len(asked.grids) <= MOST_BY_PLACE:
        left = [MOST_TRIED]
        for order in _orders(asked.grids):
            yield from _ways(asked, order, left, ())


def _orders(grids: tuple[GridToLay, ...]) -> Iterator[tuple[GridToLay, ...]]:
    """Every order, of grids that are alike only one."""
    seen = set()
    for order in permutations(grids):
        alike = tuple(_alike(each) for each in order)
        if alike not in seen:
            seen.add(alike)
            yield order


def _alike(grid: GridToLay) -> tuple[object, ...]:
    return grid.length_m, grid.width_m, grid.strips_m, grid.shot_at, grid.shares_edges


# --- place by place --------------------------------------------------------------------------------------------


def _ways(asked: Look, order: tuple[GridToLay, ...], left: list[int], so_far: Spots) -> Iterator[Spots]:
    """`left`: how many places may still be tried."""
    if len(so_far) == len(order):
        yield so_far
        return
    for spot in _spots(asked, order[len(so_far)], so_far):
        left[0] -= 1
        if left[0] < 0:
            return
        if _allowed(spot, so_far, asked.margins):
            yield from _ways(asked, order, left, (*so_far, spot))


def _spots(asked: Look, grid: GridToLay, so_far: Spots) -> Iterator[PlacedGrid]:
    """Likely places of a grid: on standing corners, at the anchor, tight in the corner, beside those placed."""
    for piece in asked.pieces:
        here = [each for each in so_far if each.piece.key == piece.key]
        for turned in turns(grid):
            gx, gy, length, width = turned.grid
            least_x, _, least_y, _ = turned.room(piece, asked.margins)
            places = {(least_x, least_y), (asked.anchor[0] - gx, asked.anchor[1] - gy)}
            for key, x, y in asked.standing:
                if key == piece.key:
                    places |= {(x - gx - dx, y - gy - dy) for dx in (0, length) for dy in (0, width)}
            xs = {least_x, *(x for each in here for x in _beside(each, grid, turned, "right"))}
            ys = {least_y, *(y for each in here for y in _beside(each, grid, turned, "top"))}
            places |= set(product(xs, ys))
            yield from (PlacedGrid(grid, piece, turned, x, y) for x, y in sorted(places))


def _beside(other: PlacedGrid, grid: GridToLay, turned: Turned, edge: Edge) -> tuple[int, int]:
    """Where a body begins that lies to the right of another, or above: a gap away, and behind the goals between them."""
    end = other.x + other.turned.length if edge == "right" else other.y + other.turned.width
    facing: Edge = "left" if edge == "right" else "bottom"
    behind = dict(other.turned.shot_at).get(edge, 0) - other.turned.strip(edge)
    own = dict(turned.shot_at).get(facing, 0) - turned.strip(facing)
    gap = other.grid.gap(grid)
    return end + gap, end + max(gap, behind, own)


def _allowed(spot: PlacedGrid, so_far: Spots, margins: Margins) -> bool:
    return spot.is_inside(margins) and all(spot.goes_with(each) for each in so_far)


# --- in columns and rows ---------------------------------------------------------------------------------------


def in_arrays(grids: Sequence[GridToLay], pieces: Sequence[Piece], margins: Margins) -> Iterator[Spots]:
    """As Fit lays several grids: equal cells in columns and rows, goals outwards where they have one each."""
    for piece, (columns, rows), first in product(pieces, arrays(len(grids)), range(4)):
        for second in dict.fromkeys((first, (first + 2) % 4)):
            for across in (False, True) if second != first else (False,):
                spots = _array(grids, piece, (columns, rows), (first, second, across), margins)
                if all(_allowed(each, spots[:number], margins) for number, each in enumerate(spots)):
                    yield spots


def _array(
    grids: Sequence[GridToLay],
    piece: Piece,
    shape: tuple[int, int],
    way: tuple[int, int, bool],
    margins: Margins,
) -> Spots:
    """`way`: quarter turns of the first column (or row) and of the others, and whether rows are meant."""
    first, second, by_rows = way
    cells = [divmod(number, shape[0])[::-1] for number in range(len(grids))]
    turned = [
        _turned(grid, second if cell[by_rows] else first) for grid, cell in zip(grids, cells, strict=True)
    ]
    lain = list(zip(turned, cells, strict=True))
    between = max(one.gap(other) for one, other in combinations(grids, 2))
    steps = (
        max(each.length for each in turned) + max(between, _behind(lain, 0, shape)),
        max(each.width for each in turned) + max(between, _behind(lain, 1, shape)),
    )
    x = max(each.need(piece, "left", margins) for each, cell in lain if not cell[0])
    y = max(each.need(piece, "bottom", margins) for each, cell in lain if not cell[1])
    return tuple(
        PlacedGrid(grid, piece, each, x + steps[0] * column, y + steps[1] * row)
        for grid, (each, (column, row)) in zip(grids, lain, strict=True)
    )


def _behind(lain: Sequence[tuple[Turned, tuple[int, int]]], axis: int, shape: tuple[int, int]) -> int:
    """The ground behind the goals that face the next column (axis 0) or row, the deepest."""
    low, high = _AXES[axis]
    return max(
        (
            depth
            for each, cell in lain
            for edge, depth in each.shot_at
            if (edge == low and cell[axis] > 0) or (edge == high and cell[axis] < shape[axis] - 1)
        ),
        default=0,
    )


_turned = lru_cache(maxsize=256)(turn)
