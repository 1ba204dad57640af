"""What lies and stands on the ground: squared paper, zones, the grid, goals, gates, cones, and the measures round it."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from operator import itemgetter

from drills.drawing.paper import (
    INK,
    PAPER,
    SOFT_INK,
    SQUARE,
    SQUARE_5,
    Element,
    dimension,
    el,
    fmt,
    group,
    on_paper,
    path,
    squared,
    text_width,
    traced,
    words,
)
from drills.drawing.pose import gate_posts
from drills.drawing.svg.room import HALF, Stand, Way, best_written
from drills.drawing.svg.sheet import STRIP, Box, DrawingSheet, goal_point
from drills.game.scene import Point, SceneGoal, SceneZone

CONE = "#d9600a"
ZONE = "#e3ecdf"
ZONE_TYPE, ZONE_LEAST = 9.5, 7.5  # sizes of a zone's title
INSET = 3.5  # units from the end of a title to the edge of its zone
BESIDE = 6.5  # units from a zone to the middle of a title outside it
ROWS = 6


def paper(sheet: DrawingSheet) -> Element:
    """The ground shown, squared: 1 m faint where it can be told apart, 5 m stronger."""
    left, top, right, bottom = sheet.ground
    origin = sheet.at((0, 0))
    parts = [el("rect", cls="paper", x=left, y=top, width=right - left, height=bottom - top, fill=PAPER)]
    if sheet.unit_per_m >= 4.5 and not sheet.thumbnail:
        ones = squared(left, top, right, bottom, origin, sheet.unit_per_m)
        parts.append(path(ones, cls="square", stroke=SQUARE, width=0.5))
    if not sheet.thumbnail:
        fives = squared(left, top, right, bottom, origin, 5 * sheet.unit_per_m)
        parts.append(path(fives, cls="square-5", stroke=SQUARE_5, width=0.8))
    return group(parts, cls="ground")


def grid(sheet: DrawingSheet) -> Element:
    """The outline of the grid, to scale."""
    x, y, width, height = sheet.box(0, 0, sheet.scene.length_m, sheet.scene.width_m)
    stroke = 1.6 if not sheet.thumbnail else 2
    return el(
        "rect", cls="grid", x=x, y=y, width=width, height=height, fill="none", stroke=INK, stroke_width=stroke
    )


def zones(sheet: DrawingSheet) -> Iterator[Element]:
    """A tinted area with a dashed edge for each zone; its title is written later."""
    for zone in sheet.scene.zones:
        x, y, width, height = sheet.box(zone.x_m, zone.y_m, zone.length_m, zone.width_m)
        area = zone_area((x, y), (width, height), plain=sheet.plain)
        yield group((area,), cls="zone-area", data_key=zone.key)


def zone_area(at: Point, size: tuple[float, float], *, plain: bool) -> Element:
    """A tinted rectangle with a dashed edge: its upper left corner, its width and its height, in units of the sheet."""
    return el(
        "rect",
        cls="zone",
        x=at[0],
        y=at[1],
        width=size[0],
        height=size[1],
        fill="#eee" if plain else ZONE,
        fill_opacity=0.75,
        stroke=SOFT_INK,
        stroke_width=0.9,
        stroke_dasharray="4 2.5",
    )


def zone_titles(sheet: DrawingSheet) -> Element | None:
    """Above all zones, since they may lie over each other."""
    if sheet.thumbnail:
        return None
    titles = [_zone_title(sheet, each) for each in sheet.scene.zones if each.title]
    return on_paper(titles, cls="zone-titles") if titles else None


def _zone_title(sheet: DrawingSheet, zone: SceneZone) -> Element:
    at = sheet.box(zone.x_m, zone.y_m, zone.length_m, zone.width_m)[:2]
    text, size, stand = best_written(sheet, at, _ways(sheet, zone))
    tx, ty = at[0] + stand.x, at[1] + stand.y
    turn = f"rotate(-90 {fmt(tx)} {fmt(ty)})" if stand.upright else None
    lines = text.split("\n")
    made = [
        words(
            *(tx, ty + size * 2 * HALF * (n - (len(lines) - 1) / 2), line),
            size=size,
            anchor=stand.anchor,
            cls="text-2",
            fill=SOFT_INK,
            transform=turn,
        )
        for n, line in enumerate(lines)
    ]
    return made[0] if len(made) == 1 else group(made)


def _ways(sheet: DrawingSheet, zone: SceneZone) -> Iterator[Way]:
    """In the zone in one line, in two, upright, in three; else smaller, else beside it and not in another."""
    x, y, width, height = sheet.box(zone.x_m, zone.y_m, zone.length_m, zone.width_m)
    smaller: list[tuple[float, str, bool]] = []
    for lines, upright in ((1, False), (2, False), (1, True), (3, False)):
        text = _in_lines(zone.title, lines)
        wide = max(text_width(each, ZONE_TYPE) for each in text.split("\n")) + 2 * INSET
        size = min(ZONE_TYPE, ZONE_TYPE * (height if upright else width) / wide)
        if size == ZONE_TYPE:
            yield from _written_inside(text, size, width, height, upright=upright)
        elif size >= ZONE_LEAST:
            smaller.append((size, text, upright))
    for size, text, upright in sorted(smaller, key=itemgetter(0), reverse=True):
        yield from _written_inside(text, size, width, height, upright=upright)
    beside = [(zone.title, ZONE_LEAST, each) for each in _around(width, height)]
    clear = [way for way in beside if not _in_another(sheet, zone, way[2].box((x, y), *way[:2]))]
    yield from clear or beside


def _in_lines(title: str, lines: int) -> str:
    """In at most so many lines, as narrow as can be."""
    words_in = title.split(" ")
    if lines == 1 or len(words_in) == 1:
        return title
    breaks = itertools.combinations(range(1, len(words_in)), min(lines, len(words_in)) - 1)
    ways = ([" ".join(words_in[a:b]) for a, b in itertools.pairwise((0, *each, None))] for each in breaks)
    return "\n".join(min(ways, key=lambda way: max(map(len, way))))


def _written_inside(text: str, size: float, width: float, height: float, *, upright: bool) -> Iterator[Way]:
    tall = size * (text.count("\n") + 1)
    yield from ((text, size, each) for each in _inside(width, height, tall, upright=upright))


def _inside(width: float, height: float, tall: float, *, upright: bool) -> Iterator[Stand]:
    """The corners, then along the sides and down the middle, for words that are so tall."""
    along, across = (height, width) if upright else (width, height)
    first, last = tall * HALF + 2.4, across - tall * HALF - 2.4
    if last < first:
        return
    ends = ((INSET, "start"), (along - INSET, "end"), (along / 2, "middle"))
    between = [first + (last - first) * n / ROWS for n in range(1, ROWS)]
    for rows, places in (((first, last), ends[:2]), ((first, last), ends[2:]), (between, ends)):
        for place, anchor in places:
            for row in rows:
                yield (
                    Stand(row, height - place, anchor, upright=True) if upright else Stand(place, row, anchor)
                )


def _around(width: float, height: float) -> Iterator[Stand]:
    """Above, below, to the left and to the right."""
    for y in (-BESIDE, height + BESIDE):
        for x in (width / 2, 0.0, width):
            yield from (Stand(x, y, anchor) for anchor in ("middle", "start", "end"))
    for x in (-BESIDE, width + BESIDE):
        yield from (Stand(x, height, upright=True), Stand(x, 0, "end", upright=True))


def _in_another(sheet: DrawingSheet, zone: SceneZone, box: Box) -> bool:
    """Whether words there would be read as the name of another zone."""
    for each in sheet.scene.zones:
        x, y, width, height = sheet.box(each.x_m, each.y_m, each.length_m, each.width_m)
        if each is not zone and box[0] < x + width and box[2] > x and box[1] < y + height and box[3] > y:
            return True
    return False


def goals(sheet: DrawingSheet) -> Iterator[Element]:
    """One mark for each goal of the scene, in its order."""
    for goal in sheet.scene.goals:
        yield goal_mark(sheet, goal)


def goal_mark(sheet: DrawingSheet, goal: SceneGoal) -> Element:
    """Posts on the line and the net behind it, to scale; a shut goal is dashed and crossed."""

    x, y = sheet.at(goal_point(sheet.scene, goal, 0, 0))
    post_x, post_y = sheet.at(goal_point(sheet.scene, goal, 1, 0))
    net_x, net_y = sheet.at(goal_point(sheet.scene, goal, 0, 1))

    def spot(share: float, deep: float) -> Point:
        return (
            x + (post_x - x) * share + (net_x - x) * deep,
            y + (post_y - y) * share + (net_y - y) * deep,
        )

    mark = goal_frame(spot, is_open=goal.open, small=sheet.thumbnail)
    mark.set("data-key", goal.key)
    return mark


def goal_frame(spot: Callable[[float, float], Point], *, is_open: bool, small: bool = False) -> Element:
    """`spot` gives a point of the sheet for shares of the goal.

    They are −1 … 1 from post to post and 0 … 1 from the line to the back of the net.
    """
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = (spot(*each) for each in ((-1, 0), (-1, 1), (1, 1), (1, 0)))
    frame = traced("M%.1f %.1fL%.1f %.1fL%.1f %.1fL%.1f %.1f", ax, ay, bx, by, cx, cy, dx, dy)
    if is_open:
        net = path(_net(spot), cls="net-line", width=0.5)
    else:
        cross = traced("M%.1f %.1fL%.1f %.1fM%.1f %.1fL%.1f %.1f", ax, ay, cx, cy, dx, dy, bx, by)
        net = path(cross, cls="goal", width=1.2)
    return group(
        (
            path(frame + "Z", cls="net", stroke=None, width=None, fill=PAPER),
            None if small and is_open else net,
            path(frame, cls="goal", width=2.2, stroke_dasharray=None if is_open else "3 2"),
        ),
        cls="goal-open" if is_open else "goal-shut",
    )


def gates(sheet: DrawingSheet) -> Iterator[Element]:
    """A dashed line between two cones for each gate."""
    for gate in sheet.scene.gates:
        a, b = (sheet.at(each) for each in gate_posts(gate))
        size = cone_size(sheet)
        line = path(
            f"M{_pair(a)}L{_pair(b)}",
            cls="gate-line",
            stroke=INK if sheet.plain else CONE,
            width=1.4,
            stroke_dasharray="1.5 2.5",
        )
        yield group(
            (line, cone_mark(a, size, plain=sheet.plain), cone_mark(b, size, plain=sheet.plain)),
            cls="gate",
            data_key=gate.key,
        )


def cones(sheet: DrawingSheet) -> Iterator[Element]:
    """A mark for each cone that stands by itself: those of gates are drawn with the gates."""
    for cone in sheet.scene.cones:
        mark = cone_mark(sheet.at((cone.x_m, cone.y_m)), cone_size(sheet), plain=sheet.plain)
        mark.set("data-key", cone.key)
        yield mark


def cone_size(sheet: DrawingSheet) -> float:
    """From the middle of a cone's mark to its tip, in units of the sheet."""
    return 2.2 if sheet.thumbnail else 3.6


