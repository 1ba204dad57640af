"""Lay out grids that are used at the same time on the ground that is booked, or prove that they do not fit."""

from sessions.planning.layout.drill import grids_of
from sessions.planning.layout.evening import KeptLayout, lay_out_evening
from sessions.planning.layout.ground import GridToLay, LayOut, Placed, Rectangle
from sessions.planning.layout.margins import Margins
from sessions.planning.layout.place import lay_out

__all__ = [
    "GridToLay",
    "KeptLayout",
    "LayOut",
    "Margins",
    "Placed",
    "Rectangle",
    "grids_of",
    "lay_out",
    "lay_out_evening",
]
