"""How equal grids lie on a piece of ground: in columns and rows, either way round, with the margins that its edges ask for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

from drills.game.evening import ENDS, SIDES, Piece, Stands
from drills.game.margins import RUN_OFF_LEAST_M, RUN_OFF_WISHED_M, between_m
from drills.game.space import STRIP_LEAST_M, STRIP_WISHED_M, Edge, SizedGrid


@dataclass(frozen=True, slots=True)
class Shots:
    """Towards which edges of a grid the ball is shot, and the metres that have to be clear behind those edges.

    `behind` is towards other groups, for tonight's players; `gap` to another grid of the same drill, whoever plays.
    """

    ends: int = 0  # of the edges left and right, how many
    sides: int = 0  # of bottom and top
    behind_ends_m: int = 0
    behind_sides_m: int = 0
    gap_ends_m: int = 0
    gap_sides_m: int = 0

    def __bool__(self) -> bool:
        return bool(self.ends or self.sides)


@dataclass(frozen=True, slots=True)
class ArrayCell:
    """What one grid of an array has of the ground, in metres, seen along the grid's own length and width."""

    length_m: float
    width_m: float
    turned: bool = False  # the grid's length runs along the width of the piece
    columns: int = 1  # grids along the length of the piece
    rows: int = 1
    gaps_m: tuple[int, int] = (0, 0)  # between two columns, between two rows
    run_off_m: tuple[int, int] = (RUN_OFF_WISHED_M, RUN_OFF_WISHED_M)  # along the piece, and across

    @property
    def short_m2(self) -> int:
        """How much less the run-off is than wished: the squares of the missing metres along and across, added, in m²."""
        return sum((RUN_OFF_WISHED_M - metres) ** 2 for metres in self.run_off_m)

    def inside(self, edges: tuple[Edge, ...]) -> tuple[float, float]:
        """The most (length, width) in metres that a grid can have here, beside strips for players outside on these edges."""
        ends, sides = pairs(edges)
        return self.length_m - STRIP_LEAST_M * ends, self.width_m - STRIP_LEAST_M * sides

    def strip_m(self, grid: SizedGrid, edges: tuple[Edge, ...]) -> float:
        """Width of the strip outside the grid in metres, at most the wished `STRIP_WISHED_M`; 0 where nobody stands outside."""
        if not edges:
            return 0.0
        ends, sides = pairs(edges)
        strips = [STRIP_WISHED_M]
        if ends:
            strips.append((self.length_m - grid.length_m) / ends)
        if sides:
            strips.append((self.width_m - grid.width_m) / sides)
        return min(strips)


def pairs(edges: tuple[Edge, ...]) -> tuple[int, int]:
    """How many end lines (left, right) and how many touchlines (top, bottom) are among the edges."""
    return ("left" in edges) + ("right" in edges), ("top" in edges) + ("bottom" in edges)


def arrays(grids: int) -> Iterator[tuple[int, int]]:
    """Every (columns, rows) that hold so many grids, without a column or row that stays empty."""
    for columns, rows in product(range(1, grids + 1), repeat=2):
        if columns * rows >= grids > max((columns - 1) * rows, columns * (rows - 1)):
            yield columns, rows


def gaps_m(shots: Shots, columns: int, rows: int) -> tuple[int, int]:
    """(between two grids that lie end to end, between two side by side), in metres."""
    between = between_m(bool(shots))
    ends, sides = _lines(shots)
    return ends.gap_m(columns, between), sides.gap_m(rows, between)


@lru_cache(maxsize=1024)
def places(piece: Piece, grids: int, shots: Shots) -> tuple[ArrayCell, ...]:
    """Every way to lay so many equal grids on a piece of ground; of each array and turn the widest margins first.

    Empty where the margins leave no room.
    """
    return tuple(
        place
        for columns, rows in arrays(grids)
        for turned in (False, True)
        for place in _margins(piece, columns, rows, turned, shots)
    )


def least_margins_m(piece: Piece, shots: Shots) -> tuple[int, int]:
    """(off its length, off its width) in metres: the least that the edges of a piece cost a single grid, in the better turn."""
    between = between_m(bool(shots))
    found = []
    for along, across in (_lines(shots), _lines(shots)[::-1]):
        ends, sides = ((stands_at(piece, a), stands_at(piece, b)) for a, b in (ENDS, SIDES))
        needed = (
            along.need_m(ends, _steps(ends, between)[-1], between),
            across.need_m(sides, _steps(sides, between)[-1], between),
        )
        found.append(needed)
    return min(found, key=sum)