def cone_mark(at: Point, size: float, *, plain: bool = False) -> Element:
    """A triangle round a point of the sheet; `size` as `cone_size` has it, in units."""
    x, y = at
    wide, low = size * 0.95, y + size * 0.75
    d = traced("M%.1f %.1fL%.1f %.1fH%.1fZ", x, y - size, x + wide, low, x - wide)
    return path(d, cls="cone", stroke=INK, width=0.6, fill="#fff" if plain else CONE)


def measures(sheet: DrawingSheet) -> Element | None:
    """Length and width below and on the left; zones in a chain above and on the right."""
    if not sheet.options.measures or sheet.thumbnail:
        return None
    return on_paper(_measures(sheet), cls="measures")


def _measures(sheet: DrawingSheet) -> Iterator[Element]:
    left, top, right, bottom = sheet.ground
    x, y, width, height = sheet.box(0, 0, sheet.scene.length_m, sheet.scene.width_m)
    flat = sheet.options.turn in (0, 180)
    long_m, high_m = sheet.scene.length_m, sheet.scene.width_m
    across, up = (long_m, high_m) if flat else (high_m, long_m)
    drop = bottom - (y + height) + STRIP / 2
    yield dimension((x, y + height), (x + width, y + height), sheet.options.length(across), offset=drop)
    reach = x - left + STRIP / 2
    yield dimension((x, y + height), (x, y), sheet.options.length(up), offset=-reach)
    chain_x, chain_y = sheet.breaks_x, sheet.breaks_y
    for low, high in itertools.pairwise(chain_x):
        yield _link(
            sheet, (low, None), (high, None), rise=y - top + STRIP / 2, reach=right - x - width + STRIP / 2
        )
    for low, high in itertools.pairwise(chain_y):
        yield _link(
            sheet, (None, low), (None, high), rise=y - top + STRIP / 2, reach=right - x - width + STRIP / 2
        )


