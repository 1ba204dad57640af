"""Bib colours: the paint, the ink that is read on it, and the hatch that stands for it in print.

The hatches are those that heralds have used for colours in black and white since the seventeenth century (upright lines
red, level lines blue, falling lines green, rising lines purple, both for black, dots for gold): common practice.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

DARK = "#1d1b16"
LIGHT = "#ffffff"


@dataclass(frozen=True)
class Bib:
    """A colour word with its paint and the ink that is read on it."""

    word: str
    paint: str
    ink: str


BIBS = {
    each.word: each
    for each in (
        Bib("red", "#c8202f", LIGHT),
        Bib("blue", "#1f5fbf", LIGHT),
        Bib("yellow", "#f2cf1d", DARK),
        Bib("green", "#1f7a3d", LIGHT),
        Bib("orange", "#e8760c", DARK),
        Bib("white", "#ffffff", DARK),
        Bib("black", "#26262a", LIGHT),
        Bib("pink", "#e58ab4", DARK),
        Bib("purple", "#6c3f9e", LIGHT),
        Bib("grey", "#8d8d8d", DARK),
        Bib("light blue", "#93c6e6", DARK),
    )
}
NO_BIB = Bib("none", "#d9d4c6", DARK)

# width, height and marks of one tile
HATCHES: dict[str, tuple[float, float, str]] = {
    "red": (3, 3, "M1.5 0V3"),
    "blue": (3, 3, "M0 1.5H3"),
    "green": (4, 4, "M-1 -1L5 5M-1 3L1 5M3 -1L5 1"),
    "purple": (4, 4, "M-1 5L5 -1M-1 1L1 -1M3 5L5 3"),
    "black": (3, 3, "M1.5 0V3M0 1.5H3"),
    "yellow": (4, 4, "M.5 1H1.5M2.5 3H3.5"),
    "orange": (5, 4, "M1 0V4M3 2H4"),
    "pink": (5, 5, "M2.5 0V5"),
    "grey": (5, 5, "M0 2.5H5"),
    "light blue": (5, 5, "M0 1H5M2 3.5H3"),
    "white": (4, 4, ""),
    "none": (4, 4, ""),
}


@lru_cache(maxsize=256)
def bib_of(word: str) -> Bib:
    """The bib of a colour word; one without colour for a word that is not known."""
    return BIBS.get(" ".join(word.lower().split()), NO_BIB)


@lru_cache(maxsize=256)
def slug(word: str) -> str:
    """The end of a class name or id for a colour word."""
    return bib_of(word).word.replace(" ", "-")
