"""What stands in a calendar: sessions, weekly times that nothing fills yet, matches and closed days, within bounds."""

from dataclasses import dataclass
from datetime import date, timedelta

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import Exists, OuterRef, Q
from django.db.models.functions import JSONObject

from club import queries as club
from sessions.choices import Reach, State
from sessions.models import (
    CalendarLink,
    ClosedDays,
    LedgerEntry,
    SessionStaff,
    SessionZone,
    Slot,
    TrainingSession,
)
from sessions.queries.calendar.games import Game, fixtures_between, games
from sessions.queries.slots.closed import closed_rows, is_closed
from sessions.queries.slots.weekly import days_of

BACK_DAYS = 35  # so long a cancelled or moved session can still be read of
AHEAD_DAYS = 364
EMPTY_AHEAD_DAYS = 56  # weekly times that nothing fills yet: further ahead they say little
MOST_SESSIONS = 3_000  # a club of 16 teams with three evenings a week stays below


@dataclass(frozen=True)
class CalendarDays:
    """The rows of one calendar; `empty` are slots with a day that nothing fills."""

    sessions: list[TrainingSession]
    empty: list[tuple[Slot, date]]
    games: list[Game]
    closed: list[ClosedDays]


def calendar_days(link: CalendarLink) -> CalendarDays:
    """What a calendar shows today. Six queries, seven for a person's."""
    today = club.today()
    first, last = today - timedelta(days=BACK_DAYS), today + timedelta(days=AHEAD_DAYS)
    teams = _teams(link)
    return CalendarDays(
        sessions=_sessions(link, first, last),
        empty=_empty(link, today),
        games=games(fixtures_between(first, last, squad_ids=teams), _by_hand(teams, first, last)),
        closed=_closed(link, first, last),
    )


def _teams(link: CalendarLink) -> list[int] | None:
    """Whose matches belong to it; None: everybody's."""
    if link.reach == Reach.CLUB:
        return None
    if link.squad_id:
        return [link.squad_id]
    if link.user is None:  # a pitch: where a match is, nobody has said by its number
        return []
    return [each.pk for each in club.squads(age_group_ids=club.actor_of(link.user).age_groups)]


def _sessions(link: CalendarLink, first: date, last: date) -> list[TrainingSession]:
    rows = TrainingSession.objects.filter(day__range=(first, last))
    off = Q(state=State.CANCELLED)
    if link.reach == Reach.TEAM:
        rows = rows.filter(squad_id=link.squad_id)
    elif link.reach == Reach.PERSON:
        own = SessionStaff.objects.filter(session=OuterRef("pk"), user_id=link.user_id)
        rows = rows.filter(Exists(own) | off & Q(calendar_mark__people__contains=[link.user_id]))
    elif link.pitch is not None:
        on_it = SessionZone.objects.filter(session=OuterRef("pk"), zone__pitch_id=link.pitch_id)
        ids = list(link.pitch.zones.values_list("pk", flat=True))
        rows = rows.filter(Exists(on_it) | off & Q(calendar_mark__zones__overlap=ids))
    zones = SessionZone.objects.filter(session=OuterRef("pk")).order_by(
        "zone__pitch__position", "zone__position"
    )
    staff = SessionStaff.objects.filter(session=OuterRef("pk"), part="leads").order_by("pk")
    rows = rows.select_related("squad", "theme", "calendar_mark").annotate(
        place_rows=ArraySubquery(zones.values(row=JSONObject(pitch="zone__pitch__name", zone="zone__name"))),
        leaders=ArraySubquery(staff.values("user__name")),
    )
    return list(rows.order_by("day", "starts", "pk")[:MOST_SESSIONS])


def _empty(link: CalendarLink, today: date) -> list[tuple[Slot, date]]:
    """Weekly times without a session, left out on days that are closed to all or to one of its pitches. Two queries."""
    last = today + timedelta(days=EMPTY_AHEAD_DAYS)
    slots = Slot.objects.filter(first_day__lte=last, last_day__gte=today)
    if link.reach == Reach.TEAM:
        slots = slots.filter(squad_id=link.squad_id)
    elif link.reach == Reach.PERSON:
        slots = slots.filter(coaches=link.user_id)
    elif link.reach == Reach.PITCH:
        slots = slots.filter(zones__pitch_id=link.pitch_id).distinct()
    zones = Slot.zones.through.objects.filter(slot=OuterRef("pk")).order_by(
        "zone__pitch__position", "zone__position"
    )
    row = JSONObject(pitch="zone__pitch__name", zone="zone__name")
    found = list(
        slots.select_related("squad")
        .annotate(place_rows=ArraySubquery(zones.values(row=row)), closed_rows=closed_rows())
        .order_by("weekday", "starts", "pk")
    )
    filled = set(
        TrainingSession.objects.filter(slot__in=[each.pk for each in found], slot_day__range=(today, last))
        .exclude(state=State.CANCELLED)
        .values_list("slot_id", "slot_day")
    )
    return [
        (slot, day)
        for slot in found
        for day in days_of(slot, today, last)
        if (slot.pk, day) not in filled and not is_closed(slot, day)
    ]


def _by_hand(teams: list[int] | None, first: date, last: date) -> list[LedgerEntry]:
    rows = LedgerEntry.objects.filter(
        day__range=(first, last), player__isnull=True, session__isnull=True
    ).select_related("squad")
    return list(rows if teams is None else rows.filter(squad_id__in=teams))


def _closed(link: CalendarLink, first: date, last: date) -> list[ClosedDays]:
    """Days that are closed to all; of single pitches those of its own, else all where places may be named."""
    rows = ClosedDays.objects.filter(period__endswith__gt=first, period__startswith__lte=last).select_related(
        "pitch"
    )
    if link.reach == Reach.PITCH:
        rows = rows.filter(Q(pitch=None) | Q(pitch_id=link.pitch_id))
    elif not link.with_place:
        rows = rows.filter(pitch=None)
    return list(rows)