def needed_m(
    piece: Piece, sizes: Sequence[tuple[float, float]], edges: tuple[Edge, ...], shots: Shots
) -> tuple[float, float]:
    """(length, width) in metres that grids take with the least margins, in the array that exceeds the piece least.

    `sizes` are (length, width) of each grid in metres; `edges` are those of a grid that players stand outside of.
    """
    strips = [STRIP_LEAST_M * number for number in pairs(edges)]
    length = max(each for each, _ in sizes) + strips[0]
    width = max(each for _, each in sizes) + strips[1]
    ways = [
        _taken_m(piece, (length, width), columns, rows, turned, shots)
        for columns, rows in arrays(len(sizes))
        for turned in (False, True)
    ]
    return min(ways, key=lambda way: max(0.0, way[0] - piece.length_m) + max(0.0, way[1] - piece.width_m))


def _taken_m(
    piece: Piece, grid: tuple[float, float], columns: int, rows: int, turned: bool, shots: Shots
) -> tuple[float, float]:
    long, wide = grid[::-1] if turned else grid
    along, across = _lines(shots)[::-1] if turned else _lines(shots)
    between = between_m(bool(shots))
    ends, sides = ((stands_at(piece, a), stands_at(piece, b)) for a, b in (ENDS, SIDES))
    return (
        columns * long
        + along.gap_m(columns, between) * (columns - 1)
        + along.need_m(ends, _steps(ends, between)[-1], between, columns),
        rows * wide
        + across.gap_m(rows, between) * (rows - 1)
        + across.need_m(sides, _steps(sides, between)[-1], between, rows),
    )


def room_m(piece: Piece) -> tuple[float, float]:
    """(length, width) in metres that the least margins leave of a piece to a drill in which nobody shoots."""
    along, across = least_margins_m(piece, Shots())
    return piece.length_m - along, piece.width_m - across


def _margins(piece: Piece, columns: int, rows: int, turned: bool, shots: Shots) -> Iterator[ArrayCell]:
    along, across = _lines(shots)
    if turned:
        along, across = across, along
    between = between_m(bool(shots))
    gaps = along.gap_m(columns, between), across.gap_m(rows, between)
    ends, sides = ((stands_at(piece, a), stands_at(piece, b)) for a, b in (ENDS, SIDES))
    for one, other in product(_steps(ends, between), _steps(sides, between)):
        length = piece.length_m - along.need_m(ends, one, between, columns) - gaps[0] * (columns - 1)
        width = piece.width_m - across.need_m(sides, other, between, rows) - gaps[1] * (rows - 1)
        if length <= 0 or width <= 0:
            continue
        mine = (width / rows, length / columns) if turned else (length / columns, width / rows)
        yield ArrayCell(*mine, turned, columns, rows, gaps, (one, other))


def stands_at(piece: Piece, edge: Edge) -> Stands:
    """What stands at an edge. A fixed goal at an open edge makes it a fence: it is as hard."""
    stands = piece.at(edge)
    return "fence" if stands == "open" and any(goal.edge == edge for goal in piece.goals) else stands


def _steps(stands: tuple[Stands, Stands], between: int) -> range:
    """The whole metres of run-off to try along one direction, wished first; none to spare where both ends are open."""
    least = {"fence": RUN_OFF_LEAST_M, "group": between, "open": RUN_OFF_WISHED_M}
    return range(RUN_OFF_WISHED_M, min(least[each] for each in stands) - 1, -1)


def _lines(shots: Shots) -> tuple[_Line, _Line]:
    return (
        _Line(shots.ends, shots.behind_ends_m, shots.gap_ends_m),
        _Line(shots.sides, shots.behind_sides_m, shots.gap_sides_m),
    )


@dataclass(frozen=True, slots=True)
class _Line:
    """One direction of a piece: how many of a grid's two edges across it are shot at, and what is clear behind them."""

    shot_at: int
    behind_m: int
    far_m: int

    def gap_m(self, grids: int, between: int) -> int:
        """Between two grids in a line; two that are shot at from one end each are laid with their goals outwards."""
        facing = self.shot_at == 2 or (self.shot_at == 1 and grids > 2)
        return max(between, self.far_m) if facing else between

    def need_m(self, stands: tuple[Stands, Stands], run_off: int, between: int, grids: int = 1) -> int:
        """What both ends of a line of so many grids take off the ground for a run-off of so many metres."""
        shot_at = 2 if self.shot_at == 1 and grids == 2 else self.shot_at  # goals outwards, at both ends
        base = {"open": 0, "fence": run_off, "group": max(run_off, between)}
        needed = [base[each] for each in stands]
        open_to_shots = [number for number, each in enumerate(stands) if each == "group"]
        # A grid with one goal is laid with it towards the edge that is not another group's, where there is one.
        if shot_at == 1 and len(open_to_shots) < 2:
            open_to_shots = []
        for number in open_to_shots[:shot_at]:
            needed[number] = max(needed[number], self.behind_m)
        return sum(needed)
