"""Load of a squad's week: what was delivered, what is expected still, against the budget."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cache
from typing import Any

from django.db.models import QuerySet

from sessions import bridge
from sessions.choices import STILL_TO_COME, Kind
from sessions.models import LedgerEntry, Part, TrainingSession
from sessions.planning import load
from sessions.planning.account import account
from sessions.planning.plan import SessionPlan
from sessions.planning.reasons import Reason
from sessions.planning.volume import volume
from sessions.queries.guides import week_limits
from sessions.queries.rows import LOOK_BACK_DAYS
from sessions.validators import minutes_between


@dataclass(frozen=True)
class LedgerLine:
    """One thing in a week: a session, a match, training elsewhere."""

    day: date
    kind: str
    title: str
    minutes: float
    load_au: float
    is_estimated: bool
    is_to_come: bool
    session_id: str = ""
    entry_id: str = ""  # of what was entered by hand
    headers: int = 0


@dataclass(frozen=True)
class LoadWeek:
    """A squad's week, Monday first."""

    monday: date
    lines: list[LedgerLine]
    daily_au: list[float]
    daily_minutes: list[float]
    total_au: float
    minutes: float
    days: int
    rest_days: int
    budget_au: float | None
    budget_minutes: int | None
    word: str | None
    reasons: list[Reason] = field(default_factory=list)
    detail: load.Detail | None = None
    monotony: float | None = None
    strain: float | None = None

    @property
    def week_days(self) -> list[date]:
        return [self.monday + timedelta(days=index) for index in range(7)]

    @property
    def over_au(self) -> float:
        return max(0.0, self.total_au - self.budget_au) if self.budget_au is not None else 0.0

    @property
    def is_over(self) -> bool:
        over_minutes = self.budget_minutes is not None and self.minutes > self.budget_minutes
        return self.over_au > 0 or over_minutes


def planned_au(parts: Iterable[Part]) -> float:
    """Planned load of a session's parts, whatever they play. No query."""
    plan = SessionPlan(0, tuple(bridge.part_of(each, title=each.title) for each in parts))
    return account(plan).load_au


def squad_factor(squad_id: int, *, before: date) -> float:
    """k of a squad: the median of actual load ÷ plan as run over its last eight rated sessions."""
    first = before - timedelta(days=LOOK_BACK_DAYS)
    return factor_of(ledger_rows([squad_id], first, before - timedelta(days=1)), squad_id, before=before)


def factor_of(rows: Iterable[LedgerEntry], squad_id: int, *, before: date) -> float:
    """k of a squad from ledger rows that are at hand, oldest first."""
    ratios = [
        float(row.load_au) / float(row.as_run_au)
        for row in rows
        if row.squad_id == squad_id
        and row.session_id
        and not row.is_estimated
        and row.load_au is not None
        and row.as_run_au
        and row.day < before
    ]
    return load.squad_factor(ratios)


def factor_at_hand(session: TrainingSession) -> float:
    """k for a session that was read with its squad's last ratios; 1.0 where it wasn't."""
    return load.squad_factor([each for each in reversed(getattr(session, "load_ratios", [])) if each])


def ledger_rows(squad_ids: Iterable[int], first: date, last: date) -> list[LedgerEntry]:
    """What stands in the ledger for squads as a whole, in order of time, with their sessions. One query."""
    return list(_of_squads().filter(squad_id__in=list(squad_ids), day__range=(first, last)))


@cache  # as `framed`
def _of_squads() -> QuerySet[LedgerEntry]:
    found = LedgerEntry.objects.filter(player__isnull=True).select_related("session")
    return found.order_by("day", "session__starts", "session_id", "pk")


def week_totals(rows: Iterable[LedgerEntry], squad_id: int, before: date, *, weeks: int = 6) -> list[float]:
    """AU of a squad's last weeks before a Monday, oldest first; weeks without anything are left out."""
    totals: dict[date, float] = defaultdict(float)
    for row in rows:
        if row.squad_id == squad_id and row.day < before:
            totals[row.day - timedelta(days=row.day.weekday())] += float(row.load_au or 0)
    return [totals[monday] for monday in sorted(totals)][-weeks:]


def load_week(
    *,
    monday: date,
    squad_id: int,
    age_group: Any,
    sessions: Iterable[TrainingSession],
    entries: Iterable[LedgerEntry],
    k: float = 1.0,
    past_au: list[float] | None = None,
    detail: load.Detail | None = None,
) -> LoadWeek:
    """Put a squad's week together from rows that are at hand. Days are the club's calendar."""
    lines = _lines(monday, squad_id, sessions, entries, k)
    daily_au, daily_minutes = [0.0] * 7, [0.0] * 7
    for line in lines:
        daily_au[(line.day - monday).days] += line.load_au
        daily_minutes[(line.day - monday).days] += line.minutes
    sums = load.week(daily_au)
    hours = volume(daily_minutes, week_limits(age_group, monday))
    return LoadWeek(
        monday=monday,
        lines=lines,
        daily_au=daily_au,
        daily_minutes=daily_minutes,
        total_au=sums.total,
        minutes=sum(daily_minutes),
        days=hours.days,
        rest_days=hours.rest_days,
        budget_au=float(age_group.week_load_au) if age_group.week_load_au else None,
        budget_minutes=age_group.week_minutes,
        word=load.lighter_usual_heavier(sums.total, past_au or []),
        reasons=list(hours.reasons),
        detail=detail,
        monotony=sums.monotony,
        strain=sums.strain,
    )


def _lines(
    monday: date,
    squad_id: int,
    sessions: Iterable[TrainingSession],
    entries: Iterable[LedgerEntry],
    k: float,
) -> list[LedgerLine]:
    sunday = monday + timedelta(days=6)
    lines = [
        LedgerLine(
            day=entry.day,
            kind=entry.kind,
            title=str(entry.session) if entry.session else entry.title,
            minutes=float(entry.minutes),
            load_au=float(entry.load_au or 0),
            is_estimated=entry.is_estimated,
            is_to_come=False,
            session_id=str(entry.session.public_id) if entry.session else "",
            entry_id="" if entry.session else str(entry.public_id),
            headers=entry.headers,
        )
        for entry in entries
        if entry.squad_id == squad_id and monday <= entry.day <= sunday
    ]
    lines += [
        LedgerLine(
            day=each.day,
            kind=Kind.TRAINING,
            title=str(each),
            minutes=minutes_between(each.starts, each.ends),
            load_au=load.expected(planned_au(each.parts.all()), k),
            is_estimated=True,
            is_to_come=True,
            session_id=str(each.public_id),
        )
        for each in sessions
        if each.squad_id == squad_id and each.state in STILL_TO_COME and monday <= each.day <= sunday
    ]
    return sorted(lines, key=lambda line: line.day)
