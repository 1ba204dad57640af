"""Who stands where at the start, and where goals, zones and gates lie: what a drill's text and its numbers decide."""

from drills.game.places.described import GOAL_WIDTHS_M, Tonights, bib_words, layout_of
from drills.game.places.start import Layout, lay_out

__all__ = ["GOAL_WIDTHS_M", "Layout", "Tonights", "bib_words", "lay_out", "layout_of"]
