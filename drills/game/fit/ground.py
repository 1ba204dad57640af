"""Where a grid lies: the nearest grid to the design's area and shape in what is free, for every way of laying it."""

from __future__ import annotations

from dataclasses import dataclass

from drills.game.design import Design
from drills.game.fit.weights import Weights
from drills.game.format import Format
from drills.game.space import SHAPE_WEIGHT, Grid, Place, grid_off, nearest_grid


@dataclass(frozen=True, slots=True)
class Ground:
    """A grid in its place, with what it adds to the distance."""

    grid: Grid
    place: Place
    strip_m: float
    space: float  # term: area per counted player
    shape: float  # term: ratio of the sides

    @property
    def far(self) -> float:
        return self.space + self.shape


def lay(design: Design, fmt: Format, place: Place, weights: Weights) -> Ground | None:
    """The best grid for these numbers in this place; None when none is big enough."""
    edges = design.edges(fmt)
    length, width = place.inside(edges)
    if length < 1 or width < 1:
        return None
    grid = _grid(design, fmt, length, width)
    if grid is None or grid.area_m2 < design.tightest_area_m2(fmt) - 1e-9:
        return None
    area_off, shape_off = grid_off(grid.length_m, grid.width_m, design.wished_area_m2(fmt), design.ratio)
    strip = place.strip_m(grid, edges)
    return Ground(grid, place, strip, weights.space * area_off, weights.space * SHAPE_WEIGHT * shape_off)


def _grid(design: Design, fmt: Format, length: float, width: float) -> Grid | None:
    same_numbers = not design.area_matters or design.counted(fmt) == design.counted(design.format)
    if same_numbers and design.length_m <= length and design.width_m <= width:
        return Grid(design.length_m, design.width_m)
    return nearest_grid(design.wished_area_m2(fmt), design.ratio, length, width)
