"""Weekly slots that somebody else's session lies on: before it is put there, and afterwards."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time, timedelta
from typing import Any

from django.db.models import OuterRef
from django.db.models.functions import JSONObject

from club.queries.ready_made import ReadyArray
from club.reading import day
from sessions.choices import State
from sessions.models import Slot, TrainingSession

DAYS_AHEAD = 27


def empty_slots_of_others(
    squad_id: int, on: date, starts: time, ends: time, zone_ids: Sequence[int]
) -> list[Slot]:
    """Other teams' slots that a time and place overlaps and that nothing fills on that day. Two queries at most."""
    if not zone_ids:
        return []
    filled = TrainingSession.objects.filter(slot_day=on, slot__isnull=False).exclude(state=State.CANCELLED)
    return list(
        Slot.objects.filter(
            weekday=on.isoweekday(),
            starts__lt=ends,
            ends__gt=starts,
            first_day__lte=on,
            last_day__gte=on,
            zones__in=zone_ids,
        )
        .exclude(squad_id=squad_id)
        .exclude(pk__in=filled.values("slot"))
        .select_related("squad")
        .prefetch_related("zones__pitch")
        .distinct()
    )


@dataclass(frozen=True)
class TakenBy:
    """Another team that has a slot's place on one of its days; `session` is its session's outer id."""

    day: date
    team: str
    session: str


def taken_rows() -> ReadyArray:
    """The sessions of other teams that lie on an outer slot's place and time on its days, as plain rows."""
    found = TrainingSession.objects.filter(
        bookings__zone__slots=OuterRef("pk"),
        day__range=(OuterRef("first_day"), OuterRef("last_day")),
        day__iso_week_day=OuterRef("weekday"),
        starts__lt=OuterRef("ends"),
        ends__gt=OuterRef("starts"),
    ).exclude(squad=OuterRef("squad"))
    row = JSONObject(day="day", group="age_group__label", squad="squad__name", session="public_id")
    return ReadyArray(found.order_by("day", "starts", "pk").values(row=row))


def takers(slot: Any, first: date, last: date) -> list[TakenBy]:
    """Who else has a slot's place between two days, both included; a session on two of its zones counts once. No query."""
    rows = (
        TakenBy(on, f"{each['group']} {each['squad']}", str(each["session"]))
        for each in slot.taken_rows
        if (on := day(each["day"]))
    )
    return [each for each in dict.fromkeys(rows) if first <= each.day <= last]


def taken_by(slot: Any, on: date) -> TakenBy | None:
    """The first who has a slot's place on a day. No query."""
    return next(iter(takers(slot, on, on)), None)


def taken_ahead(slots: Iterable[Any], today: date) -> dict[int, list[TakenBy]]:
    """By slot, who else has it on which days of the next four weeks. No query."""
    last = today + timedelta(days=DAYS_AHEAD)
    return {slot.pk: takers(slot, today, last) for slot in slots}
