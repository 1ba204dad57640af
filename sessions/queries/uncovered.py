"""What a role that ended, somebody who left or a pitch that closed leaves uncovered: sessions to come, weekly slots."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any
from uuid import UUID

from django.contrib.postgres.expressions import ArraySubquery
from django.db.backends.postgresql.psycopg_any import DateTimeTZRange
from django.db.models import OuterRef, QuerySet
from django.db.models.functions import JSONObject, Lower, Upper

from club import queries as club
from club import reading
from club.models import AgeGroup, Squad
from club.queries import HeldRole, RoleRoster
from sessions.choices import STILL_TO_COME, StaffPart
from sessions.models import SessionStaff, SessionZone, Slot, TrainingSession
from sessions.queries.slots.weekly import slots_of
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
    sessions: Iterable[TrainingSession] | None = None,
    slots: Iterable[Slot] | None = None,
    age_group_ids: Collection[int] | None = None,
    without_pitch: int | None = None,
) -> list[Uncovered]:
    """Sessions to come in order of time, then slots: those at hand, or those in force. Two queries, one or none.

    Only what somebody or something that has gone leaves behind: a session that nobody was ever down for isn't among them.
    """
    today = club.today()
    if sessions is None:
        sessions = to_come_in(to_come_rows(today, age_group_ids))
    slots = slots_in_force(today, age_group_ids) if slots is None else slots
    gone = {pitch for pitch in [without_pitch] if pitch}
    return [
        *(found for each in sessions for found in _of_session(each, who, gone)),
        *(found for each in slots for found in _of_slot(each, who, gone, today)),
    ]


def to_come_rows(
    today: date, age_group_ids: Collection[int] | None
) -> "QuerySet[TrainingSession, dict[str, Any]]":
    """Sessions to come with who is down for them and the pitches that they hold, as plain rows in order of time."""
    found = TrainingSession.objects.filter(day__gte=today, state__in=STILL_TO_COME)
    if age_group_ids is not None:
        found = found.filter(age_group_id__in=age_group_ids)
    return found.order_by("day", "starts", "pk").values_list(_to_come(), flat=True)


@cache
def _to_come() -> JSONObject:
    staff = SessionStaff.objects.filter(session=OuterRef("pk")).order_by("-part", "pk")
    zones = SessionZone.objects.filter(session=OuterRef("pk")).order_by("pk")
    held = JSONObject(
        pitch="zone__pitch_id",
        retired="zone__pitch__retired_at",
        name="zone__pitch__name",
        length_m="zone__length_m",
        width_m="zone__width_m",
    )
    return JSONObject(
        **{name: name for name in _OF_SESSION},
        squad_name="squad__name",
        group=JSONObject(**{name: f"age_group__{name}" for name in _OF_GROUP}),
        begins=Lower("period"),
        ends_at=Upper("period"),
        down=ArraySubquery(staff.values(row=JSONObject(user="user_id", part="part"))),
        held=ArraySubquery(zones.values(row=held)),
        companions=companion_rows(),
    )


_OF_SESSION = ("pk", "public_id", "version", "day", "starts", "ends", "squad_id", "age_group_id")
_OF_GROUP = ("label", "under", "years", "over")


def to_come_in(rows: Iterable[Mapping[str, Any]]) -> list[TrainingSession]:
    """The same as sessions that have what is asked here and nothing else. No query."""
    return [_session_in(row) for row in rows]


def _session_in(row: Mapping[str, Any]) -> TrainingSession:
    session: Any = TrainingSession(
        pk=row["pk"],
        public_id=UUID(row["public_id"]),
        version=row["version"],
        day=reading.day(row["day"]),
        starts=reading.clock(row["starts"][:5]),
        ends=reading.clock(row["ends"][:5]),
        period=DateTimeTZRange(reading.moment(row["begins"]), reading.moment(row["ends_at"])),
        squad=Squad(pk=row["squad_id"], name=row["squad_name"]),
        age_group=AgeGroup(pk=row["age_group_id"], **row["group"]),
    )
    session.down, session.held, session.companion_rows = row["down"], row["held"], row["companions"]
    return session


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
