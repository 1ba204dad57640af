"""Paths: ball solid, run dashed, run with ball wavy (common practice, no source; the legend says so on each plan)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import repeat

from drills.drawing.lanes import Lane
from drills.drawing.paper import (
    INK,
    PAPER,
    Element,
    Markup,
    arrowhead,
    fmt,
    group,
    path,
    traced,
    words,
    write,
)
from drills.drawing.pose import Pose, between, ends_of, is_player
from drills.drawing.svg.sheet import DrawingSheet
from drills.game.scene import BallPath, Move, Point, Run, Step

_NEAR_START = (0.42, 0.3, 0.52, 0.62, 0.2, 0.72)
_NEAR_END = (
    0.62,
    0.7,
    0.54,
    0.78,
    0.46,
    0.38,
)  # lanes fan out from the ball: their figures part towards the end
BADGE = 5.6  # units: the radius of a number on a path
LEAST_UNDER = 26.0  # units: how long a path must be to be seen on both sides of its number
BOW = 0.16  # how far the handle of a ball in the air lies from the line, as a share of its length
LANE = "#827b69"
LEAST_TOLD = 34.0  # units: how long a lane must be for its seconds
LEAST_SMALL = 8.0  # units: what is shorter is a speck on a small plan
NEAR = 6.5  # units: paths that run so close to each other hide each other
WAVE, SWING = 4.6, 2.7  # units: half a wave's length, and how far its handle lies from the line


def steps(sheet: DrawingSheet, shown: tuple[tuple[int, Step], ...], pose: Pose) -> Iterator[Element]:
    """The moves of the steps shown, as a group each. Of several steps, each path of the ball wears its step's number,
    above all paths, so that none is struck through.
    """
    counted = numbers(sheet, shown)
    busy = [sheet.at(each) for each in pose.players.values()]
    taken: list[tuple[Point, Point]] = []
    badges: list[Markup] = []
    for number, step in shown:
        marks: list[Markup] = []
        for move in step.moves:
            start, end = _trimmed(sheet, move, taken)
            if sheet.thumbnail and math.dist(start, end) < LEAST_SMALL:
                continue
            marks.append(move_mark(start, end, move_kind(move), thick=sheet.thumbnail))
            if counted and isinstance(move, BallPath):
                bow = BOW if move_kind(move) == "high" else 0.0
                at = _badge_spot(start, end, busy, sheet.radius_u + 6.5, bow)
                badges.append(badge(at, number))
                busy.append(at)
        yield group((inked(marks, thick=sheet.thumbnail),), cls="step", data_step=str(number))
    if badges:
        yield group(badges, cls="numbers")


def numbers(sheet: DrawingSheet, shown: tuple[tuple[int, Step], ...]) -> list[int]:
    """The numbers on the paths of the ball: of those steps that have one. None in motion, and none on a single path."""
    if len(shown) < 2 or sheet.thumbnail or sheet.options.moving:
        return []
    found = [number for number, step in shown for move in step.moves if isinstance(move, BallPath)]
    return found if len(found) > 1 else []


def inked(marks: Iterable[Markup], *, thick: bool = False) -> Element:
    """Paths share their ink, said once."""
    return group(marks, cls="moves", fill="none", stroke=INK, stroke_width=1.9 if thick else 1.7)


def move_kind(move: Move) -> str:
    """What decides how a move's path is drawn: `ball`, `high` (a ball in the air), `run` or `carry` (a run with the ball)."""
    if isinstance(move, BallPath):
        return "high" if move.high else "ball"
    return "run" if isinstance(move, Run) else "carry"


def move_mark(start: Point, end: Point, kind: str, *, thick: bool = False) -> Markup:
    """One path with its head, in units of the sheet."""
    length = math.dist(start, end)
    way = ((end[0] - start[0]) / length, (end[1] - start[1]) / length) if length else (1.0, 0.0)
    head = min(7.0 if not thick else 5.0, length)
    line, way = _line(start, end, way, head * 0.8, kind)
    tip = arrowhead(end, way, length=head, half=head * 0.42)
    dash = ' stroke-dasharray="5 3"' if kind == "run" else ""
    return Markup(
        f'<g class="move {kind}"><path class="path" d="{line}"{dash}/>'
        f'<path class="head" d="{tip}" fill="{INK}" stroke="none"/></g>'
    )


def _line(start: Point, end: Point, way: Point, head: float, kind: str) -> tuple[str, Point]:
    """Path data up to the head, and the direction in which the head points."""
    if kind == "high":
        bow = math.dist(start, end) * BOW
        handle = ((start[0] + end[0]) / 2 + way[1] * bow, (start[1] + end[1]) / 2 - way[0] * bow)
        far = math.dist(handle, end) or 1.0
        way = ((end[0] - handle[0]) / far, (end[1] - handle[1]) / far)
    neck = (end[0] - way[0] * head, end[1] - way[1] * head)
    if kind == "high":
        return f"M{_pair(start)}Q{_pair(handle)} {_pair(neck)}", way
    return (_wave(start, neck, way) if kind == "carry" else f"M{_pair(start)}L{_pair(neck)}"), way


