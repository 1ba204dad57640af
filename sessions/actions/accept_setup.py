"""A set-up accepted, or dropped, away from the pitch; while an evening is recorded phones hear of it."""

import uuid
from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Any

from django.utils import timezone
from django.utils.translation import gettext as _

from club.actions import action
from club.actor import Actor
from club.errors import Refused
from drills.game.evening import Evening
from drills.game.fit import serialize
from sessions.actions.booking import lock
from sessions.actions.delivery import append_events
from sessions.actions.projections import event_of
from sessions.actions.setups import RUNGS, put_setup
from sessions.choices import STILL_TO_COME
from sessions.models import DeliveryEvent, Station, TrainingSession
from sessions.queries.pitch import ACCEPTED, HEADLINE

DESK = "session page"
# What decides how a part is set up; the last one counts.
SETTING_UP = (ACCEPTED, *RUNGS, "part_swapped")


@action
def accept_setup(
    *,
    actor: Actor,
    session: TrainingSession,
    version: int,
    station: Station,
    evening: Evening,
    numbers: str,
    grids: int,
    told: bool = True,
) -> Station:
    """Keep one of the fits for tonight, with the evening it answers. It is worked out again here, never trusted.

    While an evening is being recorded it is an event as well, later than any other: the last set-up that was accepted
    counts. Not `told` is for a phone, which says so itself, with or without signal. Raises Stale, and Refused for what
    does not work (any more) or a session that is not to come.
    """
    locked = _lock_to_come(session, version)
    recorded = not told or locked.last_seq > 0
    if not put_setup(station, evening, numbers=numbers, grids=grids, at_the_pitch=recorded):
        raise Refused(_("This set-up doesn't work for these numbers any more. Choose again."), "numbers")
    locked.save(update_fields=["version"])
    if told and locked.last_seq:
        tell_phones(actor=actor, session=locked, device=DESK, stations=[station])
    return station


@action
def drop_setup(*, actor: Actor, session: TrainingSession, version: int, station: Station) -> Station:
    """Back to the drill as it is written; what phones accepted for it did not happen. Raises Stale, and Refused once it is over."""
    locked = _lock_to_come(session, version)
    station.setup = station.evening = station.before = None
    station.save(update_fields=["setup", "evening", "before"])
    locked.save(update_fields=["version"])
    standing = _accepted_for(locked, station)
    if standing:
        at = _after_all_others(locked).isoformat()
        events = [
            {"id": str(uuid.uuid4()), "kind": "undone", "at": at, "event": str(each.event_id)}
            for each in standing
        ]
        append_events(actor=actor, session=locked, device=DESK, events=events)
    return station


def _lock_to_come(session: TrainingSession, version: int) -> TrainingSession:
    locked = lock(session, version)
    if locked.state not in STILL_TO_COME:
        raise Refused(_("This session has taken place."))
    return locked


def _accepted_for(session: TrainingSession, station: Station) -> list[DeliveryEvent]:
    """The events by which a station is set up and that nobody took back. One query, or none before anything is recorded."""
    if not session.last_seq:
        return []
    names = {str(station.public_id)} | ({None} if station.position == 0 else set())
    undone = set(session.delivery.get("undone", []))
    found = DeliveryEvent.objects.filter(
        session=session, kind=ACCEPTED, body__part=str(station.part.public_id)
    )
    return [each for each in found if each.body.get("station") in names and str(each.event_id) not in undone]


def tell_phones(*, actor: Actor, session: TrainingSession, device: str, stations: Iterable[Station]) -> None:
    """Append what these stations were just set up as, as phones accept it. The caller holds the session."""
    at = _after_all_others(session)
    append_events(
        actor=actor, session=session, device=device, events=[_event(each, at=at) for each in stations]
    )


def _event(station: Station, *, at: datetime) -> dict[str, Any]:
    """A part's own set-up and variation are those of its first station; the others are named."""
    assert station.setup is not None
    found = serialize.from_plain(station.setup).setup
    headline = {name: getattr(found, name) for name in HEADLINE}
    first = {"rung": station.variation_key} if station.position == 0 else {"station": str(station.public_id)}
    return {
        "id": str(uuid.uuid4()),
        "kind": ACCEPTED,
        "at": at.isoformat(),
        "part": str(station.part.public_id),
        "setup": {**headline, "kept": station.setup},
        **first,
    }


def _after_all_others(session: TrainingSession) -> datetime:
    """Now, or just after the last event that sets a part up, put right by its phone's clock. One query.

    In whole milliseconds, as phones count them: within one of them the ids would decide.
    """
    others = DeliveryEvent.objects.filter(session=session, kind__in=SETTING_UP)
    last = max((event_of(each).corrected_at for each in others), default=None)
    now = timezone.now()
    found = now if last is None else max(now, last + timedelta(milliseconds=1))
    return found.replace(microsecond=found.microsecond // 1000 * 1000)
