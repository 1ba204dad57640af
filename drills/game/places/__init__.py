"""Who stands where at the start, and where goals, zones and gates lie: what a drill's text and its numbers decide."""

from drills.game.places.described import GOAL_WIDTHS_M, OnGrid, layout_of
from drills.game.places.start import Layout, lay_out

__all__ = ["GOAL_WIDTHS_M", "Layout", "OnGrid", "lay_out", "layout_of"]
