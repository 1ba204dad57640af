"""A proposal of a session's parts: asked for, worked out beside the pages, stopped, and taken over."""

import hashlib
import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any

import msgspec
from django.db import IntegrityError, connection
from django.db.models import Q
from django.utils import timezone
from procrastinate.contrib.django import app

from club import queries as club
from club.actions import action
from club.actor import Actor
from club.errors import Refused
from sessions.choices import WORKING, ComputationState
from sessions.models import Computation, TrainingSession
from sessions.planning.assemble import Progress, Proposal, assemble
from sessions.queries.proposing import (
    Shelf,
    Wish,
    as_plain,
    kept_answer,
    proposal_weights,
    request_of,
    wish_from,
)
from sessions.queries.rows import session_by_id

TASK, QUEUE = "sessions.work_out_proposal", "solver"
SOLVER_SECONDS = 20.0
MOST_TRIES = 3
QUIET = timedelta(seconds=30)  # a worker that was not heard of for so long has died
LOST = timedelta(minutes=5)
KEPT_FOR = timedelta(days=7)  # as long as an invitation; and for as long as its session is still to come
HEARD_EVERY_S = 0.4


# --- asking and stopping -------------------------------------------------------------------------------------------


def ask_for_proposal(*, actor: Actor, wish: Wish, session: TrainingSession | None = None) -> Computation:
    """Have a proposal worked out. The same wish that is open already is answered with what is under way.

    Somebody's older open one is stopped: there is one at most for each person. Raises Refused.
    """
    problems = wish.problems()
    if problems:
        raise Refused(problems)
    # Frozen with the wish: what is worked out later, or again, is what was asked for.
    wish = msgspec.structs.replace(wish, weights=proposal_weights().words)
    plain = as_plain(wish)
    digest = hashlib.sha256(json.dumps(plain, sort_keys=True).encode()).hexdigest()
    try:
        return _ask(actor, wish, plain, digest, session)
    except IntegrityError:
        # Asked twice at the same moment: the other one stands.
        return Computation.objects.get(owner_id=actor.user_id, state__in=WORKING)


@action
def _ask(
    actor: Actor, wish: Wish, plain: dict[str, Any], digest: str, session: TrainingSession | None
) -> Computation:
    older = Computation.objects.select_for_update().filter(owner_id=actor.user_id, state__in=WORKING).first()
    if older is not None and older.input_hash == digest:
        return older
    if older is not None:
        _cancel(older)
    assert actor.user_id is not None
    made = Computation.objects.create(
        owner_id=actor.user_id,
        age_group_id=wish.age_group_id,
        session=session,
        request=plain,
        input_hash=digest,
    )
    app.configure_task(TASK, queue=QUEUE).defer(computation=str(made.public_id))
    return made


@action
def stop_proposal(*, computation: Computation) -> Computation:
    """End a search: one that waits is off, one that is worked on ends with the best it has found."""
    row = Computation.objects.select_for_update().get(pk=computation.pk)
    if row.state == ComputationState.WORKING and _is_heard_of(row):
        row.wants_stop = True
        row.save(update_fields=["wants_stop"])
    elif row.state in WORKING:
        _cancel(row)
    return row


def _cancel(row: Computation) -> None:
    row.state, row.wants_stop, row.done_at = ComputationState.CANCELLED, True, timezone.now()
    row.save(update_fields=["state", "wants_stop", "done_at"])


def _is_heard_of(row: Computation) -> bool:
    return row.seen_at is not None and timezone.now() - row.seen_at < QUIET


@action
def give_up_lost_proposals() -> int:
    """Say so where a worker died too often or never came: nobody waits without end. The number given up."""
    long_ago = timezone.now() - LOST
    lost = Computation.objects.filter(state=ComputationState.WORKING, seen_at__lt=long_ago)
    return lost.update(state=ComputationState.FAILED, done_at=timezone.now())


@action
def sweep_proposals() -> int:
    """Throw away proposals that nobody needs any more: answered long ago, their evening over. The number thrown away."""
    old = Computation.objects.exclude(state__in=WORKING).filter(made_at__lt=timezone.now() - KEPT_FOR)
    over = old.filter(Q(session__isnull=True) | Q(session__day__lt=club.today()))
    return over.delete()[0]


