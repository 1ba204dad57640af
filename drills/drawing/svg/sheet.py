"""How a plan is to be drawn, and from metres on the ground to units on the sheet: how large, which way round, where the edges are."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from drills.drawing.lanes import Lane
from drills.drawing.pose import ends_of
from drills.game.scene import BallPath, Point, Scene, SceneGoal, SceneZone, goal_middle
from drills.game.space import METRES_PER_YARD
from drills.game.wording.rendering import Translate, as_written, text_of
from drills.game.wording.shapes import Part, Sentence

WIDTH, TALLEST = (
    360.0,
    470.0,
)  # units of the sheet: near the CSS pixels of a phone, so that type stays legible
SMALL_WIDTH, SMALL_TALLEST = 120.0, 120.0
STRIP = 22.0  # room for one row of measures
# What it costs to hide somebody, something, or where somebody comes to stand.
PERSON, THING, LATER = 10, 6, 3


Box = tuple[float, float, float, float]  # left, top, right, bottom, in units of the sheet
_OUTWARD: dict[str, Point] = {"left": (-1, 0), "right": (1, 0), "top": (0, 1), "bottom": (0, -1)}
_AWAY: dict[str, str] = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
Hatched = Literal["no", "in print", "always"]
Seconds = Literal["no", "asked", "always"]


@dataclass(frozen=True, kw_only=True)
class DrawingOptions:
    """`prefix` keeps ids unique on a page; `turn` is clockwise in degrees; `pace_m` turns figures into paces.

    `hatched="in print"` adds hidden hatches that a page's print rules show; `"always"` draws without colours.
    `moving` adds the timed animation of all steps; `moments` are the lanes at the start of each step, hidden until a
    page shows them. `seconds` by which lanes are open: left out, hidden until a page shows them, or there. `translate` is given every English word of the picture. Raises ValueError for impossible figures.
    """

    prefix: str = ""
    thumbnail: bool = False
    legend: bool = True
    measures: bool = True
    hatched: Hatched = "in print"
    turn: Literal[0, 90, 180, 270] = 0
    units: Literal["m", "yd", "paces"] = "m"
    pace_m: float = 0.75
    lanes: tuple[Lane, ...] = ()
    moving: bool = False
    moments: tuple[tuple[Lane, ...], ...] = ()
    seconds: Seconds = "no"
    translate: Translate = as_written

    def __post_init__(self) -> None:
        if self.turn not in (0, 90, 180, 270):
            raise ValueError("turn: must be 0, 90, 180 or 270")
        if not self.pace_m > 0:
            raise ValueError("pace_m: must be above 0")

    def length(self, metres: float) -> str:
        """A length in the reader's units, never in two."""
        if self.units == "yd":
            return self.say("length_yd", n=metres / METRES_PER_YARD)
        if self.units == "paces":
            return self.say("length_paces", n=round(metres / self.pace_m))
        return self.say("length_m", n=metres)

    def say(self, key: str, **parts: Part) -> str:
        """A wording of the catalogue in the reader's language."""
        return text_of(Sentence(key, parts), self.translate)


