"""What is laid out, on what, and the answer: metres from the lower-left corner of each space."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from sessions.planning.numbers import at_least, whole
from sessions.planning.reasons import Reason

# Free ground around a grid, and behind a goal that is shot at where nothing stops the ball (both: common practice,
# no source).
RUN_OFF_M = 3.0
BEHIND_GOAL_M = 15.0

Edge = Literal["left", "right", "bottom", "top"]
EDGES: tuple[Edge, ...] = (
    "right",
    "top",
    "left",
    "bottom",
)  # a quarter turn to the left takes each to the next


@dataclass(frozen=True, slots=True)
class Grid:
    """A grid in its own frame: length from left to right, width from bottom to top.

    `strips_m` is ground outside it that players or a waiting line take (edge → depth). `shot_at` are edges with a goal
    that is shot at with neither net, fence nor wall behind it. Two grids that both `shares_edges` may touch.
    """

    key: str
    length_m: float
    width_m: float
    strips_m: tuple[tuple[Edge, float], ...] = ()
    shot_at: tuple[Edge, ...] = ()
    shares_edges: bool = False

    def __post_init__(self) -> None:
        for name in ("length_m", "width_m"):
            at_least(name, getattr(self, name), 1)
        for edge, depth in self.strips_m:
            at_least(f"strips_m {edge}", depth, 0)


@dataclass(frozen=True, slots=True)
class Rectangle:
    """Ground in a space, in metres: its lower-left corner and its sides along the space's length and width."""

    x_m: float
    y_m: float
    length_m: float
    width_m: float


@dataclass(frozen=True, slots=True)
class Space:
    """A booked rectangle. `stopped` are edges with a fence or wall that stops balls; `open` edges with free grass beyond.

    Run-off must lie inside, except beyond an open edge. `taken` is ground that nobody may use or be shot over.
    """

    key: str
    length_m: float
    width_m: float
    stopped: tuple[Edge, ...] = ()
    open: tuple[Edge, ...] = ()
    taken: tuple[Rectangle, ...] = ()

    def __post_init__(self) -> None:
        for name in ("length_m", "width_m"):
            at_least(name, getattr(self, name), 0)


@dataclass(frozen=True, slots=True)
class Placed:
    """A grid in its place. `body` holds its strips too; `clear` is the ground behind goals that is kept free.

    `turned` counts quarter turns to the left. `paces` are (along the length, along the width) from the named corner of
    the space to the grid's nearest corner.
    """

    key: str
    space: str
    grid: Rectangle
    body: Rectangle
    clear: tuple[Rectangle, ...]
    turned: int
    corner: str
    paces: tuple[int, int]


@dataclass(frozen=True, slots=True)
class LayOut:
    """Where the grids go; empty when they do not fit. `proven` says that they do not, or that the search was exhausted.

    `run_off_m` is what was asked for, or, where `placed` is empty, `widest_run_off_m` the most that would do (None:
    not even none does).
    """

    placed: tuple[Placed, ...]
    proven: bool
    run_off_m: float
    widest_run_off_m: float | None = None
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True)
class Turned:
    """A grid in whole decimetres, turned: its body, where the grid lies in it, and ground to keep clear around it."""

    turned: int
    length: int
    width: int
    grid: tuple[int, int, int, int]
    shot_at: tuple[Edge, ...]


def decimetres(metres: float) -> int:
    """Rounded up, so that nothing is laid out tighter than it is."""
    return math.ceil(metres * 10 - 1e-6)


def turns(grid: Grid) -> tuple[Turned, ...]:
    """The grid in all turns that differ."""
    found: dict[tuple[object, ...], Turned] = {}
    for turned in range(4):
        each = _turn(grid, turned)
        found.setdefault((each.length, each.width, each.grid, frozenset(each.shot_at)), each)
    return tuple(found.values())


def _turn(grid: Grid, turned: int) -> Turned:
    strips = {moved(edge, turned): decimetres(depth) for edge, depth in grid.strips_m}
    length, width = decimetres(grid.length_m), decimetres(grid.width_m)
    if turned % 2:
        length, width = width, length
    x, y = strips.get("left", 0), strips.get("bottom", 0)
    return Turned(
        turned=turned,
        length=length + x + strips.get("right", 0),
        width=width + y + strips.get("top", 0),
        grid=(x, y, length, width),
        shot_at=tuple(sorted({moved(edge, turned) for edge in grid.shot_at})),
    )


def moved(edge: Edge, turned: int) -> Edge:
    """Where an edge comes to lie after quarter turns to the left."""
    return EDGES[(EDGES.index(edge) + whole("turned", turned, 0)) % 4]
