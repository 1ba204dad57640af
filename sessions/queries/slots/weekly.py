"""Weekly slots: finding them, and the days on which no session fills them yet."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from uuid import UUID

from django.db.models import OuterRef, QuerySet
from django.db.models.functions import JSONObject

from club import queries as club
from club.queries.ready_made import ReadyArray, ReadySubquery
from sessions.choices import State, Weekday
from sessions.models import Slot, TrainingSession
from sessions.queries.recorded.last_done import can_be_harder, is_last_weeks, last_stations
from sessions.queries.rows import ZONE
from sessions.queries.slots.closed import closed_rows, is_closed
from sessions.queries.slots.taken import TakenBy, taken_by, taken_rows


@cache  # as `rows.framed`
def _slots() -> QuerySet[Slot]:
    zones = Slot.zones.through.objects.filter(slot=OuterRef("pk")).order_by("zone__pitch__position")
    coaches = Slot.coaches.through.objects.filter(slot=OuterRef("pk")).order_by("pk")
    row = JSONObject(id="user__public_id", pk="user_id", name="user__name")
    return Slot.objects.select_related("squad").annotate(
        zone_rows=ReadyArray(zones.values(row=ZONE)),
        coach_rows=ReadyArray(coaches.values(row=row)),
        last_stations=last_stations(),
        taken_rows=taken_rows(),
        closed_rows=closed_rows(),
    )


def slots_of(first: date, last: date, *, age_group_ids: Iterable[int] | None = None) -> QuerySet[Slot]:
    """Slots that run at some time between two days, with zones, coaches and `age_group_id`. One query."""
    in_season = Slot.objects.filter(pk=OuterRef("pk"), squad__seasons__season=club.running_season())
    group = ReadySubquery(in_season.order_by().values("squad__seasons__age_group_id")[:1])
    found = _slots().filter(first_day__lte=last, last_day__gte=first).annotate(age_group_id=group)
    if age_group_ids is not None:
        found = found.filter(age_group_id__in=list(age_group_ids))
    return found


def slots_from(day: date) -> QuerySet[Slot]:
    """Slots that have not ended by a day, in the order of the week."""
    return slots_of(day, date.max).order_by("weekday", "starts", "pk")


def slot_by_id(public_id: UUID | str) -> Slot | None:
    """One slot with its squad, zones and coaches."""
    return slots_of(date.min, date.max).filter(public_id=public_id).first()


def weekdays() -> list[tuple[int, str]]:
    """ISO weekdays with their names."""
    return [(day.value, str(day.label)) for day in Weekday]


@dataclass(frozen=True)
class FreeSlot:
    """A slot on a day that no session fills yet."""

    slot: Slot
    day: date
    taken_by: TakenBy | None = None

    @property
    def again(self) -> str:
        """What the session of the week before offers: "harder", "again", or nothing."""
        if not is_last_weeks(self.slot, self.day):
            return ""
        return "harder" if can_be_harder(self.slot) else "again"


def free_slots(
    slots: Iterable[Slot], sessions: Iterable[TrainingSession], first: date, last: date
) -> list[FreeSlot]:
    """The days on which these slots are empty and not closed, with who else has the place then.

    A moved session still fills the slot's own day.
    """
    filled = {
        (each.slot_id, each.slot_day) for each in sessions if each.slot_id and each.state != State.CANCELLED
    }
    found = []
    for slot in slots:
        for day in days_of(slot, first, last):
            if (slot.pk, day) not in filled and not is_closed(slot, day):
                found.append(FreeSlot(slot, day, taken_by(slot, day)))
    return sorted(found, key=lambda each: (each.day, each.slot.starts))


def days_of(slot: Slot, first: date, last: date) -> list[date]:
    """The slot's days between two days, both included."""
    begin = max(first, slot.first_day)
    begin += timedelta(days=(slot.weekday - begin.isoweekday()) % 7)
    end = min(last, slot.last_day)
    return [begin + timedelta(days=7 * week) for week in range(max(0, (end - begin).days // 7 + 1))]
