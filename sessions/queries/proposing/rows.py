"""Proposals as rows: one by its id, a session with the last one, and how many wait before one."""

from datetime import timedelta
from uuid import UUID

from django.db.models import OuterRef, Subquery
from django.utils import timezone

from sessions.choices import WORKING, ComputationState
from sessions.models import Computation, TrainingSession
from sessions.queries.outline import session_in_one

QUIET = timedelta(seconds=45)


def proposal_by_id(public_id: UUID | str) -> Computation | None:
    """One proposal with its session and age group."""
    found = Computation.objects.select_related("session", "age_group").filter(public_id=public_id)
    return found.first()


def session_to_wish(public_id: UUID | str, owner_id: int | None) -> TrainingSession | None:
    """A session in outline; `last_proposal` is what this person asked for last, unless it was called off. One query."""
    asked = Computation.objects.filter(session=OuterRef("pk"), owner_id=owner_id)
    last = asked.exclude(state=ComputationState.CANCELLED).order_by("-made_at")
    return session_in_one(public_id, last_proposal=Subquery(last.values("public_id")[:1]))


def waiting_before(row: Computation) -> int:
    """How many proposals have their turn before this one."""
    return Computation.objects.filter(state__in=WORKING, made_at__lt=row.made_at).count()


def is_open(row: Computation) -> bool:
    """Whether an answer is still to come."""
    return row.state in WORKING


def is_quiet(row: Computation) -> bool:
    """Whether nobody has been heard of who works on it: the worker has died, or there is none."""
    heard = row.seen_at or row.made_at
    return is_open(row) and timezone.now() - heard > QUIET
