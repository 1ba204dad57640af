"""Bib colours: the words for them, which a text speaks of, a document in other colours, and what is worn tonight."""

from drills.game.bibs.recoloured import in_colours
from drills.game.bibs.tonight import (
    NO_BIB,
    RESTING,
    Wear,
    bibs_for,
    bibs_in,
    colours_worn,
    free_colour,
    rests_as_team,
)
from drills.game.bibs.words import COLOURS, Spoken, colours_in, recoloured

__all__ = [
    "COLOURS",
    "NO_BIB",
    "RESTING",
    "Spoken",
    "Wear",
    "bibs_for",
    "bibs_in",
    "colours_in",
    "colours_worn",
    "free_colour",
    "in_colours",
    "recoloured",
    "rests_as_team",
]
