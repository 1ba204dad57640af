"""A session for other players, another place or another week: each part fitted anew, with the list of what changed."""

from sessions.planning.refit.carry import carry
from sessions.planning.refit.harder import HarderStep, one_harder
from sessions.planning.refit.model import Fitted, PlayedStation, Refit, StationToReuse, Target
from sessions.planning.refit.rungs import one_up
from sessions.planning.refit.told import of_age

__all__ = [
    "Fitted",
    "HarderStep",
    "PlayedStation",
    "Refit",
    "StationToReuse",
    "Target",
    "carry",
    "of_age",
    "one_harder",
    "one_up",
]
