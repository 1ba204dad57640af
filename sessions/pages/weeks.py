"""Weeks as they are planned: tiles of sessions, free slots and loads, squad by squad."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from django.utils.safestring import SafeString, mark_safe

from club import queries as club
from club.actor import Actor
from sessions import bridge
from sessions.choices import STILL_TO_COME, TOOK_PLACE, State
from sessions.pictures.skyline import skyline
from sessions.planning import load
from sessions.planning.account import account
from sessions.planning.budget import week_reasons
from sessions.planning.plan import SessionPlan
from sessions.planning.reasons import Reason
from sessions.planning.trim import changes_of, trim
from sessions.queries.ledger import LoadWeek, factor_at_hand, factor_of, ledger_rows, load_week, week_totals
from sessions.queries.outline import part_title
from sessions.queries.rows import (
    LOOK_BACK_DAYS,
    FreeSlot,
    free_slots,
    place_words,
    sessions_between,
    slots_of,
    staff_rows_of,
)
from sessions.validators import minutes_between

if TYPE_CHECKING:
    from sessions.models import LedgerEntry, Slot, TrainingSession

WEEKS_SHOWN = 4


@dataclass(frozen=True)
class Cell:
    """One age group in one week. `loads` has one week for each squad, `free` the slots that nothing fills."""

    monday: date
    tiles: list[SessionTile]
    free: list[FreeSlot]
    loads: list[tuple[Any, LoadWeek]]

    @property
    def reasons(self) -> list[Reason]:
        return [each for _, week in self.loads for each in week.reasons]

    @property
    def is_over(self) -> bool:
        return any(week.is_over for _, week in self.loads)

    @property
    def is_bare(self) -> bool:
        return not (self.tiles or self.free or any(week.lines for _, week in self.loads))


@dataclass(frozen=True)
class GroupRow:
    """One age group over the weeks."""

    age_group: Any
    squads: list[Any]
    cells: list[Cell]
    is_own: bool
    may_plan: bool


@dataclass(frozen=True)
class Weeks:
    """The page: Mondays across, age groups down."""

    mondays: list[date]
    this_monday: date
    shown: date
    rows: list[GroupRow]

    @property
    def last_monday(self) -> date:
        return self.mondays[-1]

    @property
    def before(self) -> date:
        return self.mondays[0] - timedelta(days=7 * len(self.mondays))

    @property
    def after(self) -> date:
        return self.mondays[-1] + timedelta(days=7)


def monday_of(day: date) -> date:
    return day - timedelta(days=day.weekday())


def iso_week(day: date) -> str:
    """`2026-W48`."""
    year, week, _ = day.isocalendar()
    return f"{year}-W{week:02}"


def weeks_page(actor: Actor, first: date, *, shown: date | None = None, weeks: int = WEEKS_SHOWN) -> Weeks:
    """Six queries, however many age groups and sessions there are."""
    mondays = [first + timedelta(days=7 * index) for index in range(weeks)]
    last = mondays[-1] + timedelta(days=6)
    squads = list(club.squads())
    sessions = sessions_between(first, last)
    at_hand = _AtHand(
        sessions=sessions,
        tiles=tiles(sessions, prefix="w"),
        slots=list(slots_of(first, last)),
        ledger=ledger_rows([each.pk for each in squads], first - timedelta(days=LOOK_BACK_DAYS), last),
        today=club.today(),
    )
    groups = sorted(club.age_groups(), key=lambda each: (each.pk not in actor.coach_of, each.position))
    rows = [
        _row(actor, group, [each for each in squads if each.age_group_id == group.pk], mondays, at_hand)
        for group in groups
    ]
    this = monday_of(at_hand.today)
    return Weeks(mondays, this, shown or (this if this in mondays else first), rows)


@dataclass(frozen=True)
class _AtHand:
    sessions: list[TrainingSession]
    tiles: list[SessionTile]
    slots: list[Slot]
    ledger: list[LedgerEntry]
    today: date


def _row(actor: Actor, group: Any, squads: list[Any], mondays: list[date], at_hand: _AtHand) -> GroupRow:
    ids = {each.pk for each in squads}
    own = replace(
        at_hand,
        sessions=[each for each in at_hand.sessions if each.age_group_id == group.pk],
        tiles=[each for each in at_hand.tiles if each.row.age_group_id == group.pk],
        slots=[each for each in at_hand.slots if each.squad_id in ids],
        ledger=[each for each in at_hand.ledger if each.squad_id in ids],
    )
    return GroupRow(
        age_group=group,
        squads=squads,
        cells=[_cell(group, squads, monday, own) for monday in mondays],
        is_own=group.pk in actor.age_groups,
        may_plan=actor.plans_for(group.pk),
    )


def _cell(group: Any, squads: list[Any], monday: date, at_hand: _AtHand) -> Cell:
    sunday = monday + timedelta(days=6)
    free = free_slots(at_hand.slots, at_hand.sessions, max(monday, at_hand.today), sunday)
    return Cell(
        monday=monday,
        tiles=[each for each in at_hand.tiles if monday <= each.row.day <= sunday],
        free=free,
        loads=[
            (squad, squad_week(squad.pk, group, monday, at_hand.sessions, at_hand.ledger)) for squad in squads
        ],
    )


def squad_week(
    squad_id: int,
    age_group: Any,
    monday: date,
    sessions: Iterable[TrainingSession],
    ledger: list[LedgerEntry],
) -> LoadWeek:
    """A squad's week against its budget, with the least changes that would bring it under. No query."""
    k = factor_of(ledger, squad_id, before=monday)
    sessions = list(sessions)
    week = load_week(
        monday=monday,
        squad_id=squad_id,
        age_group=age_group,
        sessions=sessions,
        entries=ledger,
        k=k,
        past_au=week_totals(ledger, squad_id, monday),
    )
    clears = _clears(week, squad_id, sessions, k)
    over = week_reasons(week.total_au, week.budget_au, clears)
    return replace(week, reasons=[*over, *week.reasons])


