"""The room that players have in their matches, by the pitch rows in force at the club: what Fit and the search count with."""

from typing import Any

from club import queries as club
from drills.game.evening import PlayerAges, players_of
from drills.game.fit.rules import side_of
from drills.game.pitches import areas_of_our_own


def our_match_areas() -> dict[int, float]:
    """m² per player by players a side, of the formats whose row in force is not the published one. No query of its own."""
    return areas_of_our_own(club.match_areas())


def players_of_group(group: Any) -> PlayerAges:
    """The players of an age group: its ages, its own stored format, and the room of its match pitch as it is in force."""
    side = side_of(group.a_side)
    return players_of(group.ages, group.a_side, None if side is None else our_match_areas().get(side))
