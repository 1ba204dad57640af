"""The grids of a whole evening: each part's on the same ground as the part before, so that cones are laid once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import permutations

from sessions.planning.layout.ground import (
    BEHIND_GOAL_M,
    RUN_OFF_M,
    Edge,
    Grid,
    LayOut,
    Placed,
    Rectangle,
    Space,
    Turned,
    decimetres,
    turns,
)
from sessions.planning.layout.place import lay_out, paced
from sessions.planning.numbers import at_least
from sessions.planning.reasons import reason

MOST_LOOKS = 200
MOST_BY_LOOKING = 4  # grids of one part; beyond, the solver is quicker
Box = tuple[int, int, int, int]  # decimetres: left, bottom, length, width


@dataclass(frozen=True, slots=True)
class Kept:
    """A part's lay-out, with how many of its corner cones stand already and how many it has."""

    layout: LayOut
    cones_kept: int
    cones: int


def lay_out_evening(
    parts: Sequence[Sequence[Grid]],
    spaces: Sequence[Space],
    *,
    run_off_m: float = RUN_OFF_M,
    behind_goal_m: float = BEHIND_GOAL_M,
    pace_m: float = 1.0,
    seconds: float = 1.0,
) -> tuple[Kept, ...]:
    """Places for the grids of each part, in order, keeping as many corners of the part before as will do.

    Grids of one part stand at the same time and keep apart; grids of different parts may lie on each other. A part's
    grids are looked for at few likely places first, with the part before in mind; where that finds none, the exact
    search of `lay_out` places them or proves that they do not fit. ValueError for impossible input.
    """
    at_least("run_off_m", run_off_m, 0)
    at_least("behind_goal_m", behind_goal_m, 0)
    at_least("pace_m", pace_m, 0.3)
    found: list[Kept] = []
    anchor = _anchor(parts, decimetres(run_off_m))
    standing: frozenset[Corner] = frozenset()
    for grids in parts:
        asked = _Asked(tuple(grids), tuple(spaces), run_off_m, behind_goal_m, pace_m, seconds)
        layout = _placed(asked, standing, anchor)
        corners = corners_of(layout)
        found.append(Kept(layout, len(standing & corners), len(corners)))
        standing = corners or standing
    return tuple(found)


Corner = tuple[str, int, int]  # space, decimetres along and across


def corners_of(layout: LayOut) -> frozenset[Corner]:
    """Where the corner cones of a lay-out stand."""
    return frozenset(
        (each.space, round(10 * x), round(10 * y))
        for each in layout.placed
        for x in (each.grid.x_m, each.grid.x_m + each.grid.length_m)
        for y in (each.grid.y_m, each.grid.y_m + each.grid.width_m)
    )


@dataclass(frozen=True, slots=True)
class _Asked:
    grids: tuple[Grid, ...]
    spaces: tuple[Space, ...]
    run_off_m: float
    behind_goal_m: float
    pace_m: float
    seconds: float


@dataclass(frozen=True, slots=True)
class _Spot:
    """A grid at a place of a space, turned, with its grid's and its body's boxes."""

    grid: Grid
    space: Space
    turned: Turned
    x: int
    y: int

    @property
    def body(self) -> Box:
        return self.x, self.y, self.turned.length, self.turned.width

    @property
    def box(self) -> Box:
        gx, gy, length, width = self.turned.grid
        return self.x + gx, self.y + gy, length, width

    def clear(self, behind: int) -> list[Box]:
        """Ground behind the goals that are shot at."""
        x, y, length, width = self.box
        each: dict[Edge, Box] = {
            "left": (x - behind, y, behind, width),
            "right": (x + length, y, behind, width),
            "bottom": (x, y - behind, length, behind),
            "top": (x, y + width, length, behind),
        }
        return [each[edge] for edge in self.turned.shot_at]


def _anchor(parts: Sequence[Sequence[Grid]], run_off: int) -> tuple[int, int]:
    """Where the lower-left corner of every first grid may stand: beyond the run-off and the widest strip of any."""
    left = [0, *(decimetres(depth) for grids in parts for grid in grids[:1] for _, depth in grid.strips_m)]
    return run_off + max(left), run_off + max(left)


