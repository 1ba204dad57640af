"""Weekly slots that somebody else's session lies on: before it is put there, and afterwards."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time, timedelta

from sessions.choices import State
from sessions.models import SessionZone, Slot, TrainingSession

DAYS_AHEAD = 27


def empty_slots_of_others(
    squad_id: int, day: date, starts: time, ends: time, zone_ids: Sequence[int]
) -> list[Slot]:
    """Other teams' slots that a time and place overlaps and that nothing fills on that day. Two queries at most."""
    if not zone_ids:
        return []
    filled = TrainingSession.objects.filter(slot_day=day, slot__isnull=False).exclude(state=State.CANCELLED)
    return list(
        Slot.objects.filter(
            weekday=day.isoweekday(),
            starts__lt=ends,
            ends__gt=starts,
            first_day__lte=day,
            last_day__gte=day,
            zones__in=zone_ids,
        )
        .exclude(squad_id=squad_id)
        .exclude(pk__in=filled.values("slot"))
        .select_related("squad")
        .prefetch_related("zones__pitch")
        .distinct()
    )


@dataclass(frozen=True)
class Booking:
    """A zone that a session has: whose, and when on the club's clock."""

    zone_id: int
    squad_id: int
    team: str
    session: str
    day: date
    starts: time
    ends: time


def bookings_of(slots: Iterable[Slot], first: date, last: date) -> list[Booking]:
    """What is booked on the zones of these slots between two days. One query, none without slots."""
    zones = {each["pk"] for slot in slots for each in slot.zone_rows}  # type: ignore[attr-defined]
    if not zones:
        return []
    found = SessionZone.objects.filter(zone__in=zones, session__day__range=(first, last)).order_by("pk")
    return [
        Booking(zone, squad, f"{group} {team}", str(session), day, starts, ends)
        for zone, squad, group, team, session, day, starts, ends in found.values_list(
            "zone_id",
            "session__squad_id",
            "session__age_group__label",
            "session__squad__name",
            "session__public_id",
            "session__day",
            "session__starts",
            "session__ends",
        )
    ]


def taken_by(slot: Slot, day: date, bookings: Iterable[Booking]) -> Booking | None:
    """The first booking of another team that lies on a slot on one of its days."""
    zones = {each["pk"] for each in slot.zone_rows}  # type: ignore[attr-defined]
    return next(
        (
            each
            for each in bookings
            if each.day == day
            and each.squad_id != slot.squad_id
            and each.zone_id in zones
            and each.starts < slot.ends
            and slot.starts < each.ends
        ),
        None,
    )


def taken_ahead(slots: Sequence[Slot], today: date) -> dict[int, list[Booking]]:
    """By slot, who else has it on which days of the next four weeks. One query."""
    last = today + timedelta(days=DAYS_AHEAD)
    bookings = bookings_of(slots, today, last)
    days = sorted({each.day for each in bookings})
    return {
        slot.pk: [
            found
            for day in days
            if day.isoweekday() == slot.weekday and slot.first_day <= day <= slot.last_day
            if (found := taken_by(slot, day, bookings))
        ]
        for slot in slots
    }
