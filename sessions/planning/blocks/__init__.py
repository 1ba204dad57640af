"""The director's block: themes for every slot, and cover where a pitch is lost or a coach is away."""

from sessions.planning.blocks.asked import (
    BlockRequest,
    BlockSlot,
    BlockTarget,
    BlockTeam,
    BlockTheme,
    BlockWeights,
    ReadyChoice,
    TaughtSession,
)
from sessions.planning.blocks.block_model import ClashingWish
from sessions.planning.blocks.choices import ThemeCount
from sessions.planning.blocks.cover import CoachAway, CoverPerson, CoverRequest, CoverSession
from sessions.planning.blocks.find_cover import CoverChange, CoverFound, find_cover
from sessions.planning.blocks.ground import ClubGround, GroundSession, LostGround, LostRequest
from sessions.planning.blocks.mend_ground import GroundChange, GroundMended, mend_ground
from sessions.planning.blocks.propose_block import BlockProposal, SlotProposal, propose_block
from sessions.planning.blocks.solving import BlockWatch, Measure

__all__ = [
    "BlockProposal",
    "BlockRequest",
    "BlockSlot",
    "BlockTarget",
    "BlockTeam",
    "BlockTheme",
    "BlockWatch",
    "BlockWeights",
    "ClashingWish",
    "ClubGround",
    "CoachAway",
    "CoverChange",
    "CoverFound",
    "CoverPerson",
    "CoverRequest",
    "CoverSession",
    "GroundChange",
    "GroundMended",
    "GroundSession",
    "LostGround",
    "LostRequest",
    "Measure",
    "ReadyChoice",
    "SlotProposal",
    "TaughtSession",
    "ThemeCount",
    "find_cover",
    "mend_ground",
    "propose_block",
]
