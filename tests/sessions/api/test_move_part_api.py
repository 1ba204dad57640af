"""A part moved over the API: the same rule as in the editor, for every place."""

from dataclasses import replace
from typing import Any

import pytest
from rest_framework.test import APIClient

from club import queries as club
from sessions import queries
from sessions.actions import parts_as_input
from sessions.choices import PartKind
from sessions.forms import reordered, rows_of
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World
from tests.sessions.api.test_sessions_api import URL, body_of, client_of, pointers


@pytest.fixture
def coach(world: World) -> APIClient:
    return client_of(world.people.coach)


@pytest.fixture
def session(world: World) -> Any:
    kinds = ((PartKind.ARRIVAL, 0), (PartKind.PRACTICE, 120), (PartKind.PRACTICE, 60), (PartKind.GAME, 90))
    parts = [
        replace(part_input(title=f"Part {n}", changeover_s=s), kind=kind) for n, (kind, s) in enumerate(kinds)
    ]
    return planned_session(place=world.own, by=world.people.coach, parts=parts)


def move(coach: APIClient, session: Any, part: Any, to: Any) -> Any:
    address = f"{URL}{session.public_id}/parts/{part}/move/"
    return coach.post(address, {"to": to}, format="json", headers={"If-Match": f'"v{session.version}"'})


def test_a_part_is_moved_as_in_the_editor_and_keeps_its_id(coach: APIClient, session: Any) -> None:
    rows = rows_of(parts_as_input(session))
    by_hand = [(row["id"], row["kind"], row["changeover"]) for row in reordered(rows, "move:3:0")]
    last = rows[3]["id"]
    response = move(coach, session, last, 0)
    assert response.status_code == 200
    assert response["ETag"] == f'"v{session.version + 1}"'
    found = response.json()["parts"]
    assert [(each["id"], each["kind"]) for each in found] == [each[:2] for each in by_hand]
    assert [each["changeover_s"] for each in found] == [0, 120, 60, 90]
    assert [each[2] for each in by_hand] == ["0:00", "2:00", "1:00", "1:30"]


def test_what_is_not_there_is_refused(world: World, coach: APIClient, session: Any) -> None:
    part = parts_as_input(session)[0].public_id
    assert pointers(move(coach, session, part, 4)) == {"/to": "From 0 to 3: the session has 4 parts."}
    assert move(coach, session, part, -1).status_code == 400
    assert move(coach, session, session.public_id, 0).status_code == 404
    assert queries.session_by_id(session.public_id).version == session.version
    stale = coach.post(
        f"{URL}{session.public_id}/parts/{part}/move/", {"to": 1}, format="json", headers={"If-Match": '"v1"'}
    )
    assert stale.status_code in (409, 412)


def test_a_changeover_that_is_left_out_is_the_usual_one(world: World, coach: APIClient) -> None:
    drill = shared_drill(owner=world.people.coach)
    part = body_of(world, drill)["parts"][0]
    body = body_of(world, drill, parts=[part, part, {**part, "changeover_s": 30}])
    made = coach.post(URL, body, format="json").json()
    usual = club.club_settings().changeover_s
    assert [each["changeover_s"] for each in made["parts"]] == [0, usual, 30]
