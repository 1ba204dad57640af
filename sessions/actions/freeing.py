"""Place and people of a session that is called off at the pitch: given free, and taken back if it is on after all."""

from typing import Any

from django.db import IntegrityError, transaction

from club.actions import hold
from sessions.choices import State
from sessions.models import SessionStaff, SessionZone, TrainingSession


def give_free(session: TrainingSession) -> dict[str, Any]:
    """Let go of every zone and person, as calling off at the desk does; what they were, for `take_back`."""
    held = {
        "zones": list(session.bookings.order_by("pk").values_list("zone_id", flat=True)),
        "staff": [list(row) for row in session.staff.order_by("pk").values_list("user_id", "part")],
    }
    session.bookings.all().delete()
    session.staff.all().delete()
    return held


def take_back(session: TrainingSession, held: dict[str, Any]) -> None:
    """Book again what nobody else has taken since; the rest stays with whoever has it now."""
    period = session.period
    hold(zone_ids=held["zones"], user_ids=[user for user, _part in held["staff"]])
    zones = [SessionZone(session=session, zone_id=zone, period=period) for zone in held["zones"]]
    staff = [
        SessionStaff(session=session, user_id=user, part=part, period=period) for user, part in held["staff"]
    ]
    for row in (*zones, *staff):
        try:
            with transaction.atomic():
                row.save()
        except IntegrityError:
            continue


def leave_filled_slot(session: TrainingSession) -> None:
    """A slot's day that another session has filled since stays with that one; this one is on without a slot."""
    others = TrainingSession.objects.filter(slot_id=session.slot_id, slot_day=session.slot_day)
    if session.slot_id and others.exclude(pk=session.pk).exclude(state=State.CANCELLED).exists():
        session.slot, session.slot_day = None, None
