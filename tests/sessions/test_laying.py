"""One set-up plan for an evening: session page, printed sheet, pitch, API, editor and proposal say the same minutes."""

import re
from datetime import time, timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from club.actions.guidelines import load_guidelines
from club.queries import actor_of
from sessions import queries
from sessions.pages.pitch.page import pitch_page
from sessions.pages.session import session_page
from sessions.pages.sheet.session import session_sheet
from sessions.proposals import actions as proposals
from sessions.proposals.wish import KeptPart, WishedPart
from tests.factories import BibStockFactory, KitStockFactory, ZoneFactory
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World
from tests.sessions.proposing.evening import evening, library, set_up, worked_out

pytestmark = pytest.mark.django_db

PLAIN = {
    key: [] for key in ("groups", "conditions", "variations", "phases", "zones", "gates", "goals", "themes")
}


def grid(length_m: float, width_m: float) -> list[dict[str, Any]]:
    return [{"key": "usual", "length_m": length_m, "width_m": width_m, "purpose": "all of it"}]


def drill(world: World, title: str, length_m: float, width_m: float, cones: int, **more: Any) -> Any:
    facts: dict[str, Any] = {
        **PLAIN,
        "title": title,
        "format": "4v4",
        "queue": None,
        "grids": grid(length_m, width_m),
        "kit": [{"kind": "marker cones", "count": cones}],
        "setup_minutes": 4,
        **more,
    }
    return shared_drill(owner=world.people.coach, **facts)


@pytest.fixture
def session(world: World) -> Any:
    """A small grid, the same again, then a large one; two adults, kit in plenty, ground that is free."""
    KitStockFactory(kind="marker cones", count=60)
    BibStockFactory(colour="red", count=20)
    small, large = drill(world, "Small Lamps", 20, 15, 8), drill(world, "Large Lamps", 40, 25, 12)
    coach = world.people.coach
    return planned_session(
        place=world.own,
        by=coach,
        zones=[ZoneFactory(length_m=60, width_m=40)],
        staff=[coach, world.people.helper],
        parts=[part_input(drill=small), part_input(drill=small), part_input(drill=large, changeover_s=30)],
    )


def test_every_door_says_the_same_figure(world: World, session: Any, client: Client) -> None:
    load_guidelines()  # both adults stay with the children while they play
    coach = world.people.coach
    client.force_login(coach, backend="django.contrib.auth.backends.ModelBackend")
    view = queries.session_view(queries.session_by_id(session.public_id))
    minutes = view.set_up_minutes
    assert minutes == view.laying.before_minutes == 2  # the drill's four minutes, two adults
    at = f"{view.timetable.starts_at - timedelta(minutes=minutes):%H:%M}"

    page = session_page(session)
    assert page.view.set_up_minutes == minutes
    html = client.get(f"/sessions/{session.public_id}/").content.decode()
    shown = re.search(r"Set up from</dt><dd>([\d:]+)<span class=\"unit\">(\d+) min", html)
    assert shown
    assert shown.groups() == (at, str(minutes))

    sheet = session_sheet(session, link="https://example.org/")
    assert dict(sheet.facts)["Set up from"] == f"{at} ({minutes} min)"

    pitch = pitch_page(session)
    assert pitch.set_up_from == at
    client_html = client.get(reverse("sessions:pitch", args=[session.public_id])).content.decode()
    assert f"Set up from {at}" in client_html

    api = client.get(f"/api/v1/sessions/{session.public_id}/").json()
    assert api["set_up_minutes"] == minutes
    assert f"T{at}" in api["set_up_from"]
    assert [each["changeover_laying_minutes"] for each in api["parts"]] == [
        view.laying.changeover_minutes(index) for index in range(3)
    ]

    ground = client.get(f"/api/v1/sessions/{session.public_id}/ground/").json()
    lines = [each["laying"] for each in ground["parts"]]
    assert [part.stays for part in sheet.parts] == lines
    assert lines[1] == "Already set up: 8 marker cones."
    assert lines[0] == "Before the start: 8 marker cones (2 min)."
    assert [each["kit"] for each in api["laying"]] == ["8 marker cones", "11 marker cones"]
    assert pitch.parts[1].fetch == ["11 marker cones"]
    assert pitch.parts[1].stays == ["1 marker cone"]
    assert [each.text for each in pitch.laying] == [each.text for each in page.laying]


