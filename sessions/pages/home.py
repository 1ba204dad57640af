"""Tonight: what is next for whoever asks, and what needs attention."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.utils import timezone
from django.utils.safestring import SafeString

from club import queries as club
from club.actor import Actor
from sessions.choices import STILL_TO_COME
from sessions.pages.needs import Needs, needs_of
from sessions.pages.pitch.offline import week_along
from sessions.pages.tape import tape_of
from sessions.pages.tiles import SessionTile, tiles
from sessions.pages.weeks import monday_of
from sessions.queries.calendar.games import fixtures_between
from sessions.queries.ledger import LoadWeek, ledger_rows, load_week
from sessions.queries.outline import part_title
from sessions.queries.plan import kit_to_carry
from sessions.queries.recorded.from_last_time import FromLastTime, from_last_time
from sessions.queries.recorded.to_record import is_to_be_recorded
from sessions.queries.rows import LOOK_BACK_DAYS, bring_parts, frames_between
from sessions.queries.slots.weekly import FreeSlot, free_slots
from sessions.queries.uncovered import slots_in_force, to_come_in, to_come_rows, uncovered

if TYPE_CHECKING:
    from sessions.models import Slot, TrainingSession

DAYS_AHEAD = 13
DAYS_ALONG = 6
MOST_ALONG = 20
MOST_NEXT = 4


@dataclass(frozen=True)
class PartLine:
    """A part of a session in a line: its clock time, name and minutes."""

    number: int
    title: str
    minutes: int


@dataclass(frozen=True)
class Next:
    """A session to come with what to carry."""

    tile: SessionTile
    kit: list[tuple[str, int]]
    is_today: bool
    may_record: bool
    may_plan: bool
    parts: list[PartLine]
    last_time: FromLastTime | None = None
    large: SafeString | None = None  # plan and section, of the first alone
    phone: SafeString | None = None


@dataclass(frozen=True)
class Over:
    """A session that is over and not recorded yet."""

    row: TrainingSession
    ended: datetime


@dataclass(frozen=True)
class Home:
    """`to_record` ended within the last hours and waits for whoever was there; `over` are (squad, week) that stand above their budget; all of the person's own age groups."""

    today: date
    to_record: list[Over]
    next: list[Next]
    free: list[FreeSlot]
    bare: list[SessionTile]
    over: list[tuple[Any, LoadWeek]]
    left: Needs  # what somebody or something that has gone leaves uncovered
    this_week: dict[str, Any]  # for the phone: the sessions that it may take along

    @property
    def needs_attention(self) -> bool:
        return bool(self.free or self.bare or self.over or self.left)


def home_lists(actor: Actor) -> dict[str, Any]:
    """What Today reads of everybody's roles and of sessions to come, for `at_once`; nothing for who plans nothing."""
    if not (actor.is_director or actor.is_coach):
        return {}
    return {"roles": club.role_rows(), "to_come": to_come_rows(club.today(), _planned(actor))}


def home(actor: Actor, read: Mapping[str, club.Rows] | None = None) -> Home:
    """Sessions of a fortnight, this week's slots and loads, and what is uncovered: five queries beside the lists (`home_lists`),
    which are one more where they are not at hand.
    """
    read = club.at_once(actor, home_lists(actor)) if read is None else read
    today = club.today()
    monday = monday_of(today)
    sunday = monday + timedelta(days=6)
    own = None if actor.is_director or actor.is_reader else list(actor.age_groups)
    # Yesterday's, too: on a Monday last night was in the week before.
    first = min(monday, today - timedelta(days=1))
    found = list(
        frames_between(first, today + timedelta(days=DAYS_AHEAD), age_group_ids=own, with_last_time=True)
    )
    sessions = [each for each in found if each.day >= monday]
    now = timezone.now()
    over = [each for each in found if actor.works_with(each.age_group_id) and is_to_be_recorded(each, now)]
    coming = [
        each for each in sessions if each.day >= today and each.state in STILL_TO_COME and each not in over
    ]
    soon = coming[:MOST_NEXT]
    bring_parts(sessions, playing=soon)
    plans = [each for each in coming if actor.plans_for(each.age_group_id)]
    writes = actor.is_director or actor.is_coach
    slots = slots_in_force(today, _planned(actor)) if writes else []
    return Home(
        today=today,
        to_record=[Over(each, each.period.upper) for each in over],
        next=[_next(actor, each, today, first=not n) for n, each in enumerate(tiles(soon, prefix="n"))],
        free=free_slots(slots, sessions, today, sunday),
        bare=tiles((each for each in plans if not each.parts.all()), prefix="b"),
        over=_over(actor, sessions, monday) if writes else [],
        left=_left(read, slots, changes_slots=actor.is_director) if writes else Needs([]),
        this_week=week_along(actor, _to_record(actor, coming, today)),
    )


def _left(read: Mapping[str, club.Rows], slots: list[Slot], *, changes_slots: bool) -> Needs:
    """Of the person's own age groups; the director's are all."""
    who = club.roster_in(read["roles"])
    found = uncovered(who, sessions=to_come_in(read["to_come"]), slots=slots)
    return needs_of(found, who, changes_slots=changes_slots)


def _to_record(actor: Actor, coming: list[TrainingSession], today: date) -> list[UUID]:
    until = today + timedelta(days=DAYS_ALONG)
    found = [each.public_id for each in coming if each.day <= until and actor.works_with(each.age_group_id)]
    return found[:MOST_ALONG]


def _planned(actor: Actor) -> list[int] | None:
    return None if actor.is_director else list(actor.coach_of)


def _next(actor: Actor, tile: SessionTile, today: date, *, first: bool) -> Next:
    session = tile.row
    drawn = first and tile.has_parts
    return Next(
        tile=tile,
        kit=sorted(kit_to_carry(session).items()),
        is_today=session.day == today,
        may_record=actor.works_with(session.age_group_id),
        may_plan=actor.plans_for(session.age_group_id),
        parts=[
            PartLine(number, part_title(each), each.minutes)
            for number, each in enumerate(session.parts.all() if first else (), start=1)
        ],
        last_time=from_last_time(session),
        large=tape_of(session, "large") if drawn else None,
        phone=tape_of(session, "phone") if drawn else None,
    )


def _over(actor: Actor, sessions: list[TrainingSession], monday: date) -> list[tuple[Any, LoadWeek]]:
    """Squads whose running week stands above its budget."""
    groups = {each.squad_id: (each.squad, each.age_group) for each in sessions}
    mine = {pk: both for pk, both in groups.items() if actor.plans_for(both[1].pk)}
    sunday = monday + timedelta(days=6)
    ledger = ledger_rows(mine, monday - timedelta(days=LOOK_BACK_DAYS), sunday)
    fixtures = fixtures_between(monday, sunday, squad_ids=mine)
    weeks = [
        (
            squad,
            load_week(
                monday=monday,
                squad_id=pk,
                age_group=group,
                sessions=sessions,
                entries=ledger,
                fixtures=fixtures,
            ),
        )
        for pk, (squad, group) in mine.items()
    ]
    return [(squad, week) for squad, week in weeks if week.is_over]