@lru_cache(maxsize=512)
def _placed(asked: _Asked, standing: frozenset[Corner], anchor: tuple[int, int]) -> LayOut:
    if not asked.grids:
        return LayOut((), proven=True, run_off_m=asked.run_off_m)
    if len(asked.grids) <= MOST_BY_LOOKING:
        spots = _look(asked, standing, anchor)
        if spots:
            return LayOut(
                tuple(_as_placed(each, asked) for each in spots), proven=False, run_off_m=asked.run_off_m
            )
        if len(asked.grids) == 1 and not any(each.taken for each in asked.spaces):
            return _alone(asked)
    return lay_out(
        asked.grids,
        asked.spaces,
        run_off_m=asked.run_off_m,
        behind_goal_m=asked.behind_goal_m,
        pace_m=asked.pace_m,
        seconds=asked.seconds,
    )


def _alone(asked: _Asked) -> LayOut:
    """A single grid that was looked for in the tightest corner of each space, in each turn: so it does not fit."""
    widest: float | None = None
    for tenths in range(decimetres(asked.run_off_m) - 1, -1, -1):
        if _look(replace(asked, run_off_m=tenths / 10), frozenset(), (0, 0)):
            widest = tenths / 10
            break
    asked_m = float(asked.run_off_m)
    why = reason("layout_too_tight", grids=1, run_off_m=asked_m)
    if widest is not None:
        why = reason("layout_less_run_off", grids=1, run_off_m=asked_m, widest_m=widest)
    return LayOut((), True, asked.run_off_m, widest, (why,))


def _look(asked: _Asked, standing: frozenset[Corner], anchor: tuple[int, int]) -> tuple[_Spot, ...]:
    """The best of the likely places: most corners kept, then nearest to the corners; empty for none."""
    best: tuple[tuple[int, int], tuple[_Spot, ...]] | None = None
    looks = 0
    for order in permutations(range(len(asked.grids))):
        for spots in _ways(asked, order, standing, anchor, ()):
            looks += 1
            corners = {(each.space.key, *at) for each in spots for at in _corners(each.box)}
            rank = (-len(standing & corners), sum(each.x + each.y for each in spots))
            if best is None or rank < best[0]:
                best = rank, spots
            if looks >= MOST_LOOKS:
                return _in_order(best[1], asked)
    return _in_order(best[1], asked) if best else ()


def _in_order(spots: tuple[_Spot, ...], asked: _Asked) -> tuple[_Spot, ...]:
    keys = [each.key for each in asked.grids]
    return tuple(sorted(spots, key=lambda spot: keys.index(spot.grid.key)))


def _ways(
    asked: _Asked,
    order: tuple[int, ...],
    standing: frozenset[Corner],
    anchor: tuple[int, int],
    so_far: tuple[_Spot, ...],
) -> Iterator[tuple[_Spot, ...]]:
    if len(so_far) == len(order):
        yield so_far
        return
    for spot in _spots(asked, asked.grids[order[len(so_far)]], standing, anchor, so_far):
        if _allowed(spot, so_far, asked):
            yield from _ways(asked, order, standing, anchor, (*so_far, spot))


def _spots(
    asked: _Asked,
    grid: Grid,
    standing: frozenset[Corner],
    anchor: tuple[int, int],
    so_far: tuple[_Spot, ...],
) -> Iterator[_Spot]:
    """Likely places of a grid: on standing corners, at the anchor, tight in the corner, beside those placed."""
    gap = decimetres(asked.run_off_m)
    behind = decimetres(asked.behind_goal_m)
    for space in asked.spaces:
        here = [each for each in so_far if each.space.key == space.key]
        for turned in turns(grid):
            gx, gy, length, width = turned.grid
            least_x, least_y = _least(space, turned, gap, behind)
            places = {(least_x, least_y), (anchor[0] - gx, anchor[1] - gy)}
            for key, x, y in standing:
                if key == space.key:
                    places |= {(x - gx - dx, y - gy - dy) for dx in (0, length) for dy in (0, width)}
            xs = {least_x} | {_beyond(each, each.body[0] + each.body[2], grid, gap) for each in here}
            ys = {least_y} | {_beyond(each, each.body[1] + each.body[3], grid, gap) for each in here}
            far = {each.body[0] + each.body[2] + behind for each in here if each.turned.shot_at}
            high = {each.body[1] + each.body[3] + behind for each in here if each.turned.shot_at}
            places |= {(x, y) for x in xs | far for y in ys | high}
            for x, y in sorted(places):
                yield _Spot(grid, space, turned, x, y)


