"""What a session is put together from and for: the wish, the library's offers, and the answer as plain data."""

from sessions.queries.proposing.kept import kept_answer, reason_from, stays
from sessions.queries.proposing.offers import Shelf
from sessions.queries.proposing.request import request_of
from sessions.queries.proposing.rows import (
    BUDGET_S,
    Turn,
    in_turn,
    is_open,
    is_quiet,
    open_of,
    proposal_by_id,
    session_to_wish,
    turn_of,
)
from sessions.queries.proposing.shown import ProposalShown, proposal_shown
from sessions.queries.proposing.tonight import headers_left, wish_for, wish_for_group
from sessions.queries.proposing.weights import proposal_weights
from sessions.queries.proposing.wish import KeptPart, Wish, WishedPart, as_plain, wish_from

__all__ = [
    "BUDGET_S",
    "KeptPart",
    "ProposalShown",
    "Shelf",
    "Turn",
    "Wish",
    "WishedPart",
    "as_plain",
    "headers_left",
    "in_turn",
    "is_open",
    "is_quiet",
    "kept_answer",
    "open_of",
    "proposal_by_id",
    "proposal_shown",
    "proposal_weights",
    "reason_from",
    "request_of",
    "session_to_wish",
    "stays",
    "turn_of",
    "wish_for",
    "wish_for_group",
    "wish_from",
]
