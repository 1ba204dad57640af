"""Who may do what with which proposal: the row, or a 404 that says nothing about it."""

from uuid import UUID

from club.actor import Actor
from sessions.access import found
from sessions.models import Computation, TrainingSession
from sessions.proposals import queries


def session_to_wish_for(actor: Actor, public_id: UUID | str) -> TrainingSession:
    """A session to be put together, its parts in outline: its planners."""
    return found(
        queries.session_to_wish(public_id, actor.user_id), lambda row: actor.plans_for(row.age_group_id)
    )


def proposal_in(actor: Actor, session: TrainingSession, public_id: UUID | str) -> Computation:
    """A proposal for a session that has been asked for already: whoever plans the session sees what was proposed."""
    return found(
        queries.proposal_by_id(public_id),
        lambda row: row.session_id == session.pk and actor.plans_for(session.age_group_id),
    )


def proposal_for_planning(actor: Actor, public_id: UUID | str) -> Computation:
    """A proposal, with or without a session: its owner and whoever else plans for the age group."""
    return found(
        queries.proposal_by_id(public_id),
        lambda row: row.owner_id == actor.user_id or actor.plans_for(row.age_group_id),
    )
