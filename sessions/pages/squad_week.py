"""A team's week on a page of its own: football first (what, who, when, what is next), figures of load in the detail."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from django.utils.formats import date_format
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from club import queries as club
from club.actor import Actor
from club.choices import Rule
from sessions.pages.tiles import SessionTile, tiles
from sessions.pictures.week import DayEntry, WeekDay, WeekTableRow, rows, week_picture
from sessions.planning import load
from sessions.planning.reasons import PlanningReason
from sessions.planning.trim import NearbyGame, TrimChange
from sessions.planning.week import beside
from sessions.queries.calendar.games import Game, fixtures_between, games
from sessions.queries.guides import header_rule
from sessions.queries.ledger import LedgerLine, LoadWeek, directors_detail, ledger_rows
from sessions.queries.rows import LOOK_BACK_DAYS, sessions_between
from sessions.queries.slots.weekly import FreeSlot, free_slots, slots_of
from sessions.queries.whole_week import WholeWeek, matches_of, whole_week

if TYPE_CHECKING:
    from sessions.models import TrainingSession

_OF_A_WEEK = (
    Rule.ORGANISED_HOURS_WEEK,
    Rule.REST_DAYS_WEEK,
    Rule.PLAYING_MINUTES_DAY,
    Rule.PLAYING_MINUTES_TOURNAMENT,
    Rule.HEADERS_PER_SESSION,
    Rule.HEADING_SESSIONS_WEEK,
    Rule.HEADING_SESSIONS_MONTH,
)


@dataclass(frozen=True)
class DayItem:
    """One thing on a day: a session (`tile`), a match or what was entered by hand (`line`, of a list also `game`; that alone where
    it is off), or an empty slot (`free`).
    """

    tile: SessionTile | None = None
    line: LedgerLine | None = None
    game: Game | None = None
    free: FreeSlot | None = None
    beside: NearbyGame | None = None
    is_next: bool = False

    @property
    def is_football(self) -> bool:
        """Whether somebody plays: not an empty slot, nor a session that is off."""
        is_off = (self.tile and self.tile.is_off) or (self.game and self.game.is_off)
        return self.free is None and not is_off


@dataclass(frozen=True)
class DayShown:
    day: date
    things: list[DayItem]
    is_today: bool

    @property
    def is_rest(self) -> bool:
        return not any(each.is_football for each in self.things)


@dataclass(frozen=True)
class OfferShown:
    """A change that is offered and done in one tap, as long as the session stands as it did (`version`)."""

    change: TrimChange
    text: PlanningReason
    version: int


@dataclass(frozen=True)
class WayShown:
    offers: list[OfferShown]
    rest: PlanningReason | None  # what remains where all of it is not enough
    saving_au: float


@dataclass(frozen=True)
class SquadWeek:
    """`table`, pictures and `detail` are figures of load: none of them for age groups that are looked after without AU."""

    squad: Any
    age_group: Any
    whole: WholeWeek
    days: list[DayShown]
    ways: list[WayShown]
    guidelines: list[Any]
    table: tuple[WeekTableRow, ...]
    large: SafeString | None
    phone: SafeString | None
    detail: load.Detail | None
    days_known: int

    @property
    def week(self) -> LoadWeek:
        return self.whole.load

    @property
    def with_au(self) -> bool:
        return self.week.with_au

    @property
    def next(self) -> DayItem | None:
        return next((each for day in self.days for each in day.things if each.is_next), None)

    @property
    def sunday(self) -> date:
        return self.week.monday + timedelta(days=6)

    @property
    def before(self) -> date:
        return self.week.monday - timedelta(days=7)

    @property
    def after(self) -> date:
        return self.week.monday + timedelta(days=7)


def squad_week_page(actor: Actor, squad: Any, monday: date) -> SquadWeek:
    """Nine queries beyond the squad's own, two more where the week is over."""
    sunday, today = monday + timedelta(days=6), club.today()
    group = next(each for each in club.age_groups() if each.pk == squad.age_group_id)
    ledger = ledger_rows([squad.pk], monday - timedelta(days=LOOK_BACK_DAYS), sunday + timedelta(days=1))
    fixtures = fixtures_between(monday - timedelta(days=1), sunday + timedelta(days=1), squad_ids=[squad.pk])
    sessions = sessions_between(monday, sunday, squad_id=squad.pk)
    guidelines = club.guidelines_for(group, monday)
    whole = whole_week(squad.pk, group, monday, sessions, ledger, fixtures, header_rule(guidelines))
    week = whole.load
    slots = [each for each in slots_of(monday, sunday, age_group_ids=[group.pk]) if each.squad_id == squad.pk]
    free = free_slots(slots, sessions, max(monday, today), sunday)
    drawn = [_day(monday + timedelta(days=index), week.lines) for index in range(7)]
    detail, known = directors_detail(actor, week, squad.pk, ledger)
    return SquadWeek(
        squad=squad,
        age_group=group,
        whole=whole,
        days=_days(week, tiles(sessions, pictures=False), free, squad.pk, games(fixtures, ledger), today),
        ways=_ways(whole, sessions),
        guidelines=[each for each in guidelines if each.rule in _OF_A_WEEK],
        table=rows(drawn, _) if week.with_au else (),
        large=_picture(drawn, week, "large") if week.with_au else None,
        phone=_picture(drawn, week, "phone") if week.with_au else None,
        detail=detail,
        days_known=known,
    )


