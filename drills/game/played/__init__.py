"""A drill as it is run tonight: the one value that pages, pitch, paper and the API read.

`Played` is never stored: it follows from a document, a rung, a set-up and the bibs, and nothing else decides it. Its
`document` is the drill in tonight's numbers and colours, so whatever says or draws a document says and draws tonight's.
"""

from drills.game.played.drill import Played, as_played, bibs_tonight, dressed, is_age_groups
from drills.game.played.grids import GridTonight, GroupTonight

__all__ = ["GridTonight", "GroupTonight", "Played", "as_played", "bibs_tonight", "dressed", "is_age_groups"]
