"""Assemble a session out of a library under limits: the best one, proven, or the limits that clash."""

from sessions.planning.assemble.answer import Proposal, ProposedPart, Session
from sessions.planning.assemble.library import Offer, Way
from sessions.planning.assemble.propose import assemble
from sessions.planning.assemble.request import PartWish, Pin, Request, Weights
from sessions.planning.assemble.solve import Progress

__all__ = [
    "Offer",
    "PartWish",
    "Pin",
    "Progress",
    "Proposal",
    "ProposedPart",
    "Request",
    "Session",
    "Way",
    "Weights",
    "assemble",
]
