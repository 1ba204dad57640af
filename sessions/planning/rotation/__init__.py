"""Rotation: every team, or every player where numbers are odd, through inside, outside and rest."""

from sessions.planning.rotation.people import rotate_people
from sessions.planning.rotation.players import rotate_players
from sessions.planning.rotation.teams import rotate_teams
from sessions.planning.rotation.tonight import (
    InBib,
    PeopleBout,
    PeopleRotation,
    RotationLimits,
    Shares,
    TeamPlaces,
)
from sessions.planning.rotation.winner import next_game

__all__ = [
    "InBib",
    "PeopleBout",
    "PeopleRotation",
    "RotationLimits",
    "Shares",
    "TeamPlaces",
    "next_game",
    "rotate_people",
    "rotate_players",
    "rotate_teams",
]
