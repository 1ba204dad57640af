"""The printed sheet of a session: values in, a PDF out. Pure: no Django, no database, no clock, no network."""

from sessions.sheet.content import (
    CoachingQuestion,
    IfTooEasyOrHard,
    Picture,
    Sheet,
    SheetPart,
    SheetStart,
    SheetStation,
    SheetTeam,
    SheetTurn,
)
from sessions.sheet.render import SIZES, digest, pdf, png
from sessions.sheet.turns import (
    BoutOnPaper,
    Hand,
    PlayerOnPaper,
    TurnsSheet,
    turns_digest,
    turns_pdf,
    turns_png,
)
from sessions.sheet.typeset import NotTypeset

__all__ = [
    "SIZES",
    "BoutOnPaper",
    "CoachingQuestion",
    "Hand",
    "IfTooEasyOrHard",
    "NotTypeset",
    "Picture",
    "PlayerOnPaper",
    "Sheet",
    "SheetPart",
    "SheetStart",
    "SheetStation",
    "SheetTeam",
    "SheetTurn",
    "TurnsSheet",
    "digest",
    "pdf",
    "png",
    "turns_digest",
    "turns_pdf",
    "turns_png",
]