def _link(
    sheet: DrawingSheet,
    low: tuple[float | None, float | None],
    high: tuple[float | None, float | None],
    *,
    rise: float,
    reach: float,
) -> Element:
    """One link of a chain of measures, above the ground where it lies level on the sheet, else on its right."""
    x, y, width, _ = sheet.box(0, 0, sheet.scene.length_m, sheet.scene.width_m)
    (ax, ay), (bx, by) = (sheet.at((each[0] or 0.0, each[1] or 0.0)) for each in (low, high))
    metres = sum((b or 0.0) - (a or 0.0) for a, b in zip(low, high, strict=True))
    label = sheet.options.length(metres)
    level = abs(bx - ax) > abs(by - ay)
    if level:
        start, end = sorted(((ax, y), (bx, y)))
        return dimension(start, end, label, offset=-rise, size=10)
    down, up = max(ay, by), min(ay, by)
    return dimension((x + width, down), (x + width, up), label, offset=reach, size=10)


def _net(spot: Callable[[float, float], Point]) -> str:
    ends = [((share, 0.0), (share, 1.0)) for share in (-0.6, -0.2, 0.2, 0.6)] + [((-1, 0.5), (1, 0.5))]
    return traced(
        "M%.1f %.1fL%.1f %.1f" * len(ends),
        *(number for pair in ends for end in pair for number in spot(*end)),
    )


def _pair(point: Point) -> str:
    return f"{fmt(point[0])} {fmt(point[1])}"