def _least(space: Space, turned: Turned, gap: int, behind: int) -> tuple[int, int]:
    """The lower-left place of a body in an empty space, off its own goals' clear ground."""
    gx, gy, _, _ = turned.grid
    least = []
    for edge, strip in (("left", gx), ("bottom", gy)):
        room = 0 if edge in space.open else gap
        if edge in turned.shot_at and edge not in space.stopped and edge not in space.open:
            room = max(room, behind - strip)
        least.append(room)
    return least[0], least[1]


def _beyond(other: _Spot, end: int, grid: Grid, gap: int) -> int:
    return end if other.grid.shares_edges and grid.shares_edges else end + gap


def _allowed(spot: _Spot, so_far: tuple[_Spot, ...], asked: _Asked) -> bool:
    gap, behind = decimetres(asked.run_off_m), decimetres(asked.behind_goal_m)
    if not _inside(spot, gap, behind):
        return False
    for taken in spot.space.taken:
        box = (
            decimetres(taken.x_m),
            decimetres(taken.y_m),
            decimetres(taken.length_m),
            decimetres(taken.width_m),
        )
        if not _apart(spot.body, box, gap) or not all(_apart(each, box, 0) for each in spot.clear(behind)):
            return False
    return all(_side_by_side(spot, each, gap, behind) for each in so_far if each.space.key == spot.space.key)


def _inside(spot: _Spot, gap: int, behind: int) -> bool:
    space = spot.space
    x, y, length, width = spot.body
    bx, by, long, wide = spot.box
    total, across = int(space.length_m * 10 + 1e-6), int(space.width_m * 10 + 1e-6)
    room: dict[Edge, int] = {
        "left": x,
        "bottom": y,
        "right": total - x - length,
        "top": across - y - width,
    }
    clear: dict[Edge, int] = {
        "left": bx,
        "bottom": by,
        "right": total - bx - long,
        "top": across - by - wide,
    }
    shut = [each for each in spot.turned.shot_at if each not in space.stopped and each not in space.open]
    return all(left >= (0 if edge in space.open else gap) for edge, left in room.items()) and all(
        clear[edge] >= behind for edge in shut
    )


def _side_by_side(one: _Spot, other: _Spot, gap: int, behind: int) -> bool:
    touch = one.grid.shares_edges and other.grid.shares_edges
    return (
        _apart(one.body, other.body, 0 if touch else gap)
        and all(_apart(each, other.body, 0) for each in one.clear(behind))
        and all(_apart(each, one.body, 0) for each in other.clear(behind))
    )


def _apart(one: Box, other: Box, gap: int) -> bool:
    return (
        one[0] + one[2] + gap <= other[0]
        or other[0] + other[2] + gap <= one[0]
        or one[1] + one[3] + gap <= other[1]
        or other[1] + other[3] + gap <= one[1]
    )


def _corners(box: Box) -> list[tuple[int, int]]:
    x, y, length, width = box
    return [(x, y), (x + length, y), (x, y + width), (x + length, y + width)]


def _as_placed(spot: _Spot, asked: _Asked) -> Placed:
    grid = _rectangle(spot.box)
    corner, paces = paced(spot.space, grid, asked.pace_m)
    return Placed(
        key=spot.grid.key,
        space=spot.space.key,
        grid=grid,
        body=_rectangle(spot.body),
        clear=tuple(_rectangle(each) for each in spot.clear(decimetres(asked.behind_goal_m))),
        turned=spot.turned.turned,
        corner=corner,
        paces=paces,
    )


def _rectangle(box: Box) -> Rectangle:
    x, y, length, width = box
    return Rectangle(x / 10, y / 10, length / 10, width / 10)
