"""Fit: the set-ups that work with tonight's turn-out, nearest to the design first."""

from drills.game.fit.answer import MOST_ANSWERS, explain_none, first_answers, fit, fit_on
from drills.game.fit.holding import OTHER_RUNG, why_not_on
from drills.game.fit.setup import SetUp
from drills.game.fit.weights import DEFAULT_WEIGHTS, DistanceWeights, terms

__all__ = [
    "DEFAULT_WEIGHTS",
    "MOST_ANSWERS",
    "OTHER_RUNG",
    "DistanceWeights",
    "SetUp",
    "explain_none",
    "first_answers",
    "fit",
    "fit_on",
    "terms",
    "why_not_on",
]
