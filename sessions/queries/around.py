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
from sessions.planning.load import expected
from sessions.planning.plan import SessionPlan
from sessions.queries.as_run import headers_of
from sessions.queries.rows import held_meanwhile


def free_from(session: TrainingSession) -> datetime | None:
    """When the last of its zones is given up by whoever has it before; None for nobody. Read along with the session."""
    found: datetime | None = session.place_free_from
    return found


@dataclass(frozen=True)
class Around:
    """When the place becomes free (on the club's clock), the kit that others hold meanwhile, and heading so far."""

    free_from: datetime | None = None
    kit: tuple[Mapping[str, int], ...] = ()
    heading: HeadingSoFar | None = None


def around_of(session: TrainingSession, plan: SessionPlan) -> Around:
    """All of it: one query, and two more where this session plans heading."""
    free = free_from(session)
    return Around(
        free_from=local(free) if free else None,
        kit=tuple(kit_elsewhere(session)),
        heading=heading_so_far(session) if planned_headers(plan) else None,
    )


@dataclass(frozen=True)
class _Other:
    """Another session of the squad, or what stands in its ledger: `headers` is None where nothing is headed on purpose."""

    day: date
    load_au: float
    headers: int | None = None
    heading_minutes: float = 0.0


@dataclass(frozen=True)
class WeekSoFar:
    """What the squad has done and still plans, this session left out: expected AU in its week, and its heading."""

    load_au: float
    heading: HeadingSoFar


def heading_so_far(session: TrainingSession) -> HeadingSoFar:
    """What the squad has headed, or is to head before and after this session, in its week and its month. Two queries."""
    return week_so_far(session).heading


def week_so_far(session: TrainingSession, k: float = 1.0) -> WeekSoFar:
    """Load and heading of the squad around a session; `k` is the squad's factor. Two queries."""
    monday = session.day - timedelta(days=session.day.weekday())
    sunday = monday + timedelta(days=6)
    first = session.day.replace(day=1)
    last_of_month = (first + timedelta(days=31)).replace(day=1) - timedelta(days=1)
    begin, end = min(first, monday), max(last_of_month, sunday)
    others = [*_entered(session, begin, end), *_to_come(session, begin, end, k)]
    week = [each for each in others if monday <= each.day <= sunday]
    heading = [each for each in week if each.headers is not None]
    in_month = [each for each in others if first <= each.day <= last_of_month and each.headers is not None]
    return WeekSoFar(
        load_au=sum(each.load_au for each in week),
        heading=HeadingSoFar(
            sessions_this_week=len(heading),
            sessions_this_month=len(in_month),
            headers_this_week=sum(each.headers or 0 for each in heading),
            minutes_this_week=sum(each.heading_minutes for each in heading),
        ),
    )


def _entered(session: TrainingSession, first: date, last: date) -> list[_Other]:
    """What the ledger has: delivered sessions, matches, training elsewhere."""
    rows = LedgerEntry.objects.filter(
        squad=session.squad_id, player__isnull=True, day__range=(first, last)
    ).exclude(session=session)
    return [
        _Other(day, float(load_au or 0), headers or None, float(minutes))
        for day, load_au, headers, minutes in rows.values_list("day", "load_au", "headers", "heading_minutes")
    ]


_MAY_HEAD = Q(revision__document__heading=Heading.PLANNED.value) | Q(
    revision__document__variations__contains=[{"changes": [{"type": "set_heading"}]}]
)


def _to_come(session: TrainingSession, first: date, last: date, k: float) -> list[_Other]:
    """Sessions still to come, from their parts and the drills with heading that these play. One query."""
    headed = Station.objects.filter(_MAY_HEAD, part=OuterRef("pk")).order_by("position")
    drill = JSONObject(document="revision__document", key="variation_key")
    rows = (
        Part.objects.filter(
            session__squad=session.squad_id,
            session__day__range=(first, last),
            session__state__in=STILL_TO_COME,
        )
        .exclude(session=session)
        .select_related("session")
        .annotate(headed=ArraySubquery(headed.values(row=drill)))
    )
    sessions: dict[int, list[Any]] = {}
    for row in rows:
        sessions.setdefault(row.session_id, []).append(row)
    return [_planned(parts, k) for parts in sessions.values()]


def _planned(rows: list[Any], k: float) -> _Other:
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
    return _Other(
        day=rows[0].session.day,
        load_au=expected(costs.load_au, k),
        headers=costs.headers or None,
        heading_minutes=costs.heading_minutes,
    )


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
