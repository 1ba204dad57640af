"""What is laid out and the answer: metres from the lower-left corner of each piece of ground.

Inside the search lengths are whole decimetres, boxes (left, bottom, length, width).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from drills.game.evening import Piece
from drills.game.fit.arrays import stands_at
from drills.game.margins import between_m
from drills.game.space import Edge
from sessions.planning.layout.margins import Margins
from sessions.planning.numbers import at_least, whole
from sessions.planning.reasons import PlanningReason

# A quarter turn to the left takes each to the next.
EDGES: tuple[Edge, ...] = ("right", "top", "left", "bottom")
Depths = tuple[tuple[Edge, float], ...]
Box = tuple[int, int, int, int]


@dataclass(frozen=True, slots=True)
class GridToLay:
    """A grid in its own frame: length from left to right, width from bottom to top.

    `strips_m` is ground outside it that players take (edge → depth). `shot_at` are edges with a goal, and the metres that
    have to be clear behind it where the ball isn't stopped. `waits_m` is where a line waits: it stands in the free ground
    around the grid and takes none of its own. Two grids that both `shares_edges` may touch. Raises ValueError naming the
    field.
    """

    key: str
    length_m: float
    width_m: float
    strips_m: Depths = ()
    shot_at: Depths = ()
    shares_edges: bool = False
    waits_m: Depths = ()

    def __post_init__(self) -> None:
        for name in ("length_m", "width_m"):
            at_least(name, getattr(self, name), 1)
        for name in ("strips_m", "shot_at", "waits_m"):
            for edge, depth in getattr(self, name):
                at_least(f"{name} {edge}", depth, 0)

    def gap(self, other: GridToLay) -> int:
        """Decimetres between two that are used at the same time."""
        if self.shares_edges and other.shares_edges:
            return 0
        return 10 * between_m(bool(self.shot_at or other.shot_at))


@dataclass(frozen=True, slots=True)
class Rectangle:
    """Ground on a piece, in metres: its lower-left corner and its sides along the piece's length and width."""

    x_m: float
    y_m: float
    length_m: float
    width_m: float


@dataclass(frozen=True, slots=True)
class Placed:
    """A grid in its place. `body` holds its strips too; `clear` is the ground behind goals that is kept free.

    `space` is the key of its piece, `lines` where its waiting line stands. `turned` counts quarter turns to the left.
    `paces` are (along the length, along the width) from the named corner of the piece to the grid's nearest corner.
    """

    key: str
    space: str
    grid: Rectangle
    body: Rectangle
    clear: tuple[Rectangle, ...]
    turned: int
    corner: str
    paces: tuple[int, int]
    lines: tuple[Rectangle, ...] = ()


@dataclass(frozen=True, slots=True)
class LayOut:
    """Where the grids go; empty when they do not fit. `proven` says that they do not, or that the search was exhausted.

    `margins` are what they are laid with; where they do not fit, the least that was tried.
    """

    placed: tuple[Placed, ...]
    proven: bool
    margins: Margins
    reasons: tuple[PlanningReason, ...] = ()


@dataclass(frozen=True, slots=True)
class Turned:
    """A grid in whole decimetres, turned: its body, where the grid lies in it, and ground to keep clear around it."""

    turned: int
    length: int
    width: int
    grid: Box
    shot_at: tuple[tuple[Edge, int], ...]
    clear: tuple[Box, ...]  # behind the goals, from the body's corner

    def strip(self, edge: Edge) -> int:
        """How deep the body is between the grid and its own edge, in decimetres."""
        x, y, length, width = self.grid
        return {"left": x, "bottom": y, "right": self.length - x - length, "top": self.width - y - width}[
            edge
        ]

    def need(self, piece: Piece, edge: Edge, margins: Margins) -> int:
        """Decimetres that the body keeps from an edge of the ground: none where it is open, at a fence the run-off.

        Towards another group it is the run-off too, or more where the ground behind a goal reaches further.
        """
        stands, run_off = stands_at(piece, edge), margins.run_off_m(edge)
        if stands == "open":
            return 0
        if stands == "fence":
            return 10 * run_off
        behind = dict(self.shot_at).get(edge, 0) - self.strip(edge) if margins.behind_groups else 0
        return max(10 * max(run_off, between_m(bool(self.shot_at))), behind)

    def room(self, piece: Piece, margins: Margins) -> tuple[int, int, int, int]:
        """(least x, most x, least y, most y) of the body's corner on this piece, in decimetres.

        Where a least is above its most there is no room.
        """
        left, right, bottom, top = (
            self.need(piece, edge, margins) for edge in ("left", "right", "bottom", "top")
        )
        long, wide = whole_decimetres(piece.length_m), whole_decimetres(piece.width_m)
        return left, long - right - self.length, bottom, wide - top - self.width


