"""Assemble a session out of a library under limits: the best one, proven, or the limits that clash."""

from sessions.planning.assemble.answer import Proposal, ProposedPart, Session
from sessions.planning.assemble.apart import apart
from sessions.planning.assemble.explain import unfinished
from sessions.planning.assemble.library import Apart, Offer, Way
from sessions.planning.assemble.propose import assemble
from sessions.planning.assemble.request import PartWish, Pin, Request, Weights
from sessions.planning.assemble.solve import Progress

__all__ = [
    "Apart",
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
    "apart",
    "assemble",
    "unfinished",
]
