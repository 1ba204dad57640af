"""A proposal is worked out beside the pages, by whoever's turn it is."""

import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from django.db import connection
from django.utils import timezone

from club import queries as club
from club.actions import action, lock_rows
from club.actions.jobs import MOST_TRIES
from sessions.choices import ComputationState
from sessions.models import Computation
from sessions.planning.assemble import Progress, Proposal, assemble, unfinished
from sessions.proposals.actions.asking import call_off, is_heard_of
from sessions.proposals.queries import (
    BUDGET_S,
    Shelf,
    in_turn,
    kept_answer,
    request_of,
    runs_of,
    with_set_up,
)
from sessions.proposals.wish import wish_from
from sessions.queries.rows import session_by_id

HEARD_EVERY_S = 0.4


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
    if own is not None and own.state == ComputationState.WORKING and not is_heard_of(own):
        own.state = ComputationState.WAITING
        own.save(update_fields=["state"])
    # Waiting for a row that somebody holds, never past it: a turn that found nothing would leave it without one.
    while row := in_turn().select_for_update(of=("self",), no_key=True).first():
        if row.wants_stop:
            call_off(row)
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
        ages=group.ages.unders,
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
        proposal = Proposal(
            reasons=unfinished(None, None)
        )  # among what was fitted by then: that proves nothing
    elif _is_impossible(proposal):
        # What does not run tonight is looked at as well: it tells which limit stands in the way.
        offers = shelf.all()
        proposal = assemble(request, offers, seconds=max(0.0, desk.left_s), watch=watch)
    answer = kept_answer(proposal, request, offers, runs_of(shelf.actor, proposal))
    return {
        **with_set_up(answer, wish, group, shelf.session, shelf.actor),
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
