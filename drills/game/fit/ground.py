"""Where a grid lies: the nearest grid to the design's area and shape in what is free, for every way of laying it."""

from __future__ import annotations

from dataclasses import dataclass

from drills.game.design import Design
from drills.game.fit.arrays import ArrayCell
from drills.game.fit.weights import DistanceWeights
from drills.game.format import Format
from drills.game.space import SHAPE_WEIGHT, SizedGrid, grid_off, nearest_grid


@dataclass(frozen=True, slots=True)
class Ground:
    """A grid in its place, with what it adds to the distance."""

    grid: SizedGrid
    place: ArrayCell
    strip_m: float
    space: float  # term: area per counted player
    shape: float  # term: ratio of the sides
    margin: float  # term: less run-off than wished

    @property
    def far(self) -> float:
        """The grid's own part of the distance, the three terms added; no unit."""
        return self.space + self.shape + self.margin


def lay(
    design: Design, fmt: Format, place: ArrayCell, weights: DistanceWeights, area_most_m2: float | None = None
) -> Ground | None:
    """The grid nearest to the design's area and ratio for these numbers in this place; None where none is large enough.

    `area_most_m2`: no larger than so much for each player of the grid, keepers and outside players counted.
    """
    edges = design.edges(fmt)
    length, width = place.inside(edges)
    if length < 1 or width < 1:
        return None
    most_m2 = None if area_most_m2 is None else area_most_m2 * fmt.players
    grid = _grid(design, fmt, length, width, most_m2)
    if grid is None or grid.area_m2 < design.tightest_area_m2(fmt) - 1e-9:
        return None
    area_off, shape_off = grid_off(grid.length_m, grid.width_m, design.wished_area_m2(fmt), design.ratio)
    return Ground(
        grid,
        place,
        place.strip_m(grid, edges),
        space=weights.space * area_off,
        shape=weights.space * SHAPE_WEIGHT * shape_off,
        margin=weights.margin * place.short_m2,
    )


def _grid(
    design: Design, fmt: Format, length: float, width: float, most_m2: float | None
) -> SizedGrid | None:
    same_numbers = not design.area_matters or design.counted(fmt) == design.counted(design.format)
    own_m2 = design.length_m * design.width_m
    fits = design.length_m <= length and design.width_m <= width
    if same_numbers and fits and (most_m2 is None or own_m2 <= most_m2 + 1e-9):
        return SizedGrid(design.length_m, design.width_m)
    wished = design.wished_area_m2(fmt)
    if most_m2 is None or wished <= most_m2:
        return nearest_grid(wished, design.ratio, length, width)
    return _capped(design, fmt, length, width, most_m2)


def _capped(design: Design, fmt: Format, length: float, width: float, most_m2: float) -> SizedGrid | None:
    """The nearest one no larger than it may be; rounding up to whole metres is allowed where nothing else is large enough."""
    least = design.tightest_area_m2(fmt)
    if least > most_m2:
        return None
    rounded = nearest_grid(most_m2, design.ratio, length, width)
    grid, wished = rounded, most_m2
    while grid is not None and grid.area_m2 > most_m2 + 1e-9 and wished > least:
        wished *= 0.98
        grid = nearest_grid(wished, design.ratio, length, width)
    return grid if grid is not None and grid.area_m2 >= least - 1e-9 else rounded
