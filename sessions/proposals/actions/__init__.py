"""Asking for a proposal, working it out, taking it over, and how much each wish counts."""

from sessions.proposals.actions.applying import apply_proposal
from sessions.proposals.actions.asking import (
    ask_for_proposal,
    bring_back_turns,
    give_up_lost_proposals,
    stop_proposal,
    sweep_proposals,
    weigh_proposals,
)
from sessions.proposals.actions.solving import work_out_proposal

__all__ = [
    "apply_proposal",
    "ask_for_proposal",
    "bring_back_turns",
    "give_up_lost_proposals",
    "stop_proposal",
    "sweep_proposals",
    "weigh_proposals",
    "work_out_proposal",
]
