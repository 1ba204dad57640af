"""A team's week: what was recorded, what is still to come, what was entered by hand, against the limits of its age group."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cache
from typing import Any

from django.db.models import QuerySet
from django.utils.formats import date_format

from club import queries as club
from club.actor import Actor
from sessions.choices import STILL_TO_COME, Kind
from sessions.models import Fixture, LedgerEntry, TrainingSession
from sessions.planning import load
from sessions.planning.reasons import PlanningReason
from sessions.planning.volume import MatchPlayed, match_minutes, volume
from sessions.planning.week import WeekAllowance, is_over, usual_match, verdict
from sessions.queries.calendar.games import MATCHES, Game, games
from sessions.queries.counted import counted
from sessions.queries.guides import goes_by_load, week_limits
from sessions.queries.rows import LOOK_BACK_DAYS


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
    game_id: str = ""  # of the match in the list, whether or not its minutes were entered
    headers: int = 0

    @property
    def kind_words(self) -> str:
        return str(Kind(self.kind).label)


@dataclass(frozen=True)
class LoadWeek:
    """A team's week, Monday first. Without `with_au` (the youngest) minutes and days alone speak: nothing of it says AU.

    `told` is the one sentence on it: heavy, usual or light for this team.
    """

    monday: date
    lines: list[LedgerLine]
    daily_au: list[float]
    daily_minutes: list[float]
    total_au: float
    minutes: float
    days: int
    rest_days: int
    hours_most: float | None  # by the figure in force; None where there is none
    limits: WeekAllowance
    with_au: bool
    word: str | None
    told: PlanningReason
    reasons: list[PlanningReason] = field(default_factory=list)

    @property
    def week_days(self) -> list[date]:
        return [self.monday + timedelta(days=index) for index in range(7)]

    @property
    def hours(self) -> float:
        return self.minutes / 60

    @property
    def budget_au(self) -> float | None:
        return self.limits.load_au

    @property
    def budget_minutes(self) -> int | None:
        return self.limits.minutes

    @property
    def over_au(self) -> float:
        return max(0.0, self.total_au - self.budget_au) if self.budget_au is not None else 0.0

    @property
    def is_over(self) -> bool:
        return is_over(self.total_au if self.with_au else None, self.minutes, self.limits)


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


def ledger_rows(squad_ids: Iterable[int], first: date, last: date) -> list[LedgerEntry]:
    """What stands in the ledger for squads as a whole, in order of time, with their sessions. One query."""
    return list(_of_squads().filter(squad_id__in=list(squad_ids), day__range=(first, last)))


@cache  # as `framed`
def _of_squads() -> QuerySet[LedgerEntry]:
    found = LedgerEntry.objects.filter(player__isnull=True).select_related("session")
    return found.order_by("day", "session__starts", "session_id", "pk")


@dataclass(frozen=True)
class Total:
    """A past week summed up."""

    au: float
    minutes: float


def week_totals(rows: Iterable[LedgerEntry], squad_id: int, before: date, *, weeks: int = 6) -> list[Total]:
    """A squad's last weeks before a Monday, oldest first; weeks without anything are left out."""
    sums: dict[date, list[float]] = defaultdict(lambda: [0.0, 0.0])
    for row in rows:
        if row.squad_id == squad_id and row.day < before:
            week = sums[row.day - timedelta(days=row.day.weekday())]
            week[0] += float(row.load_au or 0)
            week[1] += float(row.minutes)
    return [Total(*sums[monday]) for monday in sorted(sums)][-weeks:]


def load_week(
    *,
    monday: date,
    squad_id: int,
    age_group: Any,
    sessions: Iterable[TrainingSession],
    entries: Iterable[LedgerEntry],
    fixtures: Iterable[Fixture],
) -> LoadWeek:
    """Put a squad's week together from rows that are at hand, past weeks among the entries. Days are the club's calendar.

    A match of the list counts with the minutes that were entered on its day; to come, as the team's last ones were.
    """
    entries = list(entries)
    lines = _lines(monday, squad_id, sessions, entries, fixtures)
    daily_au, daily_minutes = [0.0] * 7, [0.0] * 7
    for line in lines:
        daily_au[(line.day - monday).days] += line.load_au
        daily_minutes[(line.day - monday).days] += line.minutes
    most = week_limits(age_group, monday)
    played_on = {(line.day - monday).days for line in lines}
    sums, hours = load.week(daily_au), volume(daily_minutes, most, played_on)
    with_au, minutes = goes_by_load(age_group), sum(daily_minutes)
    limits = limits_of(age_group)
    past = [each.au if with_au else each.minutes for each in week_totals(entries, squad_id, monday)]
    return LoadWeek(
        monday=monday,
        lines=lines,
        daily_au=daily_au,
        daily_minutes=daily_minutes,
        total_au=sums.total,
        minutes=minutes,
        days=hours.days,
        rest_days=hours.rest_days,
        hours_most=most.hours_most,
        limits=limits,
        with_au=with_au,
        word=load.lighter_usual_heavier(sums.total if with_au else minutes, past),
        told=verdict(sums.total if with_au else None, minutes, limits, past),
        reasons=[*hours.reasons, *match_minutes(_played(lines), most)],
    )


