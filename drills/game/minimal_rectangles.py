"""Sets of smallest rectangles: what holds any of several, what holds each, what grids in a row take. In centimetres."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import chain

from drills.game.space import LONGEST_M, SHAPE_MOST

CM = 100
LONGEST_CM = LONGEST_M * CM

# None of them lies inside another: the first side rises, the second falls.
MinimalRectangles = tuple[tuple[int, int], ...]


@lru_cache(maxsize=4096)
def grids_cm(tightest_m2: float, ratio: float) -> MinimalRectangles:
    """The smallest whole-metre grids of at least so many m², as (length, width) in centimetres.

    Their ratio of sides is no further than the factor `SHAPE_MOST` from `ratio`.
    """
    made: list[tuple[int, int]] = []
    for length in range(1, LONGEST_M + 1):
        across = length / ratio
        thinnest = max(1, math.ceil(across / SHAPE_MOST))
        least = max(thinnest, math.ceil((tightest_m2 - 1e-9) / length))
        if least <= min(LONGEST_M, math.floor(across * SHAPE_MOST)):
            made.append((length * CM, least * CM))
            if least == thinnest:
                break  # a longer one is no narrower
    return smallest(made)


def up_cm(metres: float) -> int:
    """Metres as whole centimetres, rounded up but for what rounding errors add."""
    return math.ceil(metres * CM - 1e-6)


# Columns along a grid's length, rows along its width, and the centimetres between two.
Array = tuple[int, int, int, int]


def free_for(corners: MinimalRectangles, arrays: Iterable[Array]) -> Iterator[tuple[int, int]]:
    """Free rectangles, longer side first, that hold equal places in any of these arrays; none beyond the longest."""
    for columns, rows, gap, gap_across in arrays:
        gaps, gaps_across = gap * (columns - 1), gap_across * (rows - 1)
        for length, width in corners:
            one, other = columns * length + gaps, rows * width + gaps_across
            if one <= LONGEST_CM and other <= LONGEST_CM:
                yield (one, other) if one >= other else (other, one)


def holding_each(places: list[MinimalRectangles]) -> MinimalRectangles:
    """The smallest rectangles that each hold some rectangle of every set, one at a time; none where a set is empty."""
    if not all(places):
        return ()
    lengths = {length for place in places for length, _ in place}
    first = max(place[0][0] for place in places)
    return smallest((at, max(width_at(place, at) for place in places)) for at in lengths if at >= first)


def width_at(corners: MinimalRectangles, length: int) -> int:
    """The least second side, in centimetres, that will do where the first is `length`, no less than the shortest first side."""
    return corners[bisect_right(corners, (length, LONGEST_CM * 10)) - 1][1]


def holding_any(regions: Iterable[MinimalRectangles]) -> MinimalRectangles:
    """The smallest rectangles that each hold some rectangle of at least one set."""
    # By identity: the same ones come again and again, and to compare them costs more than to go through one twice.
    several = list({id(each): each for each in regions if each}.values())
    if len(several) < 2:
        return several[0] if several else ()
    return smallest(chain.from_iterable(several))


def smallest(rooms: Iterable[tuple[int, int]]) -> MinimalRectangles:
    """The rectangles that hold none of the others, by rising first and falling second side."""
    kept: list[tuple[int, int]] = []
    narrowest = LONGEST_CM * 10
    for room in sorted(rooms):
        if room[1] < narrowest:
            kept.append(room)
            narrowest = room[1]
    return tuple(kept)


def all_hold(rooms: MinimalRectangles, others: MinimalRectangles) -> bool:
    """Whether each of these rooms holds one of the others."""
    return bool(others) and all(
        long >= others[0][0] and width_at(others, long) <= short for long, short in rooms
    )
