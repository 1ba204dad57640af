"""What stands around a session: when its place becomes free, and what the squad has headed already."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cache
from typing import Any

from django.db.models import Case, OuterRef, Prefetch, Q, QuerySet, Value, When, prefetch_related_objects
from django.db.models.functions import JSONObject

from club import queries as club
from club.queries.ready_made import ReadyArray
from drills.game.document import decode
from drills.game.document.choices import Heading
from sessions import bridge
from sessions.choices import STILL_TO_COME
from sessions.models import LedgerEntry, Part, Station, TrainingSession
from sessions.planning.account import account
from sessions.planning.headers import HeadingSoFar, planned_headers
from sessions.planning.plan import SessionPlan
from sessions.queries.calendar.games import fixtures_between
from sessions.queries.kit_and_headers import kit_and_headers_of
from sessions.queries.ledger import ledger_rows, load_week
from sessions.queries.recorded.as_run import headers_of
from sessions.queries.rows import LOOK_BACK_DAYS, frames_between, held_meanwhile


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
    """Load and heading of the squad around a session, each as its week's page counts it. Four queries."""
    monday, sunday = _week_of(session.day)
    begin, end = _asked(session.day)
    sessions = list(frames_between(begin, end, squad_id=session.squad_id))
    prefetch_related_objects(sessions, Prefetch("parts", queryset=_with_headed()))
    since = min(begin, monday - timedelta(days=LOOK_BACK_DAYS))
    entries = ledger_rows([session.squad_id], since, end)
    week = load_week(
        monday=monday,
        squad_id=session.squad_id,
        age_group=session.age_group,
        sessions=[each for each in sessions if monday <= each.day <= sunday],
        entries=entries,
        fixtures=fixtures_between(monday, sunday, squad_ids=[session.squad_id]),
    )
    others = (each.load_au for each in week.lines if each.session_id != str(session.public_id))
    to_come = (each for each in sessions if each.state in STILL_TO_COME and each.pk != session.pk)
    headed = [_planned(parts) for each in to_come if (parts := list(each.parts.all()))]
    heading = _so_far(session.day, [*_in_ledger(entries, session.pk), *headed])
    return WeekSoFar(sum(others), heading)


def heading_in(squad_id: int, day: date, *, but: TrainingSession | None = None) -> HeadingSoFar:
    """What a squad has headed and is to head in the week and the month of a day, one session left out. Two queries."""
    begin, end = _asked(day)
    return _so_far(day, [*_entered(squad_id, begin, end, but), *_to_come(squad_id, begin, end, but)])


def _week_of(day: date) -> tuple[date, date]:
    monday = day - timedelta(days=day.weekday())
    return monday, monday + timedelta(days=6)


def _month_of(day: date) -> tuple[date, date]:
    first = day.replace(day=1)
    return first, (first + timedelta(days=31)).replace(day=1) - timedelta(days=1)


def _asked(day: date) -> tuple[date, date]:
    """The first and the last day of its week and its month together."""
    (monday, sunday), (first, last) = _week_of(day), _month_of(day)
    return min(first, monday), max(last, sunday)


def _so_far(day: date, found: Iterable[_Heading]) -> HeadingSoFar:
    (monday, sunday), (first, last) = _week_of(day), _month_of(day)
    every = [each for each in found if each.headers]
    week = [each for each in every if monday <= each.day <= sunday]
    return HeadingSoFar(
        sessions_this_week=len(week),
        sessions_this_month=sum(1 for each in every if first <= each.day <= last),
        headers_this_week=sum(each.headers for each in week),
        minutes_this_week=sum(each.minutes for each in week),
    )


def _entered(squad_id: int, first: date, last: date, but: TrainingSession | None) -> list[_Heading]:
    """What the ledger has: recorded sessions, matches, training elsewhere."""
    rows = LedgerEntry.objects.filter(
        squad=squad_id, player__isnull=True, day__range=(first, last), headers__gt=0
    )
    return _in_ledger(rows, but.pk if but else None)


def _in_ledger(rows: Iterable[LedgerEntry], but: int | None) -> list[_Heading]:
    return [
        _Heading(each.day, each.headers, float(each.heading_minutes))
        for each in rows
        if but is None or each.session_id != but
    ]


_MAY_HEAD = Q(revision__document__heading=Heading.PLANNED.value) | Q(
    revision__document__variations__contains=[{"changes": [{"type": "set_heading"}]}]
)


def _to_come(squad_id: int, first: date, last: date, but: TrainingSession | None) -> list[_Heading]:
    """Sessions still to come, from their parts and the drills with heading that these play. One query."""
    rows = (
        _with_headed()
        .filter(session__squad=squad_id, session__day__range=(first, last), session__state__in=STILL_TO_COME)
        .select_related("session")
    )
    rows = rows.exclude(session=but) if but else rows
    sessions: dict[int, list[Any]] = {}
    for row in rows:
        sessions.setdefault(row.session_id, []).append(row)
    return [_planned(parts) for parts in sessions.values()]


@cache
def _with_headed() -> QuerySet[Part]:
    """Parts, each with those drills with heading that are still to be played in it, as plain rows."""
    # One condition on station and document together: else every document of the library is looked into, part by part.
    may_head = Case(When(Q(position__gte=0) & _MAY_HEAD, then=Value(True)), default=Value(False))
    stations = Station.objects.filter(may_head, part=OuterRef("pk")).order_by("position")
    drill = JSONObject(document="revision__document", key="variation_key")
    headed = ReadyArray(stations.values(row=drill))
    # Looking into a document is what costs: not for what is over.
    is_to_come = When(session__state__in=STILL_TO_COME, then=headed)
    return Part.objects.annotate(headed=Case(is_to_come, default=Value([]), output_field=headed.output_field))


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
        by_part.setdefault((row["session"], row["part"]), Counter()).update(kit_and_headers_of(row).kit)
    bags: dict[int, dict[str, int]] = {}
    for (key, _part), kit in by_part.items():
        bag = bags.setdefault(key, {})
        for kind, count in kit.items():
            bag[kind] = max(bag.get(kind, 0), count)
    return list(bags.values())


def local(moment: datetime) -> datetime:
    """A stored moment on the club's clock."""
    zone = club.club_now().tzinfo
    return moment.astimezone(zone)