def _played(lines: Iterable[LedgerLine]) -> list[MatchPlayed]:
    """The matches and tournaments of a week: minutes stand in the ledger as those of one player."""
    return [
        MatchPlayed(date_format(each.day, "D j M"), each.minutes, each.kind == Kind.TOURNAMENT)
        for each in lines
        if each.kind in MATCHES and not each.is_estimated
    ]


def directors_detail(
    actor: Actor, week: LoadWeek, squad_id: int, rows: Iterable[LedgerEntry]
) -> tuple[load.Detail | None, int]:
    """Monotony, strain, short and long loads up to the week's end, and how many days are known.

    For the director alone; None before day 28, when they say nothing yet, and for groups that go by minutes and days.
    """
    if not (actor.is_director and week.with_au):
        return None, 0
    last = week.monday + timedelta(days=6)
    own = [each for each in rows if each.squad_id == squad_id and each.day <= last]
    if not own:
        return None, 0
    first = min(each.day for each in own)
    daily = [0.0] * ((last - first).days + 1)
    for each in own:
        daily[(each.day - first).days] += float(each.load_au or 0)
    return load.detail(daily), len(daily)


def limits_of(age_group: Any) -> WeekAllowance:
    """What a week of this age group may hold; no AU for the youngest."""
    by_load = goes_by_load(age_group) and age_group.week_load_au
    return WeekAllowance(float(age_group.week_load_au) if by_load else None, age_group.week_minutes)


def _lines(
    monday: date,
    squad_id: int,
    sessions: Iterable[TrainingSession],
    entries: Sequence[LedgerEntry],
    fixtures: Iterable[Fixture],
) -> list[LedgerLine]:
    sunday = monday + timedelta(days=6)
    own = [each for each in entries if each.squad_id == squad_id]
    here = [
        each
        for each in games((row for row in fixtures if row.squad_id == squad_id), own)
        if monday <= each.day <= sunday and not each.is_off
    ]
    of_entry = {each.entry.pk: each for each in here if each.entry}
    lines = [_entered(each, of_entry.get(each.pk)) for each in own if monday <= each.day <= sunday]
    usual = usual_match(
        [
            (float(each.minutes), float(each.load_au or 0))
            for each in own
            if each.kind == Kind.MATCH and monday - timedelta(days=LOOK_BACK_DAYS) <= each.day < monday
        ]
    )
    lines += [_listed(each, usual) for each in here if each.entry is None]
    lines += [
        _to_come(each)
        for each in sessions
        if each.squad_id == squad_id and each.state in STILL_TO_COME and monday <= each.day <= sunday
    ]
    return sorted(lines, key=lambda line: line.day)


def _listed(game: Game, usual: tuple[float, float]) -> LedgerLine:
    """A match of the list whose minutes nobody entered: to come as the last ones, over as nothing that is known."""
    is_to_come = game.day >= club.today()
    minutes, load_au = usual if is_to_come else (0.0, 0.0)
    return LedgerLine(
        day=game.day,
        kind=game.kind,
        title=game.title,
        minutes=minutes,
        load_au=load_au,
        is_estimated=True,
        is_to_come=is_to_come,
        game_id=str(game.public_id),
    )


def _entered(entry: LedgerEntry, game: Game | None) -> LedgerLine:
    """One entry; of a match that the list has too, by its name there."""
    return LedgerLine(
        day=entry.day,
        kind=entry.kind,
        title=str(entry.session)
        if entry.session
        else game.title
        if game and not game.is_by_hand
        else entry.title,
        minutes=float(entry.minutes),
        load_au=float(entry.load_au or 0),
        is_estimated=entry.is_estimated,
        is_to_come=False,
        session_id=str(entry.session.public_id) if entry.session else "",
        entry_id="" if entry.session else str(entry.public_id),
        game_id=str(game.public_id) if game and not game.is_by_hand else "",
        headers=entry.headers,
    )


def _to_come(session: TrainingSession) -> LedgerLine:
    found = counted(session)
    return LedgerLine(
        day=session.day,
        kind=Kind.TRAINING,
        title=str(session),
        minutes=found.minutes,
        load_au=found.load_au,
        is_estimated=found.is_estimated,
        is_to_come=True,
        session_id=str(session.public_id),
    )