def test_the_editor_judges_what_is_typed_by_the_same_plan(world: World, client: Client) -> None:
    zone, coach = ZoneFactory(), world.people.coach
    planned_session(place=world.colleague, zones=[zone], starts=time(17), ends=time(17, 58))
    first = drill(world, "Small Lamps", 20, 15, 8, setup_minutes=7)
    session = planned_session(place=world.own, by=coach, zones=[zone], parts=[part_input(drill=first)])
    view = queries.session_view(queries.session_by_id(session.public_id))
    (said,) = [each.text for each in view.all_reasons if each.code == "set_up_too_short"]
    assert said == "Setting up needs 7 min; the space is free only 2 min before the start."
    client.force_login(coach, backend="django.contrib.auth.backends.ModelBackend")
    html = client.get(reverse("sessions:parts", args=[session.public_id])).content.decode()
    assert said in html


def test_a_changeover_that_is_too_short_is_said_beside_its_part(world: World) -> None:
    coach = world.people.coach
    large, inside = drill(world, "Large Lamps", 40, 25, 4), drill(world, "Inner Lamps", 20, 15, 20)
    session = planned_session(
        place=world.own,
        by=coach,
        zones=[ZoneFactory(length_m=60, width_m=40)],
        parts=[part_input(drill=large), part_input(drill=inside, changeover_s=60)],
    )
    view = queries.session_view(session)
    (said,) = [each for each in view.parts[1].reasons if each.code == "changeover_too_short"]
    assert said.text == "Setting up this part takes 2.5 min and the changeover has 1 min: 1.5 min short."
    assert view.laying.changeover_minutes(1) == 2.5


def test_goals_that_are_moved_carry_a_caution_on_every_page(world: World, client: Client) -> None:
    coach = world.people.coach
    goals = [{"key": "near", "edge": "left", "size": "full"}]
    parts = [part_input(drill=drill(world, "Goal Lamps", 30, 20, 4, goals=goals))]
    session = planned_session(
        place=world.own, by=coach, zones=[ZoneFactory(length_m=60, width_m=40)], parts=parts
    )
    said = session_page(session).goals_caution
    assert said.startswith("Two adults carry a goal, never children")
    assert said in pitch_page(session).goals_caution
    assert (said, "common practice, no source") in session_sheet(session, link="https://example.org/").safety
    bare = planned_session(place=world.own, by=coach, parts=[part_input()], starts=time(10), ends=time(11))
    assert session_page(bare).goals_caution == ""


def test_where_nothing_is_booked_the_same_grid_is_found_standing(world: World) -> None:
    small = drill(world, "Small Lamps", 20, 15, 8)
    parts = [part_input(drill=small), part_input(drill=small)]
    view = queries.session_view(planned_session(place=world.own, by=world.people.coach, parts=parts))
    assert view.laying.stays(1) == {"marker cones": 8}
    assert view.set_up_minutes == 4


@pytest.mark.parametrize("keeps_one", [False, True])
def test_a_proposal_says_what_its_session_says_when_it_is_taken(world: World, keeps_one: bool) -> None:
    made, coach = library(world), actor_of(world.people.coach)
    parts = [part_input(drill=made["Lamp Keepers"], minutes=21)] if keeps_one else []
    session = set_up(world, evening(world, parts=parts))
    wanted: dict[str, Any] = {}
    if keeps_one:
        stays = WishedPart(kind="practice", kept=KeptPart(part=str(session.parts.all()[0].public_id)))
        wanted = {"parts": (stays, WishedPart(kind="practice"), WishedPart(kind="game"))}
    row = worked_out(world, session, **wanted)
    found = row.result["session"]
    proposals.apply_proposal(actor=coach, session=session, version=session.version, computation=row)
    view = queries.session_view(queries.session_by_id(session.public_id))
    assert found["set_up_minutes"] == view.set_up_minutes > 0
    assert {
        part["number"] for part in found["parts"] if "changeover_too_short" in codes(part["reasons"])
    } == {
        str(part.number)
        for part in view.parts
        if any(each.code == "changeover_too_short" for each in part.reasons)
    }


def codes(reasons: list[dict[str, Any]]) -> set[str]:
    return {each["code"] for each in reasons}
