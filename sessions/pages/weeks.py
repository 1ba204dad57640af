"""Weeks as they are planned: tiles of sessions, free slots and loads, squad by squad."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from club import queries as club
from club.actor import Actor
from sessions.pages.tiles import SessionTile, tiles
from sessions.planning.load import Detail
from sessions.queries.calendar.games import Game, fixtures_between, games
from sessions.queries.calendar.taking import closed_by_week
from sessions.queries.guides import header_rule
from sessions.queries.ledger import LoadWeek, directors_detail, ledger_rows, load_week
from sessions.queries.rows import LOOK_BACK_DAYS, sessions_between
from sessions.queries.slots.weekly import FreeSlot, free_slots, slots_of
from sessions.queries.whole_week import WholeWeek, whole_week

if TYPE_CHECKING:
    from sessions.models import ClosedDays, Fixture, LedgerEntry, Slot, TrainingSession

WEEKS_SHOWN = 4


@dataclass(frozen=True)
class WeekCell:
    """One age group in one week. `loads` has one week for each squad, `free` the slots that nothing fills."""

    monday: date
    tiles: list[SessionTile]
    free: list[FreeSlot]
    loads: list[tuple[Any, LoadWeek]]
    games: list[Game]  # matches, tournaments and training elsewhere

    @property
    def is_over(self) -> bool:
        return any(week.is_over for _, week in self.loads)

    @property
    def is_bare(self) -> bool:
        return not (self.tiles or self.free or self.games or any(week.lines for _, week in self.loads))


@dataclass(frozen=True)
class AgeGroupWeeks:
    """One age group over the weeks."""

    age_group: Any
    squads: list[Any]
    cells: list[WeekCell]
    is_own: bool
    may_plan: bool


@dataclass(frozen=True)
class Weeks:
    """The page: Mondays across, age groups down."""

    mondays: list[date]
    this_monday: date
    shown: date
    rows: list[AgeGroupWeeks]
    closed: list[tuple[date, list[ClosedDays]]] = field(default_factory=list)  # by Monday

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
    """Eight queries, however many age groups and sessions there are."""
    mondays = [first + timedelta(days=7 * index) for index in range(weeks)]
    last = mondays[-1] + timedelta(days=6)
    squads = list(club.squads())
    ids = [each.pk for each in squads]
    ledger = ledger_rows(ids, first - timedelta(days=LOOK_BACK_DAYS), last)
    fixtures = fixtures_between(first, last, squad_ids=ids)
    sessions = sessions_between(first, last)
    at_hand = _AtHand(
        sessions=sessions,
        tiles=tiles(sessions, pictures=False),
        slots=list(slots_of(first, last)),
        ledger=ledger,
        today=club.today(),
        fixtures=fixtures,
        games=games(fixtures, ledger),
    )
    groups = sorted(club.age_groups(), key=lambda each: (each.pk not in actor.coach_of, each.position))
    rows = [
        _row(actor, group, [each for each in squads if each.age_group_id == group.pk], mondays, at_hand)
        for group in groups
    ]
    this = monday_of(at_hand.today)
    return Weeks(mondays, this, shown or (this if this in mondays else first), rows, closed_by_week(mondays))


@dataclass(frozen=True)
class _AtHand:
    sessions: list[TrainingSession]
    tiles: list[SessionTile]
    slots: list[Slot]
    ledger: list[LedgerEntry]
    today: date
    fixtures: list[Fixture]
    games: list[Game]


def _row(actor: Actor, group: Any, squads: list[Any], mondays: list[date], at_hand: _AtHand) -> AgeGroupWeeks:
    ids = {each.pk for each in squads}
    own = replace(
        at_hand,
        sessions=[each for each in at_hand.sessions if each.age_group_id == group.pk],
        tiles=[each for each in at_hand.tiles if each.row.age_group_id == group.pk],
        slots=[each for each in at_hand.slots if each.squad_id in ids],
        ledger=[each for each in at_hand.ledger if each.squad_id in ids],
        games=[each for each in at_hand.games if each.squad_id in ids],
    )
    return AgeGroupWeeks(
        age_group=group,
        squads=squads,
        cells=[_cell(group, squads, monday, own) for monday in mondays],
        is_own=group.pk in actor.age_groups,
        may_plan=actor.plans_for(group.pk),
    )


def _cell(group: Any, squads: list[Any], monday: date, at_hand: _AtHand) -> WeekCell:
    sunday = monday + timedelta(days=6)
    free = free_slots(at_hand.slots, at_hand.sessions, max(monday, at_hand.today), sunday)
    return WeekCell(
        monday=monday,
        tiles=[each for each in at_hand.tiles if monday <= each.row.day <= sunday],
        free=free,
        loads=[(squad, _load(squad.pk, group, monday, at_hand)) for squad in squads],
        games=[each for each in at_hand.games if monday <= each.day <= sunday],
    )


def _load(squad_id: int, group: Any, monday: date, at_hand: _AtHand) -> LoadWeek:
    return load_week(
        monday=monday,
        squad_id=squad_id,
        age_group=group,
        sessions=at_hand.sessions,
        entries=at_hand.ledger,
        fixtures=at_hand.fixtures,
    )


def age_group_week(actor: Actor, age_group: Any, monday: date) -> list[tuple[Any, WholeWeek, Detail | None]]:
    """Each squad of an age group with its week, and the director's detail. Five queries, two to four for each squad."""
    squads = list(club.squads(age_group_ids=[age_group.pk]))
    sunday = monday + timedelta(days=6)
    sessions = sessions_between(monday, sunday, age_group_ids=[age_group.pk])
    first, last = monday - timedelta(days=LOOK_BACK_DAYS), sunday + timedelta(days=1)
    ids = [each.pk for each in squads]
    ledger = ledger_rows(ids, first, last)
    fixtures = fixtures_between(monday - timedelta(days=1), last, squad_ids=ids)
    rule = header_rule(club.guidelines_for(age_group))
    found = []
    for each in squads:
        whole = whole_week(each.pk, age_group, monday, sessions, ledger, fixtures, rule)
        found.append((each, whole, directors_detail(actor, whole.load, each.pk, ledger)[0]))
    return found
