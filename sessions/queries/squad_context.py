"""What stands around a session: when its place becomes free, and what the squad has headed already."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import OuterRef, Q
from django.db.models.functions import JSONObject

from club import queries as club
from drills.game.document import decode
from drills.game.document.choices import Heading
from sessions import bridge
from sessions.choices import STILL_TO_COME
from sessions.models import LedgerEntry, Part, Station, TrainingSession
from sessions.planning.account import account
from sessions.planning.headers import HeadingSoFar, planned_headers
from sessions.planning.plan import SessionPlan
from sessions.queries.ledger import ledger_rows, load_week
from sessions.queries.recorded.as_run import headers_of
from sessions.queries.rows import held_meanwhile, sessions_between


def free_from(session: TrainingSession) -> datetime | None:
    """When the last of its zones is given up by whoever has it before; None for nobody. Read along with the session."""
    found: datetime | None = session.place_free_from
    return found


@dataclass(frozen=True)
class SquadContext:
    """When the place becomes free (on the club's clock), the kit that others hold meanwhile, and heading so far."""

    free_from: datetime | None = None
    kit: tuple[Mapping[str, int], ...] = ()
    heading: HeadingSoFar | None = None


def squad_context_of(session: TrainingSession, plan: SessionPlan) -> SquadContext:
    """All of it: one query, and two more where this session plans heading."""
    free = free_from(session)
    return SquadContext(
        free_from=local(free) if free else None,
        kit=tuple(kit_elsewhere(session)),
        heading=heading_so_far(session) if planned_headers(plan) else None,
    )


@dataclass(frozen=True)
class _Heading:
    """Heading on one day, done or planned."""

    day: date
    headers: int
    minutes: float = 0.0


@dataclass(frozen=True)
class WeekSoFar:
    """What the squad has done and still plans, this session left out: expected AU in its week, and its heading."""

    load_au: float
    heading: HeadingSoFar


def heading_so_far(session: TrainingSession) -> HeadingSoFar:
    """What the squad has headed, or is to head before and after this session, in its week and its month. Two queries."""
    return heading_in(session.squad_id, session.day, but=session)


def week_so_far(session: TrainingSession) -> WeekSoFar:
    """Load and heading of the squad around a session, each as its week's page counts it. Five queries."""
    monday = session.day - timedelta(days=session.day.weekday())
    sunday = monday + timedelta(days=6)
    week = load_week(
        monday=monday,
        squad_id=session.squad_id,
        age_group=session.age_group,
        sessions=sessions_between(monday, sunday, squad_id=session.squad_id),
        entries=ledger_rows([session.squad_id], monday, sunday),
    )
    others = (each.load_au for each in week.lines if each.session_id != str(session.public_id))
    return WeekSoFar(sum(others), heading_so_far(session))


def heading_in(squad_id: int, day: date, *, but: TrainingSession | None = None) -> HeadingSoFar:
    """What a squad has headed and is to head in the week and the month of a day, one session left out. Two queries."""
    monday = day - timedelta(days=day.weekday())
    sunday = monday + timedelta(days=6)
    first = day.replace(day=1)
    last_of_month = (first + timedelta(days=31)).replace(day=1) - timedelta(days=1)
    begin, end = min(first, monday), max(last_of_month, sunday)
    found = [*_entered(squad_id, begin, end, but), *_to_come(squad_id, begin, end, but)]
    week = [each for each in found if monday <= each.day <= sunday]
    return HeadingSoFar(
        sessions_this_week=len(week),
        sessions_this_month=sum(1 for each in found if first <= each.day <= last_of_month),
        headers_this_week=sum(each.headers for each in week),
        minutes_this_week=sum(each.minutes for each in week),
    )


def _entered(squad_id: int, first: date, last: date, but: TrainingSession | None) -> list[_Heading]:
    """What the ledger has: recorded sessions, matches, training elsewhere."""
    rows = LedgerEntry.objects.filter(
        squad=squad_id, player__isnull=True, day__range=(first, last), headers__gt=0
    )
    rows = rows.exclude(session=but) if but else rows
    found = rows.values_list("day", "headers", "heading_minutes")
    return [_Heading(day, headers, float(minutes)) for day, headers, minutes in found]


_MAY_HEAD = Q(revision__document__heading=Heading.PLANNED.value) | Q(
    revision__document__variations__contains=[{"changes": [{"type": "set_heading"}]}]
)


def _to_come(squad_id: int, first: date, last: date, but: TrainingSession | None) -> list[_Heading]:
    """Sessions still to come, from their parts and the drills with heading that these play. One query."""
    headed = Station.objects.filter(_MAY_HEAD, part=OuterRef("pk")).order_by("position")
    drill = JSONObject(document="revision__document", key="variation_key")
    rows = (
        Part.objects.filter(
            session__squad=squad_id, session__day__range=(first, last), session__state__in=STILL_TO_COME
        )
        .select_related("session")
        .annotate(headed=ArraySubquery(headed.values(row=drill)))
    )
    rows = rows.exclude(session=but) if but else rows
    sessions: dict[int, list[Any]] = {}
    for row in rows:
        sessions.setdefault(row.session_id, []).append(row)
    found = (_planned(parts) for parts in sessions.values())
    return [each for each in found if each.headers]


def _planned(rows: list[Any]) -> _Heading:
    parts = tuple(
        bridge.part_of(
            row,
            title=row.title,
            headers=max(
                (headers_of(decode(each["document"]), each["key"]) for each in row.headed), default=0
            ),
        )
        for row in rows
    )
    costs = account(SessionPlan(0, parts))
    return _Heading(rows[0].session.day, costs.headers, costs.heading_minutes)


def kit_elsewhere(session: TrainingSession) -> list[Mapping[str, int]]:
    """The kit that other sessions hold while this one runs, a bag for each of their parts' most.

    One query, none where the session was read with `held_meanwhile`.
    """
    rows: list[dict[str, Any]] | None = getattr(session, "held_rows", None)
    if rows is None:
        found = TrainingSession.objects.filter(pk=session.pk).annotate(rows=held_meanwhile())
        rows = found.values_list("rows", flat=True).get()
    by_part: dict[tuple[int, int], Counter[str]] = {}
    for row in rows:
        by_part.setdefault((row["session"], row["part"]), Counter()).update(_kit_of(row))
    bags: dict[int, dict[str, int]] = {}
    for (key, _part), kit in by_part.items():
        bag = bags.setdefault(key, {})
        for kind, count in kit.items():
            bag[kind] = max(bag.get(kind, 0), count)
    return list(bags.values())


def _kit_of(row: Mapping[str, Any]) -> Mapping[str, int]:
    """What a station needs: as it is set up tonight, else as its drill is written."""
    return bridge.as_kept(decode(row["document"]), row["key"], row["setup"]).kit


def local(moment: datetime) -> datetime:
    """A stored moment on the club's clock."""
    zone = club.club_now().tzinfo
    return moment.astimezone(zone)
