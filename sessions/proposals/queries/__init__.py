"""What a session is put together from: the library's offers, the request to the solver, and proposals as rows."""

from sessions.proposals.queries.apart import stations_of
from sessions.proposals.queries.chosen import documents_of, runs_of
from sessions.proposals.queries.offers import Shelf
from sessions.proposals.queries.promised import has_rung, promised, stations_kept
from sessions.proposals.queries.request import kept_answer, request_of, stays
from sessions.proposals.queries.rows import (
    BUDGET_S,
    QueuePlace,
    in_turn,
    is_quiet,
    open_of,
    proposal_by_id,
    proposal_weights,
    session_to_wish,
    turn_of,
)
from sessions.proposals.queries.set_up import with_set_up
from sessions.proposals.queries.tonight import wish_for, wish_for_group

__all__ = [
    "BUDGET_S",
    "QueuePlace",
    "Shelf",
    "documents_of",
    "has_rung",
    "in_turn",
    "is_quiet",
    "kept_answer",
    "open_of",
    "promised",
    "proposal_by_id",
    "proposal_weights",
    "request_of",
    "runs_of",
    "session_to_wish",
    "stations_kept",
    "stations_of",
    "stays",
    "turn_of",
    "wish_for",
    "wish_for_group",
    "with_set_up",
]