@dataclass(frozen=True)
class DrawingSheet:
    """A scene laid on the sheet. All `*_u` are units of the sheet; `radius_u` is that of a player."""

    scene: Scene
    options: DrawingOptions
    unit_per_m: float
    left_m: float  # of the ground shown, after the turn
    top_m: float
    left_u: float
    top_u: float
    ground_width_u: float
    ground_height_u: float
    radius_u: float
    breaks_x: tuple[float, ...]  # metres: where zones divide the length and the width
    breaks_y: tuple[float, ...]

    @property
    def thumbnail(self) -> bool:
        """Drawn small, for a list: without legend, measures and labels."""
        return self.options.thumbnail

    @property
    def plain(self) -> bool:
        """Whether it is drawn without colours."""
        return self.options.hatched == "always"

    @property
    def width_u(self) -> float:
        return SMALL_WIDTH if self.thumbnail else WIDTH

    def at(self, point: Point) -> Point:
        """Where a point of the ground (metres) lies on the sheet (units, y downwards)."""
        x, y = turned(point, self.options.turn) if self.options.turn else point
        scale = self.unit_per_m
        return self.left_u + (x - self.left_m) * scale, self.top_u + (self.top_m - y) * scale

    def way(self, vector: Point) -> Point:
        """A direction on the ground as a direction on the sheet, of the same length."""
        x, y = turned(vector, self.options.turn)
        return x, -y

    def box(
        self, x_m: float, y_m: float, length_m: float, width_m: float
    ) -> tuple[float, float, float, float]:
        """Left, top, width and height, in units of the sheet, of a rectangle on the ground."""
        (ax, ay), (bx, by) = self.at((x_m, y_m)), self.at((x_m + length_m, y_m + width_m))
        return min(ax, bx), min(ay, by), abs(bx - ax), abs(by - ay)

    @property
    def ground(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of the ground shown, in units."""
        return self.left_u, self.top_u, self.left_u + self.ground_width_u, self.top_u + self.ground_height_u

    @cached_property
    def taken(self) -> list[Box]:
        """Where words stand already; each that finds a place is added."""
        return list(_measure_boxes(self)) if self.options.measures and not self.thumbnail else []

    @cached_property
    def lines(self) -> tuple[Box, ...]:
        """The lines of the grid, drawn out to where it is measured, the edges of zones, and the goals, as boxes."""
        x, y, width, height = self.box(0, 0, self.scene.length_m, self.scene.width_m)
        left, _, _, bottom = self.ground
        right, low = x + width, y + height
        if not self.options.measures or self.thumbnail:
            left, bottom = x, low
        goals = (_goal_box(self, each) for each in self.scene.goals)
        zones = (edge for each in self.scene.zones for edge in _edges(self, each))
        return (
            (x, y, x, bottom),
            (right, y, right, bottom),
            (left, y, right, y),
            (left, low, right, low),
            *goals,
            *zones,
        )

    @cached_property
    def marks(self) -> tuple[tuple[Point, float, int], ...]:
        """Who and what stands where, at the start and after a run: (point, radius in units, what hiding it costs)."""
        scene, place = self.scene, self.at
        found = [(place((each.x_m, each.y_m)), self.radius_u, PERSON) for each in scene.players]
        found += [(place((each.x_m, each.y_m)), 6.0, THING) for each in scene.balls if each.at is None]
        found += [(place((each.x_m, each.y_m)), 4.0, THING) for each in scene.cones]
        if scene.coach is not None:
            found.append((place((scene.coach.x_m, scene.coach.y_m)), self.radius_u, PERSON))
        runs = (each for step in scene.steps for each in step.moves if not isinstance(each, BallPath))
        found += [(place((each.to_x_m, each.to_y_m)), self.radius_u, LATER) for each in runs]
        return tuple(found)

    @cached_property
    def paths(self) -> tuple[tuple[Point, Point], ...]:
        """The straight paths of all steps, from end to end."""
        ends = (ends_of(self.scene, move) for step in self.scene.steps for move in step.moves)
        return tuple((self.at(start), self.at(end)) for start, end in ends)


def _measure_boxes(sheet: DrawingSheet) -> Iterator[Box]:
    """Where the figures of length and width stand; few words come near the others."""
    left, _, _, bottom = sheet.ground
    x, y, width, height = sheet.box(0, 0, sheet.scene.length_m, sheet.scene.width_m)
    for mx, my, dx, dy in (
        (x + width / 2, bottom + STRIP / 2, 20, 6),
        (left - STRIP / 2, y + height / 2, 6, 20),
    ):
        yield mx - dx, my - dy, mx + dx, my + dy


def _edges(sheet: DrawingSheet, zone: SceneZone) -> Iterator[Box]:
    x, y, width, height = sheet.box(zone.x_m, zone.y_m, zone.length_m, zone.width_m)
    right, low = x + width, y + height
    yield from ((x, y, x, low), (right, y, right, low), (x, y, right, y), (x, low, right, low))


def _goal_box(sheet: DrawingSheet, goal: SceneGoal) -> Box:
    (ax, ay), (bx, by) = (sheet.at(goal_point(sheet.scene, goal, *each)) for each in ((-1, 0), (1, 1)))
    return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)


def turned(point: Point, degrees: int) -> Point:
    """A point after so many degrees clockwise round (0, 0): 0, 90, 180 or 270."""
    x, y = point
    if degrees == 0:
        return point
    if degrees == 180:
        return -x, -y
    return (y, -x) if degrees == 90 else (-y, x)


def goal_point(scene: Scene, goal: SceneGoal, share: float, deep: float) -> Point:
    """A point of a goal in metres: −1 … 1 from post to post, 0 … 1 from the line to the back of the net."""
    middle = goal_middle(scene, goal)
    out = _OUTWARD[goal.edge if goal.edge != "free" else _AWAY[goal.faces]]
    depth = deep * min(2.0, max(0.8, 0.3 * goal.width_m))
    side = share * goal.width_m / 2
    return middle[0] + abs(out[1]) * side + out[0] * depth, middle[1] + abs(out[0]) * side + out[1] * depth


def goal_back(scene: Scene, goal: SceneGoal) -> list[Point]:
    """Both ends of the back of a goal's net, in metres."""
    return [goal_point(scene, goal, share, 1) for share in (-1, 1)]


def lay(scene: Scene, options: DrawingOptions) -> DrawingSheet:
    """The largest scale at which the ground and its measures fit the sheet."""
    left, bottom, right, top = _turned_bounds(scene, options.turn, tight=options.thumbnail)
    measured = options.measures and not options.thumbnail
    breaks_x, breaks_y = _breaks(scene) if measured else ((), ())
    flat = options.turn in (0, 180)
    strip_top = STRIP if (breaks_x if flat else breaks_y) else 3.0
    strip_right = STRIP if (breaks_y if flat else breaks_x) else 3.0
    strip = STRIP if measured else 3.0
    width, tallest = (SMALL_WIDTH, SMALL_TALLEST) if options.thumbnail else (WIDTH, TALLEST)
    room = width - strip - strip_right
    scale = min(room / (right - left), tallest / (top - bottom))
    return DrawingSheet(
        scene=scene,
        options=options,
        unit_per_m=scale,
        left_m=left,
        top_m=top,
        left_u=strip + (room - (right - left) * scale) / 2,
        top_u=strip_top,
        ground_width_u=(right - left) * scale,
        ground_height_u=(top - bottom) * scale,
        radius_u=_radius(scene, scale, options.thumbnail),
        breaks_x=breaks_x,
        breaks_y=breaks_y,
    )


def _turned_bounds(scene: Scene, degrees: int, *, tight: bool) -> tuple[float, float, float, float]:
    low_x, low_y, high_x, high_y = _bounds(scene, tight=tight)
    (ax, ay), (bx, by) = turned((low_x, low_y), degrees), turned((high_x, high_y), degrees)
    return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)


