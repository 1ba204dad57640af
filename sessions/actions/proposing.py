"""A proposal of a session's parts: asked for, worked out beside the pages, stopped, and taken over."""

import contextlib
import hashlib
import json
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any

import msgspec
from django.db import connection, transaction
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext as _
from procrastinate.contrib.django import app
from procrastinate.exceptions import AlreadyEnqueued

from club import queries as club
from club.actions import action, hold, lock_row, lock_rows
from club.actor import Actor
from club.errors import Clash, Refused
from sessions.choices import WORKING, ComputationState
from sessions.models import Computation, TrainingSession
from sessions.planning.assemble import Progress, Proposal, assemble, unfinished
from sessions.queries.proposing import (
    BUDGET_S,
    Shelf,
    Wish,
    as_plain,
    in_turn,
    kept_answer,
    proposal_weights,
    request_of,
    wish_from,
)
from sessions.queries.rows import session_by_id

TASK, QUEUE = "sessions.work_out_proposal", "solver"
MOST_TRIES = 3
QUIET = timedelta(seconds=30)  # a worker that was not heard of for so long has died
LOST = timedelta(minutes=5)
KEPT_FOR = timedelta(days=7)  # as long as an invitation; and for as long as its session is still to come
HEARD_EVERY_S = 0.4


# --- asking and stopping -------------------------------------------------------------------------------------------


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
        _cancel(older)
    made = Computation.objects.create(
        owner_id=actor.user_id,
        age_group_id=wish.age_group_id,
        session=session,
        request=plain,
        input_hash=digest,
    )
    app.configure_task(TASK, queue=QUEUE).defer(computation=str(made.public_id))
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
def bring_back_turns() -> int:
    """A turn for each that has waited long while nobody works: its job may have failed. One at most for each to come.

    Answers how many were brought back.
    """
    now = timezone.now()
    if Computation.objects.filter(seen_at__gt=now - QUIET).exists():
        return 0  # it goes on; whoever waits has a turn to come, or is found the next time
    brought = 0
    for row in Computation.objects.filter(state=ComputationState.WAITING, made_at__lt=now - LOST):
        key = str(row.public_id)
        with contextlib.suppress(AlreadyEnqueued), transaction.atomic():
            app.configure_task(TASK, queue=QUEUE, queueing_lock=f"again {key}").defer(computation=key)
            brought += 1
    return brought


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
    used_before_s: float = 0.0
    began: float = field(default_factory=time.monotonic)

    @property
    def used_s(self) -> float:
        """Seconds that went into the row, with those of workers that died over it."""
        return self.used_before_s + self.spent_s

    @property
    def spent_s(self) -> float:
        """Seconds since this worker began."""
        return time.monotonic() - self.began

    @property
    def goes_on(self) -> bool:
        """Whether anybody still waits for it, and its budget lasts."""
        return not self.stop and self.left_s > 0

    @property
    def left_s(self) -> float:
        return BUDGET_S - self.spent_s


def work_out_proposal(*, public_id: str) -> str:
    """Work out the one whose turn it is; this one's asking brought the turn. The state in which it ends.

    Whoever has used least lately goes first, so that somebody's many heavy ones never hold up a colleague for longer than
    the one that is worked on takes. Running it again changes nothing once there is an answer.
    """
    row = _begin(public_id)
    if row is None:
        return "nothing to do"
    desk = _Desk(used_before_s=row.used_s)
    with _kept_up_to_date(row, desk):
        answer = _answer(row, desk)
    return _finish(row, answer, desk)


@action
def _begin(public_id: str) -> Computation | None:
    """Take the one in hand whose turn it is; None when none waits.

    Each asking puts one job into the queue, which is worth one turn, whoever gets it. A job that comes again after its
    worker died first puts its own row back among those that wait: there are never more of them than jobs.
    """
    own = next(iter(lock_rows(Computation.objects.filter(public_id=public_id))), None)
    if own is not None and own.state == ComputationState.WORKING and not _is_heard_of(own):
        own.state = ComputationState.WAITING
        own.save(update_fields=["state"])
    # Waiting for a row that somebody holds, never past it: a turn that found nothing would leave it without one.
    while row := in_turn().select_for_update(of=("self",), no_key=True).first():
        if row.wants_stop:
            _cancel(row)
            continue
        row.tries += 1
        row.state = ComputationState.FAILED if row.tries > MOST_TRIES else ComputationState.WORKING
        row.seen_at = timezone.now()
        row.save(update_fields=["tries", "state", "seen_at"])
        if row.state == ComputationState.WORKING:
            return row
    return None


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
        return desk.goes_on

    offers = shelf.fitted(going_on)
    request = request_of(wish, shelf.kept)

    def watch(found: Progress) -> bool:
        if found.choice:
            parts = [{"title": offers[o.offer].title, "minutes": o.minutes} for o in found.choice]
            desk.progress = {"so_far": parts}
        return desk.goes_on

    proposal = assemble(request, offers, seconds=max(0.0, desk.left_s), watch=watch, explained=False)
    if _is_impossible(proposal) and not desk.goes_on:
        proposal = Proposal(reasons=unfinished(None))  # among what was fitted by then: that proves nothing
    elif _is_impossible(proposal):
        # What does not run tonight is looked at as well: it tells which limit stands in the way.
        offers = shelf.all()
        proposal = assemble(request, offers, seconds=max(0.0, desk.left_s), watch=watch)
    return {
        **kept_answer(proposal, request, offers),
        "drills": shelf.looked_at,
        "left_out": shelf.left_out,
        "stopped": desk.stop,
        "seconds": round((timezone.now() - began).total_seconds(), 1),
    }


def _is_impossible(proposal: Proposal) -> bool:
    return proposal.session is None and proposal.proven


def _finish(row: Computation, answer: dict[str, Any], desk: _Desk) -> str:
    """Write the answer down, unless somebody else took the row over or called it off in the meantime."""
    # What was used counts either way: stopping and asking again earns no turn.
    Computation.objects.filter(pk=row.pk, tries=row.tries).update(used_s=desk.used_s)
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
                if mine.update(seen_at=timezone.now(), progress=desk.progress, used_s=desk.used_s):
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