def lanes(sheet: DrawingSheet, lanes: Iterable[Lane]) -> Iterator[Element]:
    """Lanes drawn thin, to lie under the players; what is said about them goes on top: `lane_marks`."""
    for lane in lanes:
        line = lane_line(*_lane_ends(sheet, lane), is_open=lane.open)
        yield group((line,), cls="lane-open" if lane.open else "lane-shut")


def lane_marks(
    sheet: DrawingSheet, pose: Pose, lanes: Sequence[Lane], step: Step | None = None
) -> Iterator[Element]:
    """A cross where a closed lane is cut; the seconds of the open ones where they are asked for."""
    busy = [sheet.at(each) for each in pose.players.values()]
    for lane in lanes:
        if not lane.open and lane.cut_at is not None:
            spot = _cut_spot(*_lane_ends(sheet, lane), sheet.at(lane.cut_at), busy, sheet.radius_u + 4)
            yield cut_mark(spot)
            busy.append(spot)
    told = with_seconds(sheet, lanes)
    if told:
        hidden = "none" if sheet.options.seconds == "asked" else None
        yield group(_seconds(sheet, told, busy, step), cls="seconds", display=hidden)


def with_seconds(sheet: DrawingSheet, lanes: Iterable[Lane]) -> list[Lane]:
    """The open lanes that have room for their seconds, where these are asked for."""
    if sheet.options.seconds == "no":
        return []
    return [
        each
        for each in lanes
        if each.open and math.isfinite(each.margin_s) and math.dist(*_lane_ends(sheet, each)) > LEAST_TOLD
    ]


def _seconds(
    sheet: DrawingSheet, lanes: Iterable[Lane], busy: list[Point], step: Step | None
) -> Iterator[Element]:
    """Each margin beside its lane; a pass of the step is drawn already, so clear of its path."""
    played = {move.to for move in step.moves if isinstance(move, BallPath)} if step else set()
    for lane in lanes:
        start, end = _lane_ends(sheet, lane)
        if lane.receiver in played:
            start, end = _off_the_line(start, end)
        spot = _clear_spot(start, end, busy, sheet.radius_u + 10, _NEAR_END)
        busy.append(spot)
        yield margin_mark(spot, lane.margin_s)


def _off_the_line(start: Point, end: Point) -> tuple[Point, Point]:
    """So far above a line that a margin stands clear of it: about 12 units to each side and 5 up and down."""
    length = math.dist(start, end)
    nx, ny = (end[1] - start[1]) / length, -(end[0] - start[0]) / length
    if ny > 0:
        nx, ny = -nx, -ny
    off = 5 * abs(ny) + 13 * abs(nx) + 2
    return (start[0] + nx * off, start[1] + ny * off), (end[0] + nx * off, end[1] + ny * off)


def _lane_ends(sheet: DrawingSheet, lane: Lane) -> tuple[Point, Point]:
    return _shortened(sheet.at(lane.start), sheet.at(lane.end), sheet.radius_u + 1, sheet.radius_u + 1)


def _cut_spot(start: Point, end: Point, cut: Point, busy: list[Point], apart: float) -> Point:
    """Where the lane is cut, or as little before it, else behind it, as keeps the cross off the figures."""
    length = math.dist(start, end)
    along = (cut[0] - start[0]) * (end[0] - start[0]) + (cut[1] - start[1]) * (end[1] - start[1])
    share = min(max(along / length**2, 0.0), 1 - min(1.0, 4 / length)) if length else 0.0
    before = [share * (1 - n / 20) for n in range(20)]
    after = [share + (1 - share) * n / 20 for n in range(1, 20)]
    spots = [between(start, end, each) for each in (*before, *after)]
    return next((each for each in spots if all(math.dist(each, one) >= apart for one in busy)), spots[0])


def lane_line(start: Point, end: Point, *, is_open: bool) -> Element:
    """A thin, quiet line along a passing lane, between points of the sheet; dotted where it is closed."""
    dots = None if is_open else "1.2 2.6"
    return path(f"M{_pair(start)}L{_pair(end)}", cls="lane", stroke=LANE, width=0.8, stroke_dasharray=dots)


def margin_mark(at: Point, margin_s: float) -> Element:
    """Seconds to spare, at a point of the sheet."""
    text = f"+{margin_s:.1f} s"
    return words(*at, text, size=9, cls="text-2", stroke=PAPER, stroke_width=4, paint_order="stroke")


def cut_mark(at: Point) -> Element:
    """A cross, 7 units wide, where a pass would be cut: a point of the sheet."""
    x, y = at
    d = "M%.1f %.1fL%.1f %.1fM%.1f %.1fL%.1f %.1f"
    return path(
        traced(d, x - 3.5, y - 3.5, x + 3.5, y + 3.5, x - 3.5, y + 3.5, x + 3.5, y - 3.5),
        cls="cut",
        width=1.6,
    )


