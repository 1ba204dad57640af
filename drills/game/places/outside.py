"""Who stands outside the grid: players on its edges, those who wait, the coach. Metres."""

from __future__ import annotations

import math
from collections.abc import Container, Iterable, Sequence
from dataclasses import dataclass

from drills.game.scene import Edge, Point, Scene, SceneGoal, Spot, goal_middle
from drills.game.space import Edge as RealEdge

STEP_OUT_M = 1.0  # how far outside the line (common practice, no source)
CLEAR_M = 0.8  # beside a goal's post (common practice, no source)


@dataclass(frozen=True)
class GridRectangle:
    """A grid in metres, from (0, 0) at its lower-left corner, with the goals on its edges."""

    length_m: float
    width_m: float
    goals: tuple[SceneGoal, ...]

    def edge_m(self, edge: Edge) -> float:
        """How long an edge is, in metres."""
        return self.width_m if edge in ("left", "right") else self.length_m

    def outside(self, edge: Edge, along_m: float, out_m: float = STEP_OUT_M) -> Point:
        """The point so far along an edge (from the left, or from below) and so far outside it, in metres."""
        return {
            "left": (-out_m, along_m),
            "right": (self.length_m + out_m, along_m),
            "bottom": (along_m, -out_m),
            "top": (along_m, self.width_m + out_m),
        }[edge]


def on_edges(
    wanted: Sequence[Edge], grid: GridRectangle, *, out_m: float = STEP_OUT_M
) -> list[tuple[Edge, Point]]:
    """Somebody on each of these edges, evenly along each and clear of the goals on it; inside where `out_m` is below 0."""
    per_edge = {edge: wanted.count(edge) for edge in wanted}
    seen: dict[Edge, int] = {}
    found: list[tuple[Edge, Point]] = []
    for edge in wanted:
        n = seen.get(edge, 0)
        seen[edge] = n + 1
        along = grid.edge_m(edge) * (n + 0.5) / per_edge[edge]
        found.append((edge, grid.outside(edge, _clear_of_goals(edge, along, grid), out_m)))
    return found


def _clear_of_goals(edge: Edge, along_m: float, grid: GridRectangle) -> float:
    """Nobody stands in the net: beside the nearer post instead, or beyond the other one where there is no room."""
    for goal in grid.goals:
        reach = goal.width_m / 2 + CLEAR_M
        if goal.edge != edge or abs(along_m - goal.along_m) >= reach:
            continue
        low, high = goal.along_m - reach, goal.along_m + reach
        nearer = high if along_m >= goal.along_m else low
        other = low if nearer == high else high
        return nearer if 0 <= nearer <= grid.edge_m(edge) else other
    return along_m


# Where a line waits: first at the left, behind the start.
_LINES: tuple[RealEdge, ...] = ("left", "bottom", "top", "right")
LINE_OUT_M = 2.2  # from the edge to the first who waits (common practice, no source)


def line_edge(shot_at: Container[Edge]) -> RealEdge | None:
    """The edge behind which those wait who are off: nobody waits behind a goal. None where there is one on each."""
    return next((edge for edge in _LINES if edge not in shot_at), None)


def queue(count: int, along_m: float, edge: Edge, grid: GridRectangle, taken: Iterable[Point]) -> list[Point]:
    """Two files that wait outside an edge, near `along_m` of it, as far apart as the plan can show."""
    apart = max(1.3, 0.07 * max(grid.length_m, grid.width_m))
    spots = list(taken)
    middle = min(max(along_m, apart), grid.edge_m(edge) - apart)
    free = (
        along
        for along in _shifts(middle, apart)
        if all(math.dist(grid.outside(edge, along, LINE_OUT_M), each) > 1.5 * apart for each in spots)
    )
    along = next(free, middle)
    if count == 1:
        return [grid.outside(edge, along, LINE_OUT_M)]
    return [
        grid.outside(edge, along + apart * (0.5 if n % 2 else -0.5), LINE_OUT_M + apart * (n // 2))
        for n in range(count)
    ]


def _shifts(along: float, apart: float) -> list[float]:
    return [along, *(along + sign * step * apart for step in (1.5, 3.0, 4.5) for sign in (-1, 1))]


def margin_m(length_m: float, width_m: float) -> float:
    """Ground shown round the grid: enough for those who stand outside, little on a small grid."""
    return min(3.0, max(1.6, 0.09 * max(length_m, width_m)))


def free_spot(scene: Scene, out_m: float, *, taken: Iterable[Point] = ()) -> Spot:
    """A place outside, level with the middle where that is free: for the coach, for the spare balls."""
    spots = [*taken, *((each.x_m, each.y_m) for each in scene.players)]
    for goal in scene.goals:
        x, y = goal_middle(scene, goal)
        spots += [(x - goal.width_m / 2, y), (x, y), (x + goal.width_m / 2, y)]
    choices = [
        (scene.length_m * share, y)
        for y in (-out_m, scene.width_m + out_m)
        for share in (0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92)
    ]
    # A word stands to the right of the mark: room for that as well, more on a plan that is drawn smaller.
    ahead = 0.05 * scene.length_m
    room = [min((math.dist((x + ahead, y), each) for each in spots), default=math.inf) for x, y in choices]
    best = next((n for n, free in enumerate(room) if free >= 0.13 * scene.length_m), room.index(max(room)))
    return Spot(x_m=round(choices[best][0], 2), y_m=round(choices[best][1], 2))
