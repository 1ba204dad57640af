"""A helper without an account: let in by the coach's number, and what their phone may write of a session."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from club import actions as club
from club.actions import action, lock_row
from club.actor import NOBODY
from sessions.actions.delivery import EventOutcome, EventWriter, skew_ms, take_all
from sessions.models import TrainingSession
from sessions.planning.fold import Event
from sessions.planning.fold.bodies import Body, UndoneBody
from sessions.queries import helping

MOST_BY_HELPERS = 2000  # of one session: every clock of an evening, many times over


@dataclass(frozen=True)
class LetIn:
    """What became of a number: the pass where it was right; no pass, and whether there were too many wrong ones."""

    pass_: str = ""
    too_often: bool = False


def let_in(*, session: TrainingSession, number: str, address: str) -> LetIn:
    """Judge a number that somebody typed at this address of the network. Guesses are counted by code and by address."""
    names = (f"helper's number {session.public_id}", f"helper's number from {address}")
    found = club.guess(counted_by=names, is_right=lambda: helping.is_number(session, number))
    return LetIn(helping.new_pass(session) if found == "right" else "", found == "too often")


@action
def another_number(*, session: TrainingSession) -> TrainingSession:
    """Make another number: the one before, and phones that came in by it, open nothing from now on."""
    row = lock_row(TrainingSession, session.pk)
    row.helper_turn += 1
    row.save(update_fields=["helper_turn"])
    return row


@action
def append_as_helper(
    *,
    session: TrainingSession,
    phone: str,
    events: Sequence[Mapping[str, Any]],
    phone_now: Any = None,
) -> list[EventOutcome]:
    """Append what a helper's phone sends, written by nobody: `phone` is the name of its pass, not what it says of itself.

    It runs the clock, counts heads and undoes what it sent itself; everything else is refused, one by one.
    """
    locked = lock_row(TrainingSession, session.pk)
    return take_all(_HelperWriter(locked, phone, skew_ms(phone_now)), events)


class _HelperWriter(EventWriter):
    def __init__(self, session: TrainingSession, phone: str, skew: int) -> None:
        super().__init__(NOBODY, session, f"helper {phone}", skew)
        self.sent = helping.sent_by_helpers(session)

    def not_theirs(self, event: Event, body: Body | None) -> str:
        if body is None or event.kind not in helping.HELPERS_SEND:
            return _("A helper's phone runs the clock and counts heads. The rest is for the coach.")
        if event.at - timedelta(milliseconds=self.skew_ms) > helping.open_until(self.session):
            return _("That was after the helper's number had ended.")
        if len(self.sent) >= MOST_BY_HELPERS:
            return _("Helpers' phones have sent enough for one session.")
        if isinstance(body, UndoneBody) and self.sent.get(body.event) != self.device:
            return _("A helper undoes only what this phone did.")
        return ""

    def _append(self, event: Event, event_id: UUID, digest: str) -> None:
        super()._append(event, event_id, digest)
        self.sent[event.id] = self.device