def _days(
    week: LoadWeek,
    shown: Sequence[SessionTile],
    free: Sequence[FreeSlot],
    squad_id: int,
    around: Sequence[Game],
    today: date,
) -> list[DayShown]:
    """Each day with what is on, in order of time; a match stands first: by hand it has none, and in a list perhaps."""
    matches = matches_of(squad_id, around)
    listed = {str(each.public_id): each for each in around if not each.is_by_hand}
    lines = {each.session_id: each for each in week.lines if each.session_id}
    coming = next((each for each in shown if each.is_to_come and each.row.day >= today), None)
    found = []
    for day in week.week_days:
        things = [
            DayItem(line=each, game=listed.get(each.game_id))
            for each in week.lines
            if each.day == day and not each.session_id
        ]
        things += [DayItem(game=each) for each in listed.values() if each.day == day and each.is_off]
        timed = [
            (each.row.starts, _session(each, lines, matches, coming)) for each in shown if each.row.day == day
        ]
        timed += [(each.slot.starts, DayItem(free=each)) for each in free if each.day == day]
        things += [each for _starts, each in sorted(timed, key=lambda pair: pair[0])]
        found.append(DayShown(day, things, is_today=day == today))
    return found


def _session(
    tile: SessionTile, lines: dict[str, LedgerLine], matches: Any, coming: SessionTile | None
) -> DayItem:
    return DayItem(
        tile=tile,
        line=lines.get(str(tile.row.public_id)),
        beside=beside(tile.row.day, matches) if tile.is_to_come else None,
        is_next=tile is coming,
    )


def _ways(whole: WholeWeek, sessions: Sequence[TrainingSession]) -> list[WayShown]:
    versions = {str(each.public_id): each.version for each in sessions}
    shown = []
    for way in whole.lighter:
        offers = [
            OfferShown(change=each, text=each.reason(way.over_au), version=versions[each.session])
            for each in way.changes
        ]
        rest = None if way.is_enough else way.reasons[-1]
        shown.append(WayShown(offers, rest, way.saving_au))
    return shown


def _day(day: date, lines: list[LedgerLine]) -> WeekDay:
    entries = tuple(
        DayEntry(line.kind, line.load_au, line.minutes, line.is_estimated)  # type: ignore[arg-type]
        for line in lines
        if line.day == day
    )
    return WeekDay(date_format(day, "D j M"), entries)


def _picture(days: list[WeekDay], week: LoadWeek, size: Any) -> SafeString:
    drawn = week_picture(days, budget_au=week.budget_au, size=size, prefix=f"{size[0]}-", translate=_)
    return mark_safe(drawn)
