"""A squad's week on a page of its own: bars against the budget, the table, the guidelines, the director's detail."""

from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from club import queries as club
from club.actor import Actor
from club.choices import Rule
from sessions.pages.weeks import squad_week
from sessions.pictures.week import Day, Entry, Row, rows, week_picture
from sessions.planning import load
from sessions.queries.ledger import LedgerLine, LoadWeek, ledger_rows
from sessions.queries.rows import LOOK_BACK_DAYS, sessions_between

_OF_A_WEEK = (
    Rule.ORGANISED_HOURS_WEEK,
    Rule.REST_DAYS_WEEK,
    Rule.PLAYING_MINUTES_DAY,
    Rule.HEADING_SESSIONS_WEEK,
)


@dataclass(frozen=True)
class SquadWeek:
    """`with_au` is False for age groups that are looked after by minutes and days."""

    squad: Any
    age_group: Any
    week: LoadWeek
    with_au: bool
    by_day: list[tuple[date, list[LedgerLine]]]
    table: tuple[Row, ...]
    large: SafeString | None
    phone: SafeString | None
    guidelines: list[Any]
    detail: load.Detail | None
    days_known: int
    past: list[float] = field(default_factory=list)

    @property
    def before(self) -> date:
        return self.week.monday - timedelta(days=7)

    @property
    def after(self) -> date:
        return self.week.monday + timedelta(days=7)


def squad_week_page(actor: Actor, squad: Any, monday: date) -> SquadWeek:
    """Five queries beyond the squad's own."""
    sunday = monday + timedelta(days=6)
    group = next(each for each in club.age_groups() if each.pk == squad.age_group_id)
    ledger = ledger_rows([squad.pk], monday - timedelta(days=LOOK_BACK_DAYS), sunday)
    week = squad_week(squad.pk, group, monday, sessions_between(monday, sunday, squad_id=squad.pk), ledger)
    with_au = group.session_load_au is not None or group.week_load_au is not None
    days = [_day(monday + timedelta(days=index), week.lines) for index in range(7)]
    detail, known = _detail(ledger, sunday) if actor.is_director else (None, 0)
    return SquadWeek(
        squad=squad,
        age_group=group,
        week=week,
        with_au=with_au,
        by_day=_by_day(week),
        table=rows(days),
        large=_picture(days, week, "large") if with_au else None,
        phone=_picture(days, week, "phone") if with_au else None,
        guidelines=[each for each in club.guidelines_for(group, monday) if each.rule in _OF_A_WEEK],
        detail=detail,
        days_known=known,
    )


def _day(day: date, lines: list[LedgerLine]) -> Day:
    entries = tuple(
        Entry(line.kind, line.load_au, line.minutes, line.is_estimated)  # type: ignore[arg-type]
        for line in lines
        if line.day == day
    )
    return Day(f"{day:%a} {day.day} {day:%b}", entries)


def _by_day(week: LoadWeek) -> list[tuple[date, list[LedgerLine]]]:
    days = [week.monday + timedelta(days=index) for index in range(7)]
    return [(day, [line for line in week.lines if line.day == day]) for day in days]


def _picture(days: list[Day], week: LoadWeek, size: Any) -> SafeString:
    return mark_safe(week_picture(days, budget_au=week.budget_au, size=size, prefix=f"{size[0]}-"))


def _detail(ledger: list[Any], last: date) -> tuple[load.Detail | None, int]:
    """Short and long loads up to the last day; None before day 28, when they say nothing yet."""
    own = [each for each in ledger if each.day <= last]
    if not own:
        return None, 0
    first = min(each.day for each in own)
    daily = [0.0] * ((last - first).days + 1)
    for each in own:
        daily[(each.day - first).days] += float(each.load_au or 0)
    return load.detail(daily), len(daily)
