"""Another team's weekly slot is taken only on purpose, and shows as taken afterwards."""

from datetime import date, time, timedelta
from typing import Any

import pytest

from club.errors import AskFirst
from club.queries import actor_of, today
from sessions import actions, pages, queries
from sessions.actions import DayAndTimes
from sessions.models import TrainingSession
from tests.factories import ZoneFactory
from tests.factories_sessions import planned_session, weekly_slot
from tests.people import World


@pytest.fixture
def zone(db: None) -> Any:
    return ZoneFactory(name="North", pitch__name="Long Meadow")


def week_later() -> date:
    return today() + timedelta(days=7)


def test_an_empty_slot_of_another_team_is_named_and_needs_a_second_yes(world: World, zone: Any) -> None:
    slot = weekly_slot(place=world.colleague, zones=[zone])
    day = week_later()
    with pytest.raises(AskFirst) as asked:
        planned_session(place=world.own, zones=[zone], day=day, starts=time(19))
    assert asked.value.problems[0].text == (
        f"This is the weekly slot of Badgers: {slot}–19:15, Long Meadow, North. "
        "They have planned nothing in it on that day yet. Ask them first, or choose another time or pitch."
    )
    assert TrainingSession.objects.count() == 0
    # The yes is to this slot on this day, and to no other.
    other = day + timedelta(days=7)
    with pytest.raises(AskFirst):
        planned_session(place=world.own, zones=[zone], day=other, confirm=asked.value.token)
    assert planned_session(place=world.own, zones=[zone], day=day, confirm=asked.value.token).pk


@pytest.mark.parametrize("free", ["own", "elsewhere", "another hour", "another day", "over", "filled"])
def test_what_takes_nothing_from_anybody_is_not_asked(world: World, zone: Any, free: str) -> None:
    place = world.own if free == "own" else world.colleague
    last = today() + timedelta(days=6 if free == "over" else 60)
    slot = weekly_slot(place=place, zones=[zone], last_day=last)
    day = week_later() + timedelta(days=free == "another day")
    if free == "filled":  # they moved theirs: the place is nobody's then
        theirs = planned_session(place=place, zones=[zone], day=day, slot=slot)
        when = DayAndTimes(day + timedelta(days=1), theirs.starts, theirs.ends)
        actions.move_session(session=theirs, version=theirs.version, when=when)
    zones = [ZoneFactory()] if free == "elsewhere" else [zone]
    starts = time(19, 15) if free == "another hour" else time(18)
    assert planned_session(place=world.own, zones=zones, day=day, starts=starts, ends=time(20)).pk


def test_moving_asks_once_and_a_change_of_the_title_doesnt(world: World, zone: Any, client: Any) -> None:
    weekly_slot(place=world.colleague, zones=[zone])
    session = planned_session(place=world.own, zones=[zone], day=today() + timedelta(days=1))
    client.force_login(world.people.coach)
    address = f"/sessions/{session.public_id}/move/"
    typed = {"day": week_later(), "starts": "18:00", "ends": "19:15", "version": session.version}
    asked = client.post(address, typed)
    assert (asked.status_code, asked.context["form"].ask is not None) == (200, True)
    body = asked.content.decode()
    assert ("weekly slot of Badgers" in body, "Yes, all the same" in body) == (True, True)
    assert client.post(address, {**typed, "confirm": "no such"}).status_code == 200
    assert client.post(address, {**typed, "confirm": asked.context["form"].ask.token}).status_code == 302
    session = queries.session_by_id(session.public_id)
    assert session is not None
    assert session.day == week_later()
    changed = client.patch(
        f"/api/v1/sessions/{session.public_id}/",
        {"title": "Other"},
        content_type="application/json",
        headers={"If-Match": f'"{session.version}"'},
    )
    assert changed.status_code == 200


def test_the_api_asks_with_409_and_takes_the_yes(world: World, zone: Any, client: Any) -> None:
    weekly_slot(place=world.colleague, zones=[zone])
    client.force_login(world.people.coach)
    body = {
        "squad": str(world.own.squad.public_id),
        "day": str(week_later()),
        "starts": "18:00",
        "ends": "19:00",
        "zones": [str(zone.public_id)],
    }
    asked = client.post("/api/v1/sessions/", body, content_type="application/json")
    assert (asked.status_code, asked.json()["errors"][0]["pointer"]) == (409, "/confirm")
    body["confirm"] = asked.json()["confirm"]
    assert client.post("/api/v1/sessions/", body, content_type="application/json").status_code == 201


def test_a_taken_slot_shows_by_whom_on_weeks_slots_and_today(
    world: World, zone: Any, client: Any, django_assert_num_queries: Any
) -> None:
    slot = weekly_slot(place=world.colleague, zones=[zone])
    with pytest.raises(AskFirst) as asked:
        planned_session(place=world.own, zones=[zone])
    taker = planned_session(place=world.own, zones=[zone], confirm=asked.value.token)
    read = queries.slot_by_id(slot.public_id)
    assert read is not None
    day = today()
    with django_assert_num_queries(0):
        (taken,) = queries.taken_ahead([read], day).values()
    assert [(each.team, each.day, each.session) for each in taken] == [
        ("U12 Otters", today(), str(taker.public_id))
    ]
    (free,) = pages.home(actor_of(world.people.colleague)).free
    assert free.taken_by is not None
    assert free.taken_by.team == "U12 Otters"
    client.force_login(world.people.colleague)
    for address in ("/sessions/weeks/", "/sessions/slots/", "/"):
        assert "U12 Otters" in client.get(address).content.decode(), address


def test_a_copy_asks_too_and_keeps_the_yes_while_it_is_looked_at(
    world: World, zone: Any, client: Any
) -> None:
    weekly_slot(place=world.colleague, zones=[zone])
    source = planned_session(place=world.own, day=today() + timedelta(days=1))
    client.force_login(world.people.coach)
    address = f"/sessions/{source.public_id}/again/group/"
    typed = {
        "squad": str(world.own.squad.public_id),
        "day": week_later(),
        "starts": "18:00",
        "ends": "19:15",
        "zones": [str(zone.public_id)],
        "players_expected": 12,
    }
    looked = client.post(address, typed)
    plan = {**typed, "do": "plan", "seen": looked.context["changes"].digest}
    asked = client.post(address, plan)
    assert "weekly slot of Badgers" in asked.content.decode()
    token = asked.context["copying"].ask.token
    kept = client.post(address, {**typed, "confirm": token})
    assert f'name="confirm" value="{token}"' in kept.content.decode()
    assert client.post(address, {**plan, "confirm": token}).status_code == 302
