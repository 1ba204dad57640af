"""Single players through the bouts of a station: who is here, what was worked out, and how it is shown."""

from sessions.queries.turns.asked import Here, here, places_of
from sessions.queries.turns.serialize import (
    MOST_PAIRS,
    PairWish,
    as_data,
    as_rotation,
    kept_turns,
    session_with_turns,
)
from sessions.queries.turns.winners import DRAW, winner_stays

__all__ = [
    "DRAW",
    "MOST_PAIRS",
    "Here",
    "PairWish",
    "as_data",
    "as_rotation",
    "here",
    "kept_turns",
    "places_of",
    "session_with_turns",
    "winner_stays",
]
