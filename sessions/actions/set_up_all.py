"""All parts set up for tonight in one go: each station with a drill that is still to come gets the answer nearest to its design."""

import uuid
from collections.abc import Iterable
from datetime import datetime, timedelta
from uuid import UUID

from django.utils import timezone

from club.actions import action, lock_row
from club.actor import Actor
from club.errors import Refused
from drills.game.fit import SetUp
from drills.game.fits import fits
from drills.game.format import MOST_PLAYERS
from sessions.actions.booking import lock
from sessions.actions.delivery import append_events
from sessions.actions.projections import event_of
from sessions.actions.setups import put_setup
from sessions.choices import STILL_TO_COME
from sessions.models import DeliveryEvent, TrainingSession
from sessions.queries.pitch import ACCEPTED, HEADLINE
from sessions.queries.rows import session_by_id
from sessions.queries.set_up import ToSetUp, players_tonight, stations_to_set_up

DEVICE = "set up for all"


@action
def set_up_all(
    *,
    actor: Actor,
    session: TrainingSession,
    version: int | None,
    players: int | None = None,
    anew: bool = False,
) -> frozenset[UUID]:
    """Set every part that has not begun up for so many players; the outer ids of the stations that were changed.

    `players` None: who is there by the register, else who is expected. What is set up for as many already stays, unless
    `anew`; where nothing fits, a station keeps what it had (`pages.all_set_up` says why). `version` None is for the pitch,
    where the last word counts and phones send what happens meanwhile. Raises Stale, and Refused for impossible numbers or
    a session that is not to come.
    """
    at_the_pitch = version is None
    if version is None:
        version = lock_row(TrainingSession, session.pk).version
        session = session_by_id(session.public_id) or session
    wanted = players_tonight(session) if players is None else players
    if not 1 <= wanted <= MOST_PLAYERS:
        raise Refused(f"From 1 to {MOST_PLAYERS} players.", "players")
    locked = lock(session, version)
    if locked.state not in STILL_TO_COME:
        raise Refused("This session has taken place.")
    changed = [
        (each, found)
        for each in stations_to_set_up(session, wanted)
        if not each.begun and (anew or not each.holds) and (found := _put(each)) is not None
    ]
    if changed:
        locked.save(update_fields=["version"])
    if changed and (locked.last_seq or at_the_pitch):
        # Phones go by what happened, and the last set-up that was accepted counts: so this is one.
        events = _events(changed, at=_after_all_others(locked))
        append_events(actor=actor, session=locked, device=DEVICE, events=events)
    return frozenset(each.station.public_id for each, _found in changed)


def _put(asked: ToSetUp) -> SetUp | None:
    """Give a station the first answer; None where there is none, and nothing is touched."""
    station = asked.station
    found = fits(asked.drill.document, asked.rung, asked.evening)
    if not found:
        return None
    station.variation_key = asked.rung
    best = found[0]
    return best if put_setup(station, asked.evening, numbers=best.numbers, grids=best.grids) else None


def _after_all_others(session: TrainingSession) -> datetime:
    """Now, or just after the last set-up that was accepted, put right by its phone's clock. One query."""
    accepted = DeliveryEvent.objects.filter(session=session, kind=ACCEPTED)
    last = max((event_of(each).corrected_at for each in accepted), default=None)
    now = timezone.now()
    return now if last is None else max(now, last + timedelta(milliseconds=1))


def _events(changed: Iterable[tuple[ToSetUp, SetUp]], *, at: datetime) -> list[dict[str, object]]:
    """A part's set-up is that of its first station, as a phone accepts it."""
    return [
        {
            "id": str(uuid.uuid4()),
            "kind": ACCEPTED,
            "at": at.isoformat(),
            "part": str(each.part.public_id),
            "setup": {name: getattr(found, name) for name in HEADLINE},
        }
        for each, found in changed
        if each.station.position == 0
    ]
