"""Two bookings of one place, or of one person, never overlap; the refusal names the other."""

from datetime import date, time, timedelta
from typing import Any

import pytest

from club.errors import Clash, Refused, Stale
from club.queries import today
from sessions import actions, queries
from sessions.actions import DayAndTimes, ZonesAndStaff
from sessions.choices import State, WhyCancelled
from sessions.models import SessionStaff, SessionZone, TrainingSession
from tests.factories import ZoneFactory
from tests.factories_sessions import planned_session, weekly_slot
from tests.people import World


@pytest.fixture
def zone(db: None) -> Any:
    return ZoneFactory(name="North", pitch__name="Long Meadow")


def said(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b}"


def test_a_zone_that_is_taken_is_named_with_who_has_it(world: World, zone: Any) -> None:
    planned_session(place=world.own, zones=[zone])
    with pytest.raises(Clash) as refusal:
        planned_session(place=world.colleague, zones=[zone], starts=time(19), ends=time(20))
    problem = refusal.value.problems[0]
    assert problem.field == "zones"
    assert problem.text == f"Long Meadow, North is taken on {said(today())} 18:00–19:15 by Otters."
    assert TrainingSession.objects.count() == 1


def test_a_coach_in_two_places_is_named(world: World) -> None:
    planned_session(place=world.own, staff=[world.people.coach])
    with pytest.raises(Clash) as refusal:
        planned_session(place=world.colleague, staff=[world.people.coach])
    assert refusal.value.by_field() == {
        "staff": [f"Carl Coach is with Otters on {said(today())} 18:00–19:15."]
    }


def test_one_after_the_other_is_no_clash(world: World, zone: Any) -> None:
    first = planned_session(place=world.own, zones=[zone], staff=[world.people.coach])
    second = planned_session(
        place=world.colleague, zones=[zone], staff=[world.people.coach], starts=first.ends, ends=time(20)
    )
    assert second.day == first.day


def test_a_slot_is_filled_once_a_day(world: World) -> None:
    slot = weekly_slot(place=world.own)
    planned_session(place=world.own, slot=slot)
    with pytest.raises(Clash) as refusal:
        planned_session(place=world.own, slot=slot, starts=time(20), ends=time(21))
    assert refusal.value.by_field() == {"slot": ["This slot already has a session on that day."]}


def test_a_session_may_keep_its_own_place_when_it_is_changed(world: World, zone: Any) -> None:
    session = planned_session(place=world.own, zones=[zone], staff=[world.people.coach])
    changed = actions.change_session(
        session=session,
        version=session.version,
        when=DayAndTimes(session.day, time(18, 30), time(19, 45)),
        place=ZonesAndStaff((zone.pk,), (world.people.coach.pk,)),
        title="Later",
        theme_id=None,
        players_expected=9,
    )
    assert (changed.starts, changed.title, changed.players_expected) == (time(18, 30), "Later", 9)
    assert SessionZone.objects.get().period.lower == changed.period.lower


def test_cancelling_frees_place_and_people(world: World, zone: Any) -> None:
    session = planned_session(place=world.own, zones=[zone], staff=[world.people.coach])
    actions.cancel_session(session=session, version=session.version, why=WhyCancelled.WEATHER)
    assert (SessionZone.objects.count(), SessionStaff.objects.count()) == (0, 0)
    assert planned_session(place=world.colleague, zones=[zone]).state == State.PLANNED


def test_moving_out_of_a_slot_marks_it_moved_and_keeps_the_slot_filled(world: World) -> None:
    slot = weekly_slot(place=world.own)
    session = planned_session(place=world.own, slot=slot)
    tomorrow = today() + timedelta(days=1)
    moved = actions.move_session(
        session=session, version=session.version, when=DayAndTimes(tomorrow, time(17), time(18))
    )
    assert (moved.state, moved.day) == (State.MOVED, tomorrow)
    week = queries.sessions_between(today(), today() + timedelta(days=6))
    assert queries.free_slots([slot], week, today(), today() + timedelta(days=6)) == []


def test_a_cancelled_session_leaves_its_slot_empty(world: World) -> None:
    slot = weekly_slot(place=world.own)
    session = planned_session(place=world.own, slot=slot)
    actions.cancel_session(session=session, version=session.version, why=WhyCancelled.TOO_FEW)
    week = queries.sessions_between(today(), today())
    assert [each.day for each in queries.free_slots([slot], week, today(), today())] == [today()]


def test_a_stale_save_is_refused_and_changes_nothing(world: World) -> None:
    session = planned_session(place=world.own)
    moved = {"session": session, "when": DayAndTimes(session.day, time(10), time(11))}
    actions.move_session(version=session.version, **moved)
    with pytest.raises(Stale):
        actions.move_session(version=session.version, **moved)


@pytest.mark.parametrize(
    ("starts", "ends", "players", "problems"),
    [
        (time(19), time(18), 12, {"ends": ["The end must be after the start."]}),
        (time(18), time(18, 5), 12, {"ends": ["A session lasts at least 10 minutes."]}),
        (time(12), time(18), 12, {"ends": ["A session lasts at most 4 hours."]}),
        (time(18), time(19), 500, {"players_expected": ["Say how many players you expect, from 1 to 60."]}),
        (time(18), time(19), 0, {"players_expected": ["Say how many players you expect, from 1 to 60."]}),
    ],
)
def test_impossible_frames_are_refused_beside_the_field(
    world: World, starts: time, ends: time, players: int, problems: dict[str, list[str]]
) -> None:
    with pytest.raises(Refused) as refusal:
        planned_session(place=world.own, starts=starts, ends=ends, players_expected=players)
    assert refusal.value.by_field() == problems
    assert TrainingSession.objects.count() == 0


def test_a_day_outside_the_season_is_refused(world: World) -> None:
    with pytest.raises(Refused) as refusal:
        planned_session(place=world.own, day=today() - timedelta(days=800))
    assert list(refusal.value.by_field()) == ["day"]
