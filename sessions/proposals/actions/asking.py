"""A proposal of a session's parts: asked for, stopped, given up; and how much each wish counts for the club."""

import contextlib
import hashlib
import json
from datetime import timedelta

import msgspec
from django.db import transaction
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext as _
from procrastinate.contrib.django import app
from procrastinate.exceptions import AlreadyEnqueued

from club import queries as club
from club.actions import action, hold, lock_row, lock_rows
from club.actions.jobs import DEAD_AFTER_S, SOLVER
from club.actor import Actor
from club.errors import Clash, FieldProblem, Refused, Stale
from sessions.choices import WORKING, ComputationState, HowMuch
from sessions.models import Computation, ProposalWeights, TrainingSession
from sessions.proposals.queries import proposal_weights
from sessions.proposals.wish import Wish, as_plain

TASK = "sessions.work_out_proposal"
DEAD_AFTER = timedelta(seconds=DEAD_AFTER_S)
LOST = timedelta(minutes=5)
KEPT_FOR = timedelta(days=7)  # as long as an invitation; and for as long as its session is still to come


@action
def ask_for_proposal(
    *, actor: Actor, wish: Wish, session: TrainingSession | None = None, instead: bool = False
) -> Computation:
    """Have a proposal worked out. The same wish that is open already is answered with what is under way.

    There is one open at most for each person. Raises Clash, which names it, where another is; with `instead` that one is
    stopped. Raises Refused for what can't be asked.
    """
    problems = wish.problems()
    if problems:
        raise Refused(problems)
    # Frozen with the wish: what is worked out later, or again, is what was asked for.
    wish = msgspec.structs.replace(wish, weights=proposal_weights().words)
    plain = as_plain(wish)
    digest = hashlib.sha256(json.dumps(plain, sort_keys=True).encode()).hexdigest()
    assert actor.user_id is not None
    older = _open_of(actor.user_id)
    if older is not None:
        if older.input_hash == digest and older.session_id == (session.pk if session else None):
            return older
        if not instead:
            words = _("You have another suggestion open. Stop it, or look at it first.")
            raise Clash(words, other=str(older.public_id))
        call_off(older)
    made = Computation.objects.create(
        owner_id=actor.user_id,
        age_group_id=wish.age_group_id,
        session=session,
        request=plain,
        input_hash=digest,
    )
    app.configure_task(TASK, queue=SOLVER).defer(computation=str(made.public_id))
    return made


def _open_of(user_id: int) -> Computation | None:
    """What somebody has open, held; two askings of one person go one after the other."""
    hold(user_ids=[user_id])
    mine = lock_rows(Computation.objects.filter(owner_id=user_id, state__in=WORKING))
    return mine[0] if mine else None


@action
def stop_proposal(*, computation: Computation) -> Computation:
    """End a search: one that waits is off, one that is worked on ends with the best it has found."""
    row = lock_row(Computation, computation.pk)
    if row.state == ComputationState.WORKING and is_heard_of(row):
        row.wants_stop = True
        row.save(update_fields=["wants_stop"])
    elif row.state in WORKING:
        call_off(row)
    return row


def call_off(row: Computation) -> None:
    """Nobody wants it any more."""
    row.state, row.wants_stop, row.done_at = ComputationState.CANCELLED, True, timezone.now()
    row.save(update_fields=["state", "wants_stop", "done_at"])


def is_heard_of(row: Computation) -> bool:
    """Whether somebody works on it."""
    return row.seen_at is not None and timezone.now() - row.seen_at < DEAD_AFTER


@action
def give_up_lost_proposals() -> int:
    """Say so where a worker died too often or never came: nobody waits without end. The number given up."""
    long_ago = timezone.now() - LOST
    lost = Computation.objects.filter(state=ComputationState.WORKING, seen_at__lt=long_ago)
    return lost.update(state=ComputationState.FAILED, done_at=timezone.now())


@action
def bring_back_turns() -> int:
    """A turn for each that has waited long while nobody works: its job may have failed. One at most for each to come.

    Answers how many were brought back.
    """
    now = timezone.now()
    if Computation.objects.filter(seen_at__gt=now - DEAD_AFTER).exists():
        return 0  # it goes on; whoever waits has a turn to come, or is found the next time
    brought = 0
    for row in Computation.objects.filter(state=ComputationState.WAITING, made_at__lt=now - LOST):
        key = str(row.public_id)
        with contextlib.suppress(AlreadyEnqueued), transaction.atomic():
            app.configure_task(TASK, queue=SOLVER, queueing_lock=f"again {key}").defer(computation=key)
            brought += 1
    return brought


@action
def sweep_proposals() -> int:
    """Throw away proposals that nobody needs any more: answered long ago, their evening over. The number thrown away."""
    old = Computation.objects.exclude(state__in=WORKING).filter(made_at__lt=timezone.now() - KEPT_FOR)
    over = old.filter(Q(session__isnull=True) | Q(session__day__lt=club.today()))
    return over.delete()[0]


@action
def weigh_proposals(*, version: int, **words: str) -> ProposalWeights:
    """Say how much some wishes count; the others stay as they are. Proposals that were made stay too.

    Raises Stale when somebody saved before, and Refused for a word or a wish that there is not.
    """
    ProposalWeights.objects.get_or_create(id=1)
    row = lock_row(ProposalWeights, 1)
    if row.version != version:
        raise Stale(theirs=row, version=row.version)
    problems = [
        FieldProblem(name, _("One of {n}.").format(n=", ".join(HowMuch.values)))
        for name, word in words.items()
        if name not in ProposalWeights.WISHES or word not in HowMuch.values
    ]
    if problems:
        raise Refused(problems)
    for name, word in words.items():
        setattr(row, name, word)
    row.version += 1
    row.save()
    return row
