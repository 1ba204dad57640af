"""What stands around a session is counted in it: who has the place before, whose bag the kit is in, heading so far."""

from datetime import time, timedelta
from typing import Any

import pytest

from club.choices import Rule
from club.queries import today
from sessions import actions, queries
from sessions.choices import Kind
from sessions.planning.headers import HeadingSoFar
from sessions.queries.squad_context import heading_so_far
from tests.factories import BibStockFactory, GuidelineFactory, KitStockFactory, ZoneFactory
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World

pytestmark = pytest.mark.django_db
FOUR_ONE = {"format": "4v1", "groups": [], "conditions": [], "variations": [], "phases": [], "themes": []}
HEADING = {**FOUR_ONE, "heading": "planned", "headers_per_player": 4}


def codes(session: Any) -> dict[str, Any]:
    view = queries.session_view(queries.session_by_id(session.public_id))
    return {each.code: each for part in view.parts for each in part.reasons}


def test_setting_up_waits_until_the_others_are_off_the_place(world: World) -> None:
    zone, coach = ZoneFactory(), world.people.coach
    planned_session(place=world.colleague, zones=[zone], starts=time(17), ends=time(17, 58))
    drill = shared_drill(owner=coach, **FOUR_ONE, setup_minutes=6)
    session = planned_session(place=world.own, by=coach, zones=[zone], parts=[part_input(drill=drill)])
    found = codes(session)["set_up_too_short"]
    assert found.text == "Setting up needs 6 min; the space is free only 2 min before the start."
    assert [each.text for each in found.clears] == [
        "4 min less to set up would do: another first part, or more hands."
    ]


def test_kit_that_another_session_holds_meanwhile_is_not_there(world: World) -> None:
    coach = world.people.coach
    KitStockFactory(kind="marker cones", count=13)
    BibStockFactory(colour="red", count=10)
    drill = shared_drill(owner=coach, **FOUR_ONE)
    session = planned_session(place=world.own, by=coach, parts=[part_input(drill=drill)])
    assert "kit_short" not in codes(session)
    planned_session(place=world.colleague, by=world.people.director, parts=[part_input(drill=drill)])
    found = codes(session)["kit_short"]
    assert found.text == "12 × marker cones needed at the same time, 1 there: 11 short."
    later = {"starts": time(20), "ends": time(21)}
    other = planned_session(place=world.own, by=coach, parts=[part_input(drill=drill)], **later)
    assert "kit_short" not in codes(other)


def test_heading_of_the_week_and_the_month_counts_against_the_guideline(world: World) -> None:
    coach = world.people.coach
    GuidelineFactory(rule=Rule.HEADERS_PER_SESSION, value=5, under_low=12, under_high=12)
    GuidelineFactory(rule=Rule.HEADING_SESSIONS_WEEK, value=1, under_low=12, under_high=12)
    drill = shared_drill(owner=coach, **HEADING)
    session = planned_session(place=world.own, by=coach, parts=[part_input(drill=drill)])
    assert "headers_sessions_over" not in codes(session)
    monday = today() - timedelta(days=today().weekday())
    other_day = monday if today() != monday else monday + timedelta(days=1)
    planned_session(place=world.own, by=coach, day=other_day, parts=[part_input(drill=drill)])
    actions.add_ledger_entry(
        squad_id=world.own.squad.pk,
        day=monday,
        kind=Kind.ELSEWHERE,
        title="School",
        minutes=60,
        effort=4,
        headers=3,
        entered_by_id=coach.pk,
    )
    assert codes(session)["headers_sessions_over"].values[0] == ("planned", 3)
    so_far = heading_so_far(queries.session_by_id(session.public_id))
    assert (so_far.sessions_this_week, so_far.headers_this_week, so_far.minutes_this_week) == (2, 7, 18)
    assert isinstance(so_far, HeadingSoFar)
