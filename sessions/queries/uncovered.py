"""What a role that ended, somebody who left or a pitch that closed leaves uncovered: sessions to come, weekly slots."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import OuterRef
from django.db.models.functions import JSONObject

from club import queries as club
from club.queries import HeldRole, RoleRoster
from sessions.choices import STILL_TO_COME, StaffPart
from sessions.models import SessionStaff, SessionZone, Slot, TrainingSession
from sessions.queries.rows import slots_of
from sessions.queries.together import companion_rows, companions

FEWEST = 2  # adults with children: see sessions.planning.supervision


@dataclass(frozen=True)
class Uncovered:
    """A session or a slot, and what it is left without: `lead`, `second` (adult) or `place`."""

    row: Any
    lacks: str
    is_slot: bool = False
    day: date | None = None

    @property
    def key(self) -> tuple[bool, int, str]:
        return self.is_slot, self.row.pk, self.lacks


def uncovered(
    who: RoleRoster,
    *,
    slots: Iterable[Slot] | None = None,
    age_group_ids: Collection[int] | None = None,
    without_pitch: int | None = None,
) -> list[Uncovered]:
    """Sessions to come in order of time, then slots: those at hand, or those in force. Two queries, or one.

    Only what somebody or something that has gone leaves behind: a session that nobody was ever down for isn't among them.
    """
    today = club.today()
    sessions = _sessions(today, age_group_ids)
    slots = slots_in_force(today, age_group_ids) if slots is None else slots
    gone = {pitch for pitch in [without_pitch] if pitch}
    return [
        *(found for each in sessions for found in _of_session(each, who, gone)),
        *(found for each in slots for found in _of_slot(each, who, gone, today)),
    ]


def _sessions(today: date, age_group_ids: Collection[int] | None) -> list[TrainingSession]:
    staff = SessionStaff.objects.filter(session=OuterRef("pk")).order_by("-part", "pk")
    zones = SessionZone.objects.filter(session=OuterRef("pk")).order_by("pk")
    found = (
        TrainingSession.objects.filter(day__gte=today, state__in=STILL_TO_COME)
        .select_related("age_group", "squad")
        .annotate(
            down=ArraySubquery(staff.values(row=JSONObject(user="user_id", part="part"))),
            held=ArraySubquery(
                zones.values(
                    row=JSONObject(
                        pitch="zone__pitch_id",
                        retired="zone__pitch__retired_at",
                        name="zone__pitch__name",
                        length_m="zone__length_m",
                        width_m="zone__width_m",
                    )
                )
            ),
            companion_rows=companion_rows(),
        )
        .order_by("day", "starts", "pk")
    )
    if age_group_ids is not None:
        found = found.filter(age_group_id__in=age_group_ids)
    return list(found)


def slots_in_force(today: date, age_group_ids: Collection[int] | None = None) -> list[Slot]:
    """Slots that run today or later, with the pitches that they are on and those of them that closed. One query."""
    found = slots_of(today, date.max, age_group_ids=age_group_ids)
    retired = Slot.zones.through.objects.filter(slot=OuterRef("pk"), zone__pitch__retired_at__isnull=False)
    pitches = Slot.zones.through.objects.filter(slot=OuterRef("pk")).order_by().values("zone__pitch_id")
    closed = retired.order_by().values("zone__pitch_id")
    annotated = found.annotate(closed=ArraySubquery(closed), pitch_ids=ArraySubquery(pitches))
    return list(annotated.order_by("weekday", "starts", "pk"))


def _of_session(session: Any, who: RoleRoster, gone: set[int]) -> list[Uncovered]:
    group, day = session.age_group_id, session.day
    standing = [each for each in session.down if who.stands(each["user"], group, day)]
    found = []
    if len(standing) < len(session.down):
        adults = {each["user"] for each in standing}.union(*(each.staff for each in companions(session)))
        children = session.age_group.ages.supervised_years is not None
        if not any(each["part"] == StaffPart.LEADS for each in standing):
            found.append(Uncovered(session, "lead"))
        elif children and len(adults) < FEWEST:
            found.append(Uncovered(session, "second"))
    if any(each["retired"] or each["pitch"] in gone for each in session.held):
        found.append(Uncovered(session, "place"))
    return found


def _of_slot(slot: Any, who: RoleRoster, gone: set[int], today: date) -> list[Uncovered]:
    if slot.age_group_id is None:
        return []
    day = max(today, slot.first_day)
    standing = [each for each in slot.coach_rows if who.stands(each["pk"], slot.age_group_id, day)]
    found = []
    if slot.coach_rows and not standing:
        found.append(Uncovered(slot, "lead", is_slot=True, day=day))
    if slot.closed or gone & set(slot.pitch_ids):
        found.append(Uncovered(slot, "place", is_slot=True, day=day))
    return found


def free_people(found: Iterable[Uncovered], who: RoleRoster) -> dict[tuple[bool, int, str], list[HeldRole]]:
    """Who could take each session that lacks an adult: free at that time, coaches first. One query, or none."""
    wanted = [each for each in found if not each.is_slot and each.lacks != "place"]
    if not wanted:
        return {}
    busy = list(
        SessionStaff.objects.filter(session__day__in={each.row.day for each in wanted}).values_list(
            "user_id", "period"
        )
    )
    return {
        each.key: [
            one
            for one in who.who_could(each.row.age_group_id, each.row.day)
            if not any(user == one.user_id and _meet(period, each.row.period) for user, period in busy)
        ]
        for each in wanted
    }


def free_zones(found: Iterable[Uncovered]) -> dict[tuple[bool, int, str], list[Any]]:
    """Zones that are free at the time of each session that lacks a place, the most alike in size first. Three queries, or none.

    One that another team has weekly at that time counts as theirs.
    """
    wanted = [each for each in found if not each.is_slot and each.lacks == "place"]
    if not wanted:
        return {}
    days = {each.row.day for each in wanted}
    zones = club.zones()
    booked = list(SessionZone.objects.filter(session__day__in=days).values_list("zone_id", "period"))
    weekly = list(slots_of(min(days), max(days)))
    return {each.key: _free(each.row, zones, booked, weekly) for each in wanted}


def _free(session: Any, zones: list[Any], booked: list[Any], weekly: list[Any]) -> list[Any]:
    taken = {zone for zone, period in booked if _meet(period, session.period)}
    taken |= {
        row["pk"]
        for slot in weekly
        if slot.squad_id != session.squad_id and _on(slot, session)
        for row in slot.zone_rows
    }
    lost = sum(float(each["length_m"]) * float(each["width_m"]) for each in session.held if each["retired"])
    free = [each for each in zones if each.pk not in taken]
    return sorted(free, key=lambda zone: (abs(float(zone.length_m * zone.width_m) - lost), zone.pk))


def _on(slot: Any, session: Any) -> bool:
    runs = slot.first_day <= session.day <= slot.last_day and slot.weekday == session.day.isoweekday()
    return bool(runs and slot.starts < session.ends and session.starts < slot.ends)


def _meet(one: Any, other: Any) -> bool:
    return bool(one.lower < other.upper and other.lower < one.upper)
