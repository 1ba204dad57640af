"""Stations at the same time, on screen: added, the keepers apart, saved with groups that change round."""

from typing import Any

import pytest
from django.test import Client

from sessions import pages, queries
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World

pytestmark = pytest.mark.django_db


@pytest.fixture
def coach(world: World, client: Client) -> Client:
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    return client


def test_three_stations_one_of_them_for_the_keepers(world: World, coach: Client) -> None:
    first = shared_drill(owner=world.people.coach, title="Pairs")
    other = shared_drill(owner=world.people.coach, title="Gates")
    session = planned_session(place=world.own, by=world.people.coach, parts=[part_input(drill=first)])
    part = session.parts.all()[0]
    kept = part.stations.all()[0].public_id
    path = f"/sessions/{session.public_id}/parts/{part.public_id}/stations/"
    assert 'value="Pairs"' not in coach.get(path).content.decode()
    sent: dict[str, Any] = {
        "rows": 2,
        "version": session.version,
        "s0-id": kept,
        "s0-drill": first.public_id,
        "s0-group": "reds",
        "s0-adult": world.people.coach.public_id,
        "s1-drill": other.public_id,
        "s1-group": "blues",
        "changes_round": "on",
    }
    page = coach.post(path, {**sent, "do": "keepers"}).content.decode()
    assert page.count("<fieldset") == 3
    assert 'value="keepers"' in page
    assert 'value="blues"' in page  # nothing typed is lost
    done = coach.post(path, {**sent, "rows": 3, "s2-group": "keepers", "s2-stays": "on", "do": "save"})
    assert done.status_code == 302
    fresh = queries.session_by_id(session.public_id)
    assert fresh is not None
    saved = fresh.parts.all()[0]
    assert saved.changes_round
    assert [(each.group, each.stays) for each in saved.stations.all()] == [
        ("reds", False),
        ("blues", False),
        ("keepers", True),
    ]
    assert saved.stations.all()[0].public_id == kept
    shown = coach.get(f"/sessions/{session.public_id}/").content.decode()
    assert "Groups move round after each round" in shown
    assert "2 stations have no adult of their own yet." in shown
    sheet = pages.session_sheet(fresh, link="https://club.example/")
    assert "Pairs: reds → blues → reds → blues" in sheet.parts[0].groups


def test_the_parts_editor_keeps_what_it_does_not_show(world: World, coach: Client) -> None:
    drill = shared_drill(owner=world.people.coach)
    session = planned_session(
        place=world.own, by=world.people.coach, parts=[part_input(drill=drill, changes_round=True)]
    )
    part = session.parts.all()[0]
    row = {"kind": "practice", "minutes": 18, "bouts": 4, "effort": 5, "drill": drill.public_id}
    sent = {f"p0-{name}": value for name, value in {**row, "id": part.public_id}.items()}
    path = f"/sessions/{session.public_id}/parts/"
    assert coach.post(path, {**sent, "rows": 1, "version": session.version, "do": "save"}).status_code == 302
    assert session.parts.get().changes_round
