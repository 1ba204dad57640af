"""Assemble a session out of a library under limits: the best one, proven, or the limits that clash."""

from sessions.planning.assemble.answer import AssembledSession, Proposal, ProposedPart
from sessions.planning.assemble.apart import apart
from sessions.planning.assemble.explain import unfinished
from sessions.planning.assemble.library import Apart, Offer, Way
from sessions.planning.assemble.propose import assemble
from sessions.planning.assemble.request import PartWish, Pin, Request, WishWeights
from sessions.planning.assemble.solve import Progress

__all__ = [
    "Apart",
    "AssembledSession",
    "Offer",
    "PartWish",
    "Pin",
    "Progress",
    "Proposal",
    "ProposedPart",
    "Request",
    "Way",
    "WishWeights",
    "apart",
    "assemble",
    "unfinished",
]