def _trimmed(sheet: DrawingSheet, move: Move, taken: list[tuple[Point, Point]]) -> tuple[Point, Point]:
    """The ends of a path on the sheet, clear of the marks at them and of a path that runs the other way."""
    start_m, end_m = ends_of(sheet.scene, move)
    start, end = sheet.at(start_m), sheet.at(end_m)
    clear = sheet.radius_u + 1.5
    to_player = isinstance(move, BallPath) and is_player(sheet.scene, move.to)
    dx, dy = end[0] - start[0], end[1] - start[1]
    for a, b in taken:
        if dx * (b[0] - a[0]) + dy * (b[1] - a[1]) < 0 and _on_top(start, end, a, b):
            start, end = _aside(start, end, 4.5)
            break
    taken.append((start, end))
    return _shortened(start, end, clear, clear if to_player else 0.0)


def _on_top(start: Point, end: Point, a: Point, b: Point) -> bool:
    """Whether a path that runs back lies on most of another one, so close that the two could not be told apart."""
    (ax, ay), (sx, sy), (ex, ey) = a, start, end
    x, y = b[0] - ax, b[1] - ay
    square = x * x + y * y
    near = NEAR * NEAR * square
    if ((sx - ax) * y - (sy - ay) * x) ** 2 >= near or ((ex - ax) * y - (ey - ay) * x) ** 2 >= near:
        return False
    first, last = (sx - ax) * x + (sy - ay) * y, (ex - ax) * x + (ey - ay) * y
    return min(first, square) - max(last, 0.0) > 0.6 * min(square, first - last)


def _shortened(start: Point, end: Point, at_start: float, at_end: float) -> tuple[Point, Point]:
    length = math.dist(start, end)
    if length <= (at_start + at_end) * 1.25 or length == 0:
        return start, end
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    return (start[0] + ux * at_start, start[1] + uy * at_start), (end[0] - ux * at_end, end[1] - uy * at_end)


def _aside(start: Point, end: Point, units: float) -> tuple[Point, Point]:
    length = math.dist(start, end) or 1.0
    nx, ny = -(end[1] - start[1]) / length * units, (end[0] - start[0]) / length * units
    return (start[0] + nx, start[1] + ny), (end[0] + nx, end[1] + ny)


def _wave(start: Point, end: Point, way: Point) -> str:
    """Half waves of one length to and fro; what is left over is straight before the head."""
    length = math.dist(start, end)
    halves = int((length - 4) // WAVE)
    if halves < 2:
        return f"M{_pair(start)}L{_pair(end)}"
    halves -= halves % 2
    ux, uy = way
    handle = (ux * WAVE / 2 - uy * SWING * 1.6, uy * WAVE / 2 + ux * SWING * 1.6)
    hop = f"t{fmt(ux * WAVE, 2)} {fmt(uy * WAVE, 2)}"
    first = f"q{fmt(handle[0], 2)} {fmt(handle[1], 2)} {fmt(ux * WAVE, 2)} {fmt(uy * WAVE, 2)}"
    return f"M{_pair(start)}{first}{hop * (halves - 1)}L{_pair(end)}"


def _clear_spot(
    start: Point,
    end: Point,
    busy: list[Point],
    apart: float,
    shares: tuple[float, ...] = _NEAR_START,
    bow: float = 0.0,
) -> Point:
    """A point of the path where a figure hides nobody: the first of the shares that will do, or the least crowded."""
    best, most = start, -1.0
    for share in shares:
        spot = _on_bow(start, end, share, bow)
        room = min(map(math.dist, repeat(spot), busy), default=math.inf)
        if room >= apart:
            return spot
        if room > most:
            best, most = spot, room
    return best


def _on_bow(start: Point, end: Point, share: float, bow: float) -> Point:
    """A point of a bowed path: a parabola whose handle stands `bow` times its length off the straight line."""
    x, y = between(start, end, share)
    off = 2 * share * (1 - share) * bow
    return x + (end[1] - start[1]) * off, y - (end[0] - start[0]) * off


def _badge_spot(start: Point, end: Point, busy: list[Point], apart: float, bow: float) -> Point:
    """On the path; where figures or other numbers crowd it, or it would hide the path, beside it."""
    spot = _clear_spot(start, end, busy, apart, bow=bow)
    room = min(map(math.dist, repeat(spot), busy), default=math.inf)
    if room >= BADGE * 2 and math.dist(start, end) > LEAST_UNDER:
        return spot
    sides = [_clear_spot(*_aside(start, end, off), busy, apart) for off in (BADGE + 2.5, -BADGE - 2.5)]
    ways = (spot, *sides) if math.dist(start, end) > LEAST_UNDER else sides
    return max(ways, key=lambda each: min(map(math.dist, repeat(each), busy)))


def badge(at: Point, number: int) -> Markup:
    """The number of a step in a disc, at a point of the sheet."""
    x, y = at
    where = f'cx="{fmt(x)}" cy="{fmt(y)}"'
    disc = f'<circle class="badge" {where} r="{BADGE}" fill="{PAPER}" stroke="{INK}" stroke-width="0.7"/>'
    said = write(words(x, y, str(number), size=8.5, font_weight="600"))
    return Markup(f'<g class="number">{disc}{said}</g>')


def _pair(point: Point) -> str:
    return f"{fmt(point[0])} {fmt(point[1])}"
