"""A block on one page: this week's gaps, then every team's weeks and what it is taught against what was meant."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any, Literal

from django.utils.safestring import SafeString, mark_safe

from club import queries as club
from club.actor import Actor
from sessions import bridge
from sessions.access import reads_sessions, sees_weeks
from sessions.choices import State
from sessions.pages.block.at_hand import BlockAtHand, by_team, empty_slots, minutes_of_block, themes_of
from sessions.pages.block.gaps import Gap, Lacks, gaps_of
from sessions.pages.weeks import monday_of
from sessions.pictures.themes import theme_bar
from sessions.planning.taught import OnTheme
from sessions.queries.block.taught import taught_by
from sessions.queries.calendar.games import Game, fixtures_between, games
from sessions.queries.calendar.taking import closed_by_week
from sessions.queries.ledger import ledger_rows
from sessions.queries.rows import sessions_between, zone_words
from sessions.queries.slots.weekly import FreeSlot, slots_of
from sessions.queries.uncovered import FEWEST

if TYPE_CHECKING:
    from sessions.models import ClosedDays, TrainingSession


@dataclass(frozen=True)
class InWeek:
    """A session in a team's week: its theme in words, and whether it is done, late to be recorded, or called off."""

    session: TrainingSession
    words: str
    state: Literal["done", "late", "planned", "off"]


@dataclass(frozen=True)
class TeamWeek:
    """One team in one week."""

    monday: date
    sessions: list[InWeek]
    free: list[FreeSlot]
    games: list[Game]  # matches and tournaments
    closed: list[ClosedDays]  # to all

    @property
    def is_bare(self) -> bool:
        return not (self.sessions or self.free or self.games)


@dataclass(frozen=True)
class ThemeLine:
    """What a team is taught of a theme, drawn to the scale of the page."""

    theme: Any
    minutes: OnTheme
    bar: SafeString


@dataclass(frozen=True)
class TeamBlock:
    """A team's block: its weeks, its themes, who is down for it, where, and how many come.

    `themes` are those that are meant, `others` what is taught besides; where nothing is meant, all are `themes`.
    """

    team: Any
    weeks: list[TeamWeek]
    themes: list[ThemeLine]
    others: list[ThemeLine]
    minutes: float
    people: list[str]
    place: str
    came: float | None
    may_plan: bool
    is_open: bool  # whether whoever looks may see its weeks
    may_read: bool  # and its sessions

    @property
    def is_short(self) -> bool:
        """Whether fewer adults are down for its slots than a team has."""
        return len(self.people) < FEWEST

    @property
    def others_minutes(self) -> float:
        return sum(each.minutes.done + each.minutes.planned for each in self.others)


@dataclass(frozen=True)
class BlockPage:
    """The page. `forgotten` are themes that no team is taught in this block, those that were meant for some team first."""

    block: Any
    before: Any
    after: Any
    mondays: list[date]
    this_monday: date
    gaps: dict[Lacks, list[Gap]] = field(default_factory=dict)
    lines: list[TeamBlock] = field(default_factory=list)
    forgotten: list[str] = field(default_factory=list)
    late: int = 0

    @property
    def count_ofgaps_of(self) -> int:
        return sum(len(each) for each in self.gaps.values())


def block_page(actor: Actor, block: Any, blocks: Sequence[Any]) -> BlockPage:
    """Eleven queries, however many teams and sessions there are; one more where another drill was played in a part's place."""
    mondays = _mondays(block)
    teams = list(club.squads(block.season))
    sessions = sessions_between(block.first_day, block.last_day)
    taught = taught_by(sessions)
    slots = list(slots_of(block.first_day, block.last_day))
    ids = [each.pk for each in teams]
    ledger = ledger_rows(ids, block.first_day, block.last_day)
    fixtures = fixtures_between(block.first_day, block.last_day, squad_ids=ids)
    themes = {each.key: each for each in club.themes()}
    at_hand = BlockAtHand(
        sessions=by_team(sessions),
        taught=by_team(taught, of=lambda each: each.session.squad_id),
        slots=by_team(slots),
        games=by_team(each for each in games(fixtures, ledger) if each.is_match),
        closed=dict(closed_by_week(mondays)),
        shares=club.shares_of(block),
        themes=themes,
        today=club.today(),
    )
    minutes = {each.pk: minutes_of_block(each, block, at_hand) for each in teams}
    most = max((minutes[each.pk] * _meant(each, at_hand) / 100 for each in teams), default=0.0)
    lines = [_line(actor, each, block, mondays, at_hand, minutes[each.pk], most) for each in teams]
    place = list(blocks).index(block) if block in blocks else 0
    return BlockPage(
        block=block,
        before=blocks[place - 1] if place else None,
        after=blocks[place + 1] if place + 1 < len(blocks) else None,
        mondays=mondays,
        this_monday=monday_of(at_hand.today),
        gaps=gaps_of(actor, teams, at_hand),
        lines=lines,
        forgotten=_forgotten(lines, themes),
        late=sum(each.is_late for each in taught),
    )


