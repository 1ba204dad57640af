"""Single players through the bouts of a station: who is here, what was worked out, and how it is shown."""

from sessions.queries.turns.asked import Here, Places, here, places_of
from sessions.queries.turns.kept import (
    MOST_PAIRS,
    PairWish,
    as_data,
    as_rotation,
    kept_pairs,
    kept_turns,
    session_with_turns,
)
from sessions.queries.turns.page import TurnsPage, turns_page
from sessions.queries.turns.paper import turns_sheet
from sessions.queries.turns.winners import DRAW, WinnerStays, winner_stays

__all__ = [
    "DRAW",
    "MOST_PAIRS",
    "Here",
    "PairWish",
    "Places",
    "TurnsPage",
    "WinnerStays",
    "as_data",
    "as_rotation",
    "here",
    "kept_pairs",
    "kept_turns",
    "places_of",
    "session_with_turns",
    "turns_page",
    "turns_sheet",
    "winner_stays",
]
