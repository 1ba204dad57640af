"""Ink on paper: the SVG means that every picture of the library is drawn with.

Lengths here are units of the picture (the numbers of its view box), never metres. Nothing carries a style attribute or
a style sheet, so that a picture is allowed under a strict content policy: colours are presentation attributes, which
a page may override by class. The same calls give the same bytes.
"""

from drills.drawing.paper.elements import (
    BASELINE,
    FONT,
    INK,
    PAPER,
    SOFT_INK,
    SQUARE,
    SQUARE_5,
    SVG_NAMESPACE,
    Element,
    Markup,
    Value,
    el,
    escaped,
    fmt,
    group,
    on_paper,
    path,
    picture,
    sayable,
    short,
    text_width,
    traced,
    words,
    write,
)
from drills.drawing.paper.lines import arrowhead, dimension, hatch, squared
from drills.drawing.paper.nested import placed, size_of

__all__ = [
    "BASELINE",
    "FONT",
    "INK",
    "PAPER",
    "SOFT_INK",
    "SQUARE",
    "SQUARE_5",
    "SVG_NAMESPACE",
    "Element",
    "Markup",
    "Value",
    "arrowhead",
    "dimension",
    "el",
    "escaped",
    "fmt",
    "group",
    "hatch",
    "on_paper",
    "path",
    "picture",
    "placed",
    "sayable",
    "short",
    "size_of",
    "squared",
    "text_width",
    "traced",
    "words",
    "write",
]
