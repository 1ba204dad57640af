"""Who stands outside the grid: players on its edges, those who wait, the coach. Metres."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from drills.game.scene import Edge, Point, Scene, SceneGoal, Spot, goal_middle

STEP_OUT_M = 1.0  # how far outside the line (common practice, no source)
CLEAR_M = 0.8  # beside a goal's post


@dataclass(frozen=True)
class Rectangle:
    length_m: float
    width_m: float
    goals: tuple[SceneGoal, ...]

    def edge_m(self, edge: Edge) -> float:
        return self.width_m if edge in ("left", "right") else self.length_m

    def outside(self, edge: Edge, along_m: float, out_m: float = STEP_OUT_M) -> Point:
        return {
            "left": (-out_m, along_m),
            "right": (self.length_m + out_m, along_m),
            "bottom": (along_m, -out_m),
            "top": (along_m, self.width_m + out_m),
        }[edge]


def on_edges(count: int, edges: Sequence[Edge], grid: Rectangle) -> list[tuple[Edge, Point]]:
    """`count` people in turn on the edges, evenly along each and clear of the goals on it."""
    wanted = [edges[n % len(edges)] for n in range(count)]
    per_edge = {edge: wanted.count(edge) for edge in edges}
    seen: dict[Edge, int] = {}
    found: list[tuple[Edge, Point]] = []
    for edge in wanted:
        n = seen.get(edge, 0)
        seen[edge] = n + 1
        along = grid.edge_m(edge) * (n + 0.5) / per_edge[edge]
        found.append((edge, grid.outside(edge, _clear_of_goals(edge, along, grid))))
    return found


def _clear_of_goals(edge: Edge, along_m: float, grid: Rectangle) -> float:
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


def queue(count: int, behind: Point, grid: Rectangle, taken: Iterable[Point]) -> list[Point]:
    """Two files that wait to the left of the grid, behind the start, as far apart as the plan can show."""
    apart = max(1.3, 0.07 * max(grid.length_m, grid.width_m))
    spots = list(taken)
    middle = min(max(behind[1], apart), grid.width_m - apart)
    free = (
        y for y in _shifts(middle, apart) if all(math.dist((-2.2, y), each) > 1.5 * apart for each in spots)
    )
    y = next(free, middle)
    if count == 1:
        return [(-2.2, y)]
    return [(-2.2 - apart * (n // 2), y + apart * (0.5 if n % 2 else -0.5)) for n in range(count)]


def _shifts(y: float, apart: float) -> list[float]:
    return [y, *(y + sign * step * apart for step in (1.5, 3.0, 4.5) for sign in (-1, 1))]


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