def _bounds(scene: Scene, *, tight: bool) -> tuple[float, float, float, float]:
    """The grid with its margin, less of it on a small plan, and everything that stands or runs beyond it."""
    margin = scene.margin_m if not tight else min(scene.margin_m, 0.05 * max(scene.length_m, scene.width_m))
    xs = [-margin, scene.length_m + margin]
    ys = [-margin, scene.width_m + margin]
    room = max(0.8, 0.04 * max(scene.length_m, scene.width_m))
    for x, y in _spots(scene):
        xs += [x - room, x + room]
        ys += [y - room, y + room]
    return min(xs), min(ys), max(xs), max(ys)


def _spots(scene: Scene) -> list[Point]:
    spots = [(each.x_m, each.y_m) for each in scene.players]
    spots += [(each.x_m, each.y_m) for each in scene.cones]
    spots += [(each.x_m, each.y_m) for each in scene.gates]
    spots += [(each.x_m, each.y_m) for each in scene.balls if each.at is None]
    for goal in scene.goals:
        spots += goal_back(scene, goal)
    if scene.coach is not None:
        spots.append((scene.coach.x_m, scene.coach.y_m))
    for step in scene.steps:
        for move in step.moves:
            if move.to_x_m is not None and move.to_y_m is not None:
                spots.append((move.to_x_m, move.to_y_m))
    return spots


def _breaks(scene: Scene) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Where zones divide the grid: measured in a chain along the edge, when there are few enough to read."""
    xs, ys = {0.0, scene.length_m}, {0.0, scene.width_m}
    for zone in scene.zones:
        xs |= {zone.x_m, zone.x_m + zone.length_m}
        ys |= {zone.y_m, zone.y_m + zone.width_m}
    chain_x = sorted({round(x, 2) for x in xs if 0 <= x <= scene.length_m})
    chain_y = sorted({round(y, 2) for y in ys if 0 <= y <= scene.width_m})
    return _readable(chain_x), _readable(chain_y)


def _readable(chain: list[float]) -> tuple[float, ...]:
    return tuple(chain) if 2 < len(chain) <= 8 else ()


def _radius(scene: Scene, scale: float, thumbnail: bool) -> float:
    """As large as can be read, yet apart from the nearest neighbour."""
    least, most = (3.3, 4.8) if thumbnail else (6.0, 9.0)
    spots = [(each.x_m, each.y_m) for each in scene.players if each.place != "queue"]
    # Those who wait stand shoulder to shoulder on the plan too, and beside the coach: they may touch.
    others = [(each.x_m, each.y_m) for each in scene.players if each.place == "queue"]
    others += [(scene.coach.x_m, scene.coach.y_m)] if scene.coach else []
    nearest = _nearest(itertools.combinations(spots, 2)) * 0.46
    touching = _nearest(itertools.chain(itertools.combinations(others, 2), itertools.product(spots, others)))
    return max(least, min(most, nearest * scale, touching * scale * 0.5))


def _nearest(pairs: Iterable[tuple[Point, Point]]) -> float:
    return min(itertools.starmap(math.dist, pairs), default=math.inf)
