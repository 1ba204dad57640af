"""The printed sheet of a session: values in, a PDF out. Pure: no Django, no database, no clock, no network."""

from sessions.sheet.content import Ask, Ladder, Part, Picture, Sheet, Start, Station, Team, Turn
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
    "Ask",
    "BoutOnPaper",
    "Hand",
    "Ladder",
    "NotTypeset",
    "Part",
    "Picture",
    "PlayerOnPaper",
    "Sheet",
    "Start",
    "Station",
    "Team",
    "Turn",
    "TurnsSheet",
    "digest",
    "pdf",
    "png",
    "turns_digest",
    "turns_pdf",
    "turns_png",
]