def _clears(week: LoadWeek, squad_id: int, sessions: list[TrainingSession], k: float) -> tuple[Reason, ...]:
    """What could be taken off the week's sessions that are still to come."""
    if week.over_au <= 0:
        return ()
    sunday = week.monday + timedelta(days=6)
    coming = [
        each
        for each in sessions
        if each.squad_id == squad_id and each.state in STILL_TO_COME and week.monday <= each.day <= sunday
    ]
    offers = [
        changes_of(bridge.part_of(part, title=f"{part_title(part)} ({each.day:%a})"), k)
        for each in coming
        for part in each.parts.all()
    ]
    return trim(week.over_au, offers).reasons


def age_group_week(age_group: Any, monday: date) -> list[tuple[Any, LoadWeek]]:
    """Each squad of an age group with its week. Four queries."""
    squads = list(club.squads(age_group_ids=[age_group.pk]))
    sunday = monday + timedelta(days=6)
    sessions = sessions_between(monday, sunday, age_group_ids=[age_group.pk])
    ledger = ledger_rows([each.pk for each in squads], monday - timedelta(days=LOOK_BACK_DAYS), sunday)
    return [(squad, squad_week(squad.pk, age_group, monday, sessions, ledger)) for squad in squads]


if TYPE_CHECKING:
    from sessions.models import TrainingSession


@dataclass(frozen=True)
class SessionTile:
    """One session with its skyline in small; loads in AU, None for age groups that have no budget in AU."""

    row: TrainingSession
    title: str
    place: str
    people: list[str]
    minutes: int
    expected_au: float | None
    budget_au: int | None
    picture: SafeString | None

    @property
    def is_over(self) -> bool:
        return self.budget_au is not None and (self.expected_au or 0) > self.budget_au

    @property
    def over_au(self) -> float:
        return (self.expected_au or 0) - (self.budget_au or 0)

    @property
    def is_empty(self) -> bool:
        """Planned, but nothing in it yet."""
        return self.row.state in STILL_TO_COME and self.picture is None

    @property
    def is_to_come(self) -> bool:
        return self.row.state in STILL_TO_COME

    @property
    def took_place(self) -> bool:
        return self.row.state in TOOK_PLACE

    @property
    def is_off(self) -> bool:
        return self.row.state == State.CANCELLED


def small_plan(session: TrainingSession) -> SessionPlan:
    """A session's plan without documents: enough for its skyline and its load."""
    settings = club.club_settings()
    parts = [bridge.part_of(each, title=part_title(each)) for each in session.parts.all()]
    return bridge.plan_of(session, parts, zone=settings.time_zone, clear_minutes=settings.clear_minutes)


def tiles(sessions: Iterable[TrainingSession], *, prefix: str = "") -> list[SessionTile]:
    """Sessions in small, their pictures at one scale, from rows that are at hand. No query."""
    plans = [(each, small_plan(each)) for each in sessions]
    scale = max((plan.minutes for _, plan in plans), default=60)
    return [_tile(each, plan, scale, prefix) for each, plan in plans]


def _tile(session: TrainingSession, plan: SessionPlan, minutes_shown: float, prefix: str) -> SessionTile:
    with_au = session.age_group.session_load_au is not None
    k = factor_at_hand(session)
    budget = session.age_group.session_load_au
    picture = skyline(
        plan,
        budget_au=float(budget) if budget else None,
        k=k,
        size="small",
        minutes_shown=minutes_shown,
        name=str(session),
        prefix=f"{prefix}s{str(session.public_id)[:8]}-",
    )
    expected = load.expected(account(plan).load_au, k)
    return SessionTile(
        row=session,
        title=str(session),
        place=place_words(session),
        people=[each["name"] for each in staff_rows_of(session)],
        minutes=session.delivered_minutes or minutes_between(session.starts, session.ends),
        expected_au=expected if with_au else None,
        budget_au=budget,
        picture=mark_safe(picture) if plan.parts else None,
    )
