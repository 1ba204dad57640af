"""A match of the list is one fact: weeks, a team's week, the block, calendars and the load all read it from one place."""

from datetime import date, timedelta
from typing import Any

import pytest

from club import actions as club_actions
from club.queries import actor_of, today
from sessions import actions, pages
from sessions.choices import Kind
from sessions.ics.table import cells_of, valued
from sessions.models import Fixture
from sessions.pages.weeks import monday_of, weeks_page
from sessions.planning.volume import WeekLimits, volume
from sessions.planning.week import usual_match
from sessions.queries.squad_context import week_so_far
from tests.factories_sessions import planned_session
from tests.people import World
from tests.sessions.calendar.reading import LONDON, address, entries_in, of_team, text_at
from tests.sessions.pages.test_team_week import squad_of


def listed(world: World, day: date, title: str = "Ridgeway") -> Fixture:
    rows = [
        valued(each, "matches", str(LONDON)) for each in cells_of(f"{day},10:00,11:30,{title}", "matches")
    ]
    actions.take_matches(squad_id=world.own.squad.pk, rows=rows)
    return Fixture.objects.get(squad=world.own.squad, day=day)


def by_hand(world: World, day: date, minutes: int = 60, effort: float = 6.0) -> Any:
    return actions.add_ledger_entry(
        squad_id=world.own.squad.pk,
        day=day,
        kind=Kind.MATCH,
        title="Cup",
        minutes=minutes,
        effort=effort,
        entered_by_id=world.people.coach.pk,
    )


def team_week(world: World, day: date) -> Any:
    return pages.squad_week_page(actor_of(world.people.director), squad_of(world), monday_of(day))


def titles(world: World, day: date) -> dict[str, list[str]]:
    """What stands on a day, by the place that says it."""
    actor = actor_of(world.people.director)
    weeks = weeks_page(actor, monday_of(day))
    cell = next(each for each in weeks.rows if each.age_group.pk == world.own.age_group.pk).cells[0]
    season = world.season
    block = season.blocks.first() or club_actions.add_block(
        season=season, name="x", first_day=season.period.lower, last_day=season.last_day
    )
    team = next(
        each for each in pages.block_page(actor, block, [block]).lines if each.team.pk == world.own.squad.pk
    )
    entries = entries_in(text_at(address(world.people.coach, of_team(world.own)))).values()
    shown = next(each for each in team_week(world, day).days if each.day == day)
    return {
        "weeks": [each.title for each in cell.games if each.day == day],
        "block": [each.title for week in team.weeks for each in week.games if each.day == day],
        "team": [(thing.line or thing.game).title for thing in shown.things],
        "calendar": [
            each.summary.value
            for each in entries
            if (each.dtstart.value.date() if hasattr(each.dtstart.value, "date") else each.dtstart.value)
            == day
        ],
    }


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("in_list", "entered", "said"), [(1, 0, "Ridgeway"), (0, 1, "Cup"), (1, 1, "Ridgeway")]
)
def test_a_match_stands_once_and_by_one_name_wherever_a_week_is_shown(
    world: World, in_list: int, entered: int, said: str
) -> None:
    day = monday_of(today()) + timedelta(days=12)
    if in_list:
        listed(world, day)
    if entered:
        by_hand(world, day)
    assert titles(world, day) == {key: [said] for key in ("weeks", "block", "team", "calendar")}


@pytest.mark.django_db
def test_a_match_that_is_off_is_said_to_be_off_and_counts_nowhere(world: World) -> None:
    day = monday_of(today()) + timedelta(days=12)
    actions.call_off_match(fixture=listed(world, day))
    assert titles(world, day) == {
        "weeks": ["Ridgeway"],
        "block": [],
        "team": ["Ridgeway"],
        "calendar": ["Cancelled: Ridgeway"],
    }
    assert team_week(world, day).week.days == 0


@pytest.mark.django_db
def test_a_match_ahead_counts_as_the_last_ones_until_its_minutes_are_entered(world: World) -> None:
    monday = monday_of(today())
    for weeks, minutes in ((-3, 50), (-2, 60), (-1, 80)):
        by_hand(world, monday + timedelta(weeks=weeks, days=5), minutes)
    day = monday + timedelta(weeks=1, days=5)
    assert team_week(world, day).week.total_au == 0
    listed(world, day)
    week = team_week(world, day).week
    assert (week.minutes, week.total_au, week.days) == (60, 360, 1)
    assert [(each.is_estimated, each.is_to_come) for each in week.lines] == [(True, True)]
    # The week's budget of a session says the same.
    session = planned_session(place=world.own, day=day - timedelta(days=2))
    assert week_so_far(session).load_au == 360
    by_hand(world, day, 90, 7.0)
    week = team_week(world, day).week
    assert [
        (each.minutes, each.load_au, each.is_estimated) for each in week.lines if not each.session_id
    ] == [(90, 630, False)]


@pytest.mark.django_db
def test_two_matches_on_a_day_stand_twice_and_what_is_entered_is_the_first(world: World) -> None:
    day = monday_of(today()) + timedelta(days=12)
    text = f"{day},10:00,11:00,Ridgeway\n{day},12:00,13:00,Fenwick"
    rows = [valued(each, "matches", str(LONDON)) for each in cells_of(text, "matches")]
    actions.take_matches(squad_id=world.own.squad.pk, rows=rows)
    two = ["Ridgeway", "Fenwick"]
    assert titles(world, day) == dict.fromkeys(("weeks", "block", "team", "calendar"), two)
    by_hand(world, day, 25)
    assert titles(world, day) == dict.fromkeys(("weeks", "block", "team", "calendar"), two)
    week = team_week(world, day).week
    assert [(each.title, each.minutes) for each in week.lines] == [("Ridgeway", 25), ("Fenwick", 0)]
    by_hand(world, day, 20)
    by_hand(world, day, 15)  # one more than the list has: it stands under its own name
    three = {key: sorted(each) for key, each in titles(world, day).items()}
    assert three == {key: ["Cup", *sorted(two)] for key in three}
    assert team_week(world, day).week.minutes == 60


@pytest.mark.django_db
def test_the_day_before_a_match_of_the_list_is_said(world: World) -> None:
    day = monday_of(today()) + timedelta(days=13)  # the Sunday of next week
    planned_session(place=world.own, day=day - timedelta(days=1))
    listed(world, day)
    found = [thing.beside for each in team_week(world, day).days for thing in each.things if thing.beside]
    assert [(each.when, each.title) for each in found] == [("before", "Ridgeway")]
    after = day + timedelta(days=1)
    planned_session(place=world.own, day=after)
    found = [thing.beside for each in team_week(world, after).days for thing in each.things if thing.beside]
    assert [(each.when, each.title) for each in found] == [("after", "Ridgeway")]


def test_what_a_next_match_may_come_to_is_the_median_of_the_last() -> None:
    assert usual_match([]) == (0, 0)
    assert usual_match([(60, 300), (90, 500), (20, 90)]) == (60, 300)


def test_a_day_with_football_of_unknown_length_is_no_rest_day() -> None:
    found = volume([0, 90, 0, 0, 60, 0, 0], WeekLimits(rest_days_least=5), [1, 5])
    assert (found.days, found.rest_days, [each.code for each in found.reasons]) == (3, 4, ["rest_days_short"])
