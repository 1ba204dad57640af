"""Room for words: where on the sheet one can stand without crossing a line or hiding anybody."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from drills.drawing.paper import text_width
from drills.drawing.svg.sheet import Box, DrawingSheet
from drills.game.scene import Point

LINE = 0.8  # units: half a line's width
SPARE = 4.0  # units that a word may reach over the ground shown, its width being a guess on the wide side
HALF = 0.55  # of a type size: half the height that a word needs
# How much a word is in the way there; what is said of the drill itself is hidden last.
OFF_THE_GROUND, WORD, EDGE, PATH = 30, 8, 4, 2


@dataclass(frozen=True)
class Stand:
    """Where a word stands from its mark, which end of it is there, and whether it is read from the right."""

    x: float
    y: float
    anchor: str = "start"
    upright: bool = False

    def box(self, at: Point, text: str, size: float) -> Box:
        """(left, top, right, bottom) of what a word takes up, all in units of the sheet, as are `at` and its type `size`."""
        lines = text.split("\n")
        wide, half = max([text_width(each, size) for each in lines]), HALF * size * len(lines)
        before = {"start": 0.0, "middle": wide / 2, "end": wide}[self.anchor]
        x, y = at[0] + self.x, at[1] + self.y
        if self.upright:  # from below upwards
            return x - half, y + before - wide, x + half, y + before
        return x - before, y - half, x - before + wide, y + half


Way = tuple[str, float, Stand]  # the word, in one line or several, its size, and where it stands


def first_free(sheet: DrawingSheet, at: Point, text: str, size: float, stands: Iterable[Stand]) -> Stand:
    """The first stand of `best_written` where there is one way to write it, with a type `size` in units of the sheet."""
    return best_written(sheet, at, ((text, size, each) for each in stands))[2]


def best_written(sheet: DrawingSheet, at: Point, ways: Iterable[Way]) -> Way:
    """The first way in which a word is clear of everything, else the first in which it is least in the way.

    Where it stands is taken for the words that look for a place after it. Raises ValueError without any way.
    """
    best, least = None, math.inf
    for way in ways:
        text, size, stand = way
        found = _in_the_way(sheet, stand.box(at, text, size), at, least)
        if found < least:
            best, least = way, found
        if not least:
            break
    if best is None:
        raise ValueError("ways: a word needs at least one")
    sheet.taken.append(best[2].box(at, *best[:2]))
    return best


def round_about(reach: float) -> tuple[Stand, ...]:
    """Stands so many units to the right of a mark, to the left, below, above; then askew."""
    far, near = reach + 4, reach * 0.8
    return (
        Stand(reach, 0),
        Stand(-reach, 0, "end"),
        Stand(0, far, "middle"),
        Stand(0, -far, "middle"),
        *(Stand(near, dy) for dy in (-reach, reach)),
        *(Stand(-near, dy, "end") for dy in (-reach, reach)),
    )


def _in_the_way(sheet: DrawingSheet, box: Box, own: Point, enough: float) -> float:
    """What a word there would hide, 0 for nothing; counted no further than `enough`."""
    left, top, right, bottom = box
    low_x, low_y, high_x, high_y = sheet.ground
    found = 0
    if left < low_x - SPARE or top < low_y or right > high_x + SPARE or bottom > high_y:
        found = OFF_THE_GROUND
    for (x, y), radius, weight in sheet.marks:
        dx = left - x if x < left else x - right if x > right else 0.0
        dy = top - y if y < top else y - bottom if y > bottom else 0.0
        # What the word belongs to is not in its way.
        if dx < radius and dy < radius and math.hypot(dx, dy) < radius and math.dist((x, y), own) > 0.5:
            found += weight
    if found < enough:
        found += EDGE * _touching(box, sheet.lines) + WORD * _touching(box, sheet.taken)
    return found if found >= enough else found + PATH * _cutting(box, sheet.paths)


def _touching(box: Box, others: Iterable[Box]) -> int:
    """How many of the other boxes reach into one."""
    left, top, right, bottom = box[0] - LINE, box[1] - LINE, box[2] + LINE, box[3] + LINE
    count = 0
    for low_x, low_y, high_x, high_y in others:
        if left < high_x and right > low_x and top < high_y and bottom > low_y:
            count += 1
    return count


def _cutting(box: Box, paths: Iterable[tuple[Point, Point]]) -> int:
    """How many straight lines run through a box: those of which some part lies between all four sides."""
    left, top, right, bottom = box
    count = 0
    for (ax, ay), (bx, by) in paths:
        if (ax < left and bx < left) or (ax > right and bx > right):
            continue
        if (ay < top and by < top) or (ay > bottom and by > bottom):
            continue
        low, high = 0.0, 1.0
        for first, way, least, most in ((ax, bx - ax, left, right), (ay, by - ay, top, bottom)):
            if way:
                one, other = (least - first) / way, (most - first) / way
                low, high = max(low, min(one, other)), min(high, max(one, other))
        count += low <= high
    return count
