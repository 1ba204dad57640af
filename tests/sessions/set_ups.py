"""What a station keeps, as the app reads it."""

from typing import Any

from drills.game.fit import SetUp
from sessions.bridge import setup_kept


def setup_of(station: Any) -> SetUp:
    """The set-up that was accepted for a station."""
    kept = setup_kept(station)
    assert kept is not None
    return kept.setup
