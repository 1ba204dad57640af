"""The rules of the lay-out once more, as plainly as can be, and a search that tries every whole metre."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, product

from drills.game.evening import Piece, Stands
from drills.game.space import ALL_EDGES, Edge
from sessions.planning.layout import GridToLay, LayOut, Rectangle

NEXT: dict[Edge, Edge] = {"right": "top", "top": "left", "left": "bottom", "bottom": "right"}
EDGE_OF_GOAL = {"open": "fence", "fence": "fence", "group": "group"}


def fenced(key: str, length_m: float, width_m: float, **edges: Stands) -> Piece:
    """A piece with a fence at every edge that is not named."""
    each: dict[str, Stands] = {**dict.fromkeys(ALL_EDGES, "fence"), **edges}
    return Piece(
        key, length_m, width_m, left=each["left"], right=each["right"], bottom=each["bottom"], top=each["top"]
    )


@dataclass(frozen=True)
class Lain:
    """A grid somewhere: what it takes, and the ground behind each of its goals with the edge it is behind."""

    grid: GridToLay
    body: Rectangle
    clear: tuple[tuple[Edge, Rectangle], ...]


def apart_m(one: Rectangle, other: Rectangle) -> float:
    """The gap between two along the axis on which they are further apart; below 0 where they overlap."""
    across = max(other.x_m - one.x_m - one.length_m, one.x_m - other.x_m - other.length_m)
    along = max(other.y_m - one.y_m - one.width_m, one.y_m - other.y_m - other.width_m)
    return max(across, along)


def to_edge_m(piece: Piece, of: Rectangle, edge: Edge) -> float:
    return {
        "left": of.x_m,
        "bottom": of.y_m,
        "right": piece.length_m - of.x_m - of.length_m,
        "top": piece.width_m - of.y_m - of.width_m,
    }[edge]


def stands(piece: Piece, edge: Edge) -> str:
    goal = any(each.edge == edge for each in piece.goals)
    return EDGE_OF_GOAL[piece.at(edge)] if goal else piece.at(edge)


def inside(piece: Piece, each: Lain, run_off: tuple[int, int], behind_groups: bool) -> bool:
    for edge in ALL_EDGES:
        asked = {
            "open": 0,
            "fence": run_off[edge in ("bottom", "top")],
            "group": max(run_off[edge in ("bottom", "top")], 3 if each.grid.shot_at else 2),
        }[stands(piece, edge)]
        if to_edge_m(piece, each.body, edge) < asked - 1e-6:
            return False
        for behind, clear in each.clear:
            is_towards = behind == edge and stands(piece, edge) == "group" and behind_groups
            if is_towards and to_edge_m(piece, clear, edge) < -1e-6:
                return False
    return True


def together(one: Lain, other: Lain) -> bool:
    gap = 3 if one.grid.shot_at or other.grid.shot_at else 2
    gap = 0 if one.grid.shares_edges and other.grid.shares_edges else gap
    return (
        apart_m(one.body, other.body) >= gap - 1e-6
        and all(apart_m(clear, other.body) >= -1e-6 for _, clear in one.clear)
        and all(apart_m(clear, one.body) >= -1e-6 for _, clear in other.clear)
    )


def lain(grid: GridToLay, turned: int, x: float, y: float) -> Lain:
    """`x`, `y` are the corner of what it takes."""

    def after(edge: Edge) -> Edge:
        for _ in range(turned):
            edge = NEXT[edge]
        return edge

    strips = {after(edge): depth for edge, depth in grid.strips_m}
    sides = (grid.width_m, grid.length_m) if turned % 2 else (grid.length_m, grid.width_m)
    left, bottom = strips.get("left", 0.0), strips.get("bottom", 0.0)
    body = Rectangle(
        x, y, sides[0] + left + strips.get("right", 0.0), sides[1] + bottom + strips.get("top", 0.0)
    )
    box = Rectangle(x + left, y + bottom, *sides)
    clear = tuple((after(edge), _beyond(box, after(edge), depth)) for edge, depth in grid.shot_at)
    return Lain(grid, body, clear)


def _beyond(of: Rectangle, edge: Edge, depth: float) -> Rectangle:
    return {
        "left": Rectangle(of.x_m - depth, of.y_m, depth, of.width_m),
        "right": Rectangle(of.x_m + of.length_m, of.y_m, depth, of.width_m),
        "bottom": Rectangle(of.x_m, of.y_m - depth, of.length_m, depth),
        "top": Rectangle(of.x_m, of.y_m + of.width_m, of.length_m, depth),
    }[edge]


def sound(answer: LayOut, grids: list[GridToLay], piece: Piece) -> bool:
    """Whether what was placed keeps the rules with the margins that it says."""
    of = {grid.key: grid for grid in grids}
    all_lain = [lain(of[each.key], each.turned, each.body.x_m, each.body.y_m) for each in answer.placed]
    run_off = (answer.margins.along_m, answer.margins.across_m)
    return (
        [each.body for each in all_lain] == [each.body for each in answer.placed]
        and all(inside(piece, each, run_off, answer.margins.behind_groups) for each in all_lain)
        and all(together(one, other) for one, other in combinations(all_lain, 2))
    )


def ladder() -> Iterator[tuple[tuple[int, int], bool]]:
    """Run-off along and across, and whether goals are kept off groups: the widest first, along before across."""
    pairs = sorted(product((3, 2, 1), (3, 2, 1)), key=lambda each: sum((3 - m) ** 2 for m in each))
    for behind_groups in (True, False):
        yield from ((pair, behind_groups) for pair in pairs)


def by_hand(grids: list[GridToLay], piece: Piece) -> tuple[tuple[int, int], bool] | None:
    """The widest margins with which all have a place on whole metres (enough where all sides are whole); None for none."""
    spots = list(product(range(4), range(int(piece.length_m) + 1), range(int(piece.width_m) + 1)))
    everywhere = [[lain(grid, *spot) for spot in spots] for grid in grids]
    for run_off, behind_groups in ladder():
        ways = [
            [each for each in there if inside(piece, each, run_off, behind_groups)] for there in everywhere
        ]
        if _together(ways, []):
            return run_off, behind_groups
    return None


def _together(ways: list[list[Lain]], so_far: list[Lain]) -> bool:
    if len(so_far) == len(ways):
        return True
    return any(
        _together(ways, [*so_far, each])
        for each in ways[len(so_far)]
        if all(together(each, other) for other in so_far)
    )
