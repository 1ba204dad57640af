"""Lay out grids that are used at the same time on the space that is booked, or prove that they do not fit."""

from sessions.planning.layout.evening import Kept, lay_out_evening
from sessions.planning.layout.ground import Grid, LayOut, Placed, Rectangle, Space
from sessions.planning.layout.place import lay_out

__all__ = [
    "Grid",
    "Kept",
    "LayOut",
    "Placed",
    "Rectangle",
    "Space",
    "lay_out",
    "lay_out_evening",
]