# --- working it out ------------------------------------------------------------------------------------------------


@dataclass
class _Desk:
    """What the computation and the thread that keeps its row up to date tell each other."""

    progress: dict[str, Any] = field(default_factory=dict)
    stop: bool = False


def work_out_proposal(*, public_id: str) -> str:
    """Work out what was asked; running it again changes nothing once there is an answer. The state it ends in."""
    row = _begin(public_id)
    if row is None:
        return "nothing to do"
    desk = _Desk()
    with _kept_up_to_date(row, desk):
        answer = _answer(row, desk)
    return _finish(row, answer)


@action
def _begin(public_id: str) -> Computation | None:
    """Take it in hand, unless it is final or a living worker has it."""
    row = Computation.objects.select_for_update().filter(public_id=public_id, state__in=WORKING).first()
    if row is None or (row.state == ComputationState.WORKING and _is_heard_of(row)):
        return None
    if row.wants_stop:
        _cancel(row)
        return None
    row.tries += 1
    row.state = ComputationState.FAILED if row.tries > MOST_TRIES else ComputationState.WORKING
    row.seen_at = timezone.now()
    row.save(update_fields=["tries", "state", "seen_at"])
    return row if row.state == ComputationState.WORKING else None


def _answer(row: Computation, desk: _Desk) -> dict[str, Any]:
    began = timezone.now()
    wish = wish_from(row.request)
    group = row.age_group
    shelf = Shelf(
        actor=club.actor_of(row.owner),
        wish=wish,
        ages=(group.age_low, group.age_high),
        session=session_by_id(row.session.public_id) if row.session else None,
    )

    def going_on(done: int, all_: int) -> bool:
        desk.progress = {"fitted": done, "of": all_}
        return not desk.stop

    offers = shelf.fitted(going_on)
    request = request_of(wish, shelf.kept)

    def watch(found: Progress) -> bool:
        if found.choice:
            parts = [{"title": offers[o.offer].title, "minutes": o.minutes} for o in found.choice]
            desk.progress = {"so_far": parts}
        return not desk.stop

    proposal = assemble(request, offers, seconds=SOLVER_SECONDS, watch=watch)
    if _is_impossible(proposal):
        # What does not run tonight is looked at as well: it tells which limit stands in the way.
        offers = shelf.all()
        proposal = assemble(request, offers, seconds=SOLVER_SECONDS, watch=watch)
    return {
        **kept_answer(proposal, request, offers),
        "drills": shelf.looked_at,
        "left_out": shelf.left_out,
        "stopped": desk.stop,
        "seconds": round((timezone.now() - began).total_seconds(), 1),
    }


def _is_impossible(proposal: Proposal) -> bool:
    return proposal.session is None and proposal.proven


def _finish(row: Computation, answer: dict[str, Any]) -> str:
    """Write the answer down, unless somebody else took the row over or called it off in the meantime."""
    mine = Computation.objects.filter(pk=row.pk, tries=row.tries, state=ComputationState.WORKING)
    state = ComputationState.DONE
    now = timezone.now()
    return state if mine.update(state=state, result=answer, progress={}, done_at=now, seen_at=now) else "lost"


@contextmanager
def _kept_up_to_date(row: Computation, desk: _Desk) -> Iterator[None]:
    """Beside the computation: write down that it lives and how far it is, and hear when it is to stop."""
    over = threading.Event()

    def keep() -> None:
        try:
            while not over.wait(HEARD_EVERY_S):
                mine = Computation.objects.filter(pk=row.pk, tries=row.tries, state=ComputationState.WORKING)
                if mine.update(seen_at=timezone.now(), progress=desk.progress):
                    desk.stop = mine.filter(wants_stop=True).exists()
                else:
                    # Called off, or another worker has it. A row that isn't there at all is no reason to stop: it
                    # may not be committed yet, and an answer that finds no row is written nowhere.
                    desk.stop = Computation.objects.filter(pk=row.pk).exists()
        finally:
            connection.close()

    keeper = threading.Thread(target=keep, daemon=True)
    keeper.start()
    try:
        yield
    finally:
        over.set()
        keeper.join()