def _mondays(block: Any) -> list[date]:
    first, found = monday_of(block.first_day), list[date]()
    while first <= block.last_day:
        found.append(first)
        first += timedelta(days=7)
    return found


def _meant(team: Any, at_hand: BlockAtHand) -> int:
    return max(at_hand.shares.get(team.age_group_id, {}).values(), default=0)


def _line(
    actor: Actor,
    team: Any,
    block: Any,
    mondays: Sequence[date],
    at_hand: BlockAtHand,
    minutes: float,
    most: float,
) -> TeamBlock:
    taught, slots = at_hand.taught.get(team.pk, []), at_hand.slots.get(team.pk, [])
    found = themes_of(taught, at_hand.shares.get(team.age_group_id, {}), minutes)
    is_open = sees_weeks(actor, team.age_group_id)
    came = [came for each in taught if is_open and each.is_done and (came := bridge.came(each.session))]
    listed = [
        ThemeLine(at_hand.themes[key], each, mark_safe(theme_bar(each, most)))
        for key, each in found.items()
        if key in at_hand.themes
    ]
    meant = [each for each in listed if each.minutes.meant]
    return TeamBlock(
        team=team,
        weeks=[_week(team, monday, block, at_hand) for monday in mondays],
        themes=meant or listed,
        others=[each for each in listed if not each.minutes.meant] if meant else [],
        minutes=minutes,
        people=list(dict.fromkeys(row["name"] for slot in slots for row in slot.coach_rows)),
        place="; ".join(dict.fromkeys(zone_words(slot.zone_rows) for slot in slots if slot.zone_rows)),
        came=sum(came) / len(came) if came else None,
        may_plan=actor.plans_for(team.age_group_id),
        is_open=is_open,
        may_read=reads_sessions(actor, team.age_group_id),
    )


def _week(team: Any, monday: date, block: Any, at_hand: BlockAtHand) -> TeamWeek:
    first, last = max(monday, block.first_day), min(monday + timedelta(days=6), block.last_day)
    late = {each.session.pk for each in at_hand.taught.get(team.pk, []) if each.is_late}
    done = {each.session.pk for each in at_hand.taught.get(team.pk, []) if each.is_done}
    return TeamWeek(
        monday=monday,
        sessions=[
            InWeek(
                session=each,
                words=each.theme.title if each.theme else each.title,
                state="off"
                if each.state == State.CANCELLED
                else "done"
                if each.pk in done
                else "late"
                if each.pk in late
                else "planned",
            )
            for each in at_hand.sessions.get(team.pk, [])
            if first <= each.day <= last
        ],
        free=empty_slots(team, max(first, at_hand.today), last, at_hand),
        games=[each for each in at_hand.games.get(team.pk, []) if first <= each.day <= last],
        closed=[each for each in at_hand.closed.get(monday, []) if each.pitch_id is None],
    )


def _forgotten(lines: Iterable[TeamBlock], themes: Mapping[str, Any]) -> list[str]:
    taught, meant = set[str](), set[str]()
    for line in lines:
        for each in (*line.themes, *line.others):
            if each.minutes.done or each.minutes.planned:
                taught.add(each.theme.key)
            if each.minutes.meant:
                meant.add(each.theme.key)
    missing = [key for key in themes if key not in taught]
    return [themes[key].title for key in sorted(missing, key=lambda key: key not in meant)]
