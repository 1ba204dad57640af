"""Grids and the room in them: area per player, the same feel for other numbers, paces and yards.

An area per player says nothing until it is said which players are counted, so every name carries it. Published
figures leave goalkeepers out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from club.limits import LONGEST_EDGE_M

METRES_PER_YARD = 0.9144  # exact, by definition
LONGEST_M = LONGEST_EDGE_M

Word = Literal["tight", "medium", "wide"]

# First words for a grid, as a share of the match area per outfield player: common practice, no source.
TIGHT_BELOW = 0.35
WIDE_ABOVE = 0.60

# The strip that players outside the grid stand in, in metres on each side they use: common practice, no source.
STRIP_LEAST_M = 1.0
STRIP_WISHED_M = 2.0

# How much a change of shape counts beside the same change of area when a grid is rounded or squeezed (a judgement).
SHAPE_WEIGHT = 0.2
# Beyond this factor a grid is another grid: a 25 × 20 m square-ish game is not played in a 50 × 8 m corridor.
SHAPE_MOST = 2.5


def metres(yards: float) -> float:
    """1 yard is 0.9144 m, exactly and by definition."""
    return yards * METRES_PER_YARD


def yards(metres_: float) -> float:
    """The inverse of `metres`."""
    return metres_ / METRES_PER_YARD


def area_per_player(length_m: float, width_m: float, players: int) -> float:
    """Grid area ÷ players, in m². Whose number `players` is (inside, outfield, everyone) is the caller's to say.

    Raises ValueError naming the field for a length, width or number that is not positive.
    """
    _check_positive(length_m=length_m, width_m=width_m, players=players)
    return length_m * width_m / players


def _check_positive(**values: float) -> None:
    for name, value in values.items():
        if not (math.isfinite(value) and value > 0):
            raise ValueError(f"{name}: must be more than 0, not {value}")


def ratio(length_m: float, width_m: float) -> float:
    """Length ÷ width; 25 × 20 → 1.25. Raises ValueError naming a side that is not positive."""
    _check_positive(length_m=length_m, width_m=width_m)
    return length_m / width_m


def first_word(area_per_player_m2: float, match_area_per_outfield_player_m2: float) -> Word:
    """tight below 35 %, medium to 60 %, wide above, of the match area per outfield player (common practice, no source).

    Raises ValueError naming an area that is not positive.
    """
    _check_positive(
        area_per_player_m2=area_per_player_m2,
        match_area_per_outfield_player_m2=match_area_per_outfield_player_m2,
    )
    share = area_per_player_m2 / match_area_per_outfield_player_m2
    if share < TIGHT_BELOW:
        return "tight"
    return "wide" if share > WIDE_ABOVE else "medium"


@dataclass(frozen=True, slots=True)
class SizedGrid:
    """A marked rectangle, in metres. `off` is how far it is from what was wished (0: exactly that; see `nearest_grid`)."""

    length_m: float
    width_m: float
    off: float = 0.0

    @property
    def area_m2(self) -> float:
        """Length × width."""
        return self.length_m * self.width_m


def grid_off(length_m: float, width_m: float, area_m2: float, ratio_: float) -> tuple[float, float]:
    """How far a grid is from a wished area and ratio: |ln(it ÷ wished)| of each, so that half and double are equally far."""
    return abs(math.log(length_m * width_m / area_m2)), abs(math.log(length_m / width_m / ratio_))


@lru_cache(maxsize=4096)
def nearest_grid(
    area_m2: float, ratio_: float, most_length_m: float, most_width_m: float
) -> SizedGrid | None:
    """The whole-metre grid nearest to an area and a ratio that fits the room; None when none of a sane shape does.

    Nearest = least |ln area| + SHAPE_WEIGHT × |ln ratio|. For a given length that is convex in the width with its
    lowest point at area ÷ length (SHAPE_WEIGHT < 1), so only the whole metres around that point are looked at.
    More room only adds grids to choose from, so it never gives a worse one.
    """
    most_length, most_width = (min(LONGEST_M, math.floor(most)) for most in (most_length_m, most_width_m))
    ln_area, ln_ratio = math.log(area_m2), math.log(ratio_)
    # Of two equally near ones the longer side goes first, as in the design: 12 × 11, not 11 × 12.
    lengths = _lengths(area_m2, ratio_, most_length, most_width)
    least, best = math.inf, (0, 0)
    # SHAPE_WEIGHT × |2 ln length − ln area − ln ratio| is a lower bound for a length: it spares the far ones a look.
    near = min(max(1, round(math.sqrt(area_m2 * ratio_))), most_length)
    enough = min(
        (_off(near, width, ln_area, ln_ratio) for width in _widths(near, area_m2, ratio_, most_width)),
        default=math.inf,
    )
    for length in reversed(lengths) if ratio_ >= 1 else lengths:
        if SHAPE_WEIGHT * abs(2 * _LN[length] - ln_area - ln_ratio) > enough + 1e-6:
            continue
        for width in _widths(length, area_m2, ratio_, most_width):
            off = _off(length, width, ln_area, ln_ratio)
            if off < least - 1e-9:
                least, best = off, (length, width)
    return SizedGrid(float(best[0]), float(best[1]), least) if best[0] else None


# Logarithms of whole metres, which the search below asks for thousands of times; index 0 is never used.
_LN = (-math.inf, *(math.log(metre) for metre in range(1, LONGEST_M + 1)))


def _off(length: int, width: int, ln_area: float, ln_ratio: float) -> float:
    sides = _LN[length], _LN[width]
    return abs(sides[0] + sides[1] - ln_area) + SHAPE_WEIGHT * abs(sides[0] - sides[1] - ln_ratio)


def _widths(length: int, area_m2: float, ratio_: float, most_width: int) -> tuple[int, ...]:
    """The whole widths on either side of the right area, inside the bounds of shape and room."""
    thinnest = max(1, math.ceil(length / ratio_ / SHAPE_MOST))
    widest = min(most_width, math.floor(length / ratio_ * SHAPE_MOST))
    if thinnest > widest:
        return ()
    low = math.floor(area_m2 / length)
    return min(max(low, thinnest), widest), min(max(low + 1, thinnest), widest)


def _lengths(area_m2: float, ratio_: float, most_length: int, most_width: int) -> range:
    """Lengths worth a look: near the wished one when there is room to spare, else all up to a shape out of bounds."""
    wished = math.sqrt(area_m2 * ratio_)
    near = 3 + math.ceil(2 * ratio_)
    if wished + near <= most_length and area_m2 / max(wished - near, 1) + 1 <= most_width:
        return range(max(1, math.floor(wished) - near), math.ceil(wished) + near)
    return range(1, min(most_length, math.ceil(wished * math.sqrt(SHAPE_MOST)) + 1) + 1)


# --- edges ---------------------------------------------------------------------------------------------------

Edge = Literal["left", "right", "top", "bottom"]
ALL_EDGES: tuple[Edge, ...] = ("left", "right", "top", "bottom")


# --- for other numbers, and published beside it ---

Counted = Literal["inside", "outfield", "everyone"]


def paces(length_m: float, pace_m: float) -> int:
    """The whole number of paces, `pace_m` long, nearest to a length; half a pace is rounded up.

    Raises ValueError naming a length that is not positive.
    """
    _check_positive(length_m=length_m, pace_m=pace_m)
    return math.floor(length_m / pace_m + 0.5)


def same_feel(length_m: float, width_m: float, players: int, for_players: int) -> SizedGrid:
    """The grid for other numbers with the same area per player and the same ratio of sides, in whole metres.

    Raises ValueError naming a value that is not positive, or for numbers that need a grid longer than `LONGEST_M`.
    """
    area_m2 = area_per_player(length_m, width_m, players) * for_players
    if players == for_players:
        return SizedGrid(length_m, width_m)
    grid = nearest_grid(area_m2, ratio(length_m, width_m), LONGEST_M, LONGEST_M)
    if grid is None:
        raise ValueError(f"for_players: {for_players} need a grid longer than {LONGEST_M} m")
    return grid


@dataclass(frozen=True, slots=True)
class Band:
    """A published range of area per player in m², with whom it was measured on. Never a promise of heart rate."""

    key: str
    low_m2: float
    high_m2: float
    counted: Counted
    with_keepers: bool | None  # None: not said
    population: str
    source: str


_RIBOLI = "Riboli et al. 2020, PLoS ONE 15(9):e0229194"


_ELITE = "adults, elite; mean ± one standard deviation"


def _riboli(key: str, mean_m2: float, sd_m2: float, with_keepers: bool) -> Band:
    return Band(key, mean_m2 - sd_m2, mean_m2 + sd_m2, "outfield", with_keepers, _ELITE, _RIBOLI)


BANDS: tuple[Band, ...] = (
    Band(
        "tactical games", 65, 110, "outfield", None, "match analysis, elite adults",
        "Fradua et al. 2013, J Sports Sci 31(6):573–581",
    ),
    _riboli("total distance as in a match", 187, 53, True),
    _riboli("total distance as in a match", 115, 35, False),
    _riboli("high-intensity running as in a match", 262, 72, True),
    _riboli("high-intensity running as in a match", 166, 39, False),
    _riboli("sprinting as in a match", 316, 75, True),
    _riboli("sprinting as in a match", 295, 99, False),
    _riboli("metabolic power as in a match", 177, 42, True),
    _riboli("metabolic power as in a match", 94, 40, False),
)  # fmt: skip


def bands_at(area_per_player_m2: float, *, with_keepers: bool) -> tuple[Band, ...]:
    """The published bands that an area per outfield player, in m², lies in; for games with or without keepers.

    Raises ValueError for an area that is not positive.
    """
    _check_positive(area_per_player_m2=area_per_player_m2)
    return tuple(
        band
        for band in BANDS
        if band.low_m2 <= area_per_player_m2 <= band.high_m2 and band.with_keepers in (None, with_keepers)
    )