def decimetres(metres: float) -> int:
    """Metres as decimetres, rounded up, so that nothing is laid out tighter than it is."""
    return math.ceil(metres * 10 - 1e-6)


def whole_decimetres(metres: float) -> int:
    """Metres of ground as decimetres, rounded down: no more than is there."""
    return math.floor(metres * 10 + 1e-6)


def turns(grid: GridToLay) -> tuple[Turned, ...]:
    """The grid in each of the four turns that differs from those before it."""
    found: dict[tuple[object, ...], Turned] = {}
    for turned in range(4):
        each = turn(grid, turned)
        found.setdefault((each.length, each.width, each.grid, frozenset(each.shot_at)), each)
    return tuple(found.values())


def turn(grid: GridToLay, turned: int) -> Turned:
    """The grid after so many quarter turns to the left."""
    strips = {moved(edge, turned): decimetres(depth) for edge, depth in grid.strips_m}
    length, width = decimetres(grid.length_m), decimetres(grid.width_m)
    if turned % 2:
        length, width = width, length
    x, y = strips.get("left", 0), strips.get("bottom", 0)
    shot_at = {moved(edge, turned): decimetres(depth) for edge, depth in grid.shot_at}
    inside = (x, y, length, width)
    return Turned(
        turned=turned,
        length=length + x + strips.get("right", 0),
        width=width + y + strips.get("top", 0),
        grid=inside,
        shot_at=tuple(sorted(shot_at.items())),
        clear=tuple(beyond(inside, edge, depth) for edge, depth in sorted(shot_at.items())),
    )


def beyond(box: Box, edge: Edge, depth: int) -> Box:
    """The ground outside one edge of a box, so many decimetres deep and as wide as the edge."""
    x, y, length, width = box
    each: dict[Edge, Box] = {
        "left": (x - depth, y, depth, width),
        "right": (x + length, y, depth, width),
        "bottom": (x, y - depth, length, depth),
        "top": (x, y + width, length, depth),
    }
    return each[edge]


def apart(one: Box, other: Box, gap: int) -> bool:
    """Whether one box lies to the left, right, below or above the other, with at least `gap` decimetres between them."""
    return (
        one[0] + one[2] + gap <= other[0]
        or other[0] + other[2] + gap <= one[0]
        or one[1] + one[3] + gap <= other[1]
        or other[1] + other[3] + gap <= one[1]
    )


def moved(edge: Edge, turned: int) -> Edge:
    """Where an edge comes to lie after so many quarter turns to the left. Raises ValueError for fewer than 0."""
    return EDGES[(EDGES.index(edge) + whole("turned", turned, 0)) % 4]


@dataclass(frozen=True, slots=True)
class PlacedGrid:
    """A grid at a place of a piece, turned; (x, y) is its body's lower-left corner in decimetres."""

    grid: GridToLay
    piece: Piece
    turned: Turned
    x: int
    y: int

    @property
    def body(self) -> Box:
        """All the ground that it takes, strips included: a box on the piece."""
        return self.x, self.y, self.turned.length, self.turned.width

    @property
    def box(self) -> Box:
        """The marked grid alone: a box on the piece."""
        return self._here(self.turned.grid)

    @property
    def clear(self) -> tuple[Box, ...]:
        """Ground to keep free behind its goals: boxes on the piece."""
        return tuple(self._here(each) for each in self.turned.clear)

    def _here(self, box: Box) -> Box:
        return self.x + box[0], self.y + box[1], box[2], box[3]

    def is_inside(self, margins: Margins) -> bool:
        """Whether it keeps what the edges of its ground ask for."""
        left, right, bottom, top = self.turned.room(self.piece, margins)
        return left <= self.x <= right and bottom <= self.y <= top

    def goes_with(self, other: PlacedGrid) -> bool:
        """Whether both can be used at the same time."""
        return self.piece.key != other.piece.key or (
            apart(self.body, other.body, self.grid.gap(other.grid))
            and all(apart(each, other.body, 0) for each in self.clear)
            and all(apart(each, self.body, 0) for each in other.clear)
        )
