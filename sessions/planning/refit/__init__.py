"""A session for other players, another place or another week: each part fitted anew, with the list of what changed."""

from sessions.planning.refit.carry import carry
from sessions.planning.refit.model import Carried, Fitted, Refit, Target
from sessions.planning.refit.rungs import one_up

__all__ = ["Carried", "Fitted", "Refit", "Target", "carry", "one_up"]
