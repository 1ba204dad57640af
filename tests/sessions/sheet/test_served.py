"""The sheet as it is served: by page and API, to whom, with which headers, and without players' names."""

from dataclasses import asdict
from typing import Any

import pytest
from django.test import Client

from club.queries.settings import settings_read_once
from sessions import pages, queries
from sessions.sheet.typeset import NotTypeset, Order
from tests.factories import player_in
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World

pytestmark = pytest.mark.django_db


@pytest.fixture
def session(world: World) -> Any:
    drill = shared_drill(owner=world.people.coach)
    return planned_session(
        place=world.own, by=world.people.coach, title="Gates", parts=[part_input(drill=drill)]
    )


def test_page_and_api_give_the_same_paper_once(world: World, session: Any, client: Client) -> None:
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    page = client.get(f"/sessions/{session.public_id}/sheet.pdf")
    assert (page.status_code, page["Content-Type"], page.content[:5]) == (200, "application/pdf", b"%PDF-")
    same = client.get(
        f"/api/v1/sessions/{session.public_id}/sheet.pdf", headers={"if-none-match": page["ETag"]}
    )
    assert (same.status_code, same.content) == (304, b"")
    pocket = client.get(f"/api/v1/sessions/{session.public_id}/sheet.pdf?size=pocket&ink=black")
    assert (pocket.status_code, pocket["ETag"] != page["ETag"]) == (200, True)


def test_a_sheet_that_cannot_be_made_says_so_and_is_tried_again(
    world: World, session: Any, client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(order: Order) -> list[bytes]:
        raise NotTypeset("too many sheets are being made")

    monkeypatch.setattr("sessions.sheet.render.typeset", fails)
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    page = client.get(f"/sessions/{session.public_id}/sheet.pdf")
    assert (page.status_code, page["Content-Type"].split(";")[0]) == (503, "text/html")
    assert b"be made now. Try again in a minute." in page.content
    answer = client.get(f"/api/v1/sessions/{session.public_id}/sheet.pdf")
    assert (answer.status_code, answer["Content-Type"]) == (503, "application/problem+json")


def test_a_size_that_is_not_there_is_a_problem(world: World, session: Any, client: Client) -> None:
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    assert client.get(f"/sessions/{session.public_id}/sheet.pdf?size=a3").status_code == 404
    found = client.get(f"/api/v1/sessions/{session.public_id}/sheet.pdf?size=a3")
    assert (found.status_code, found["Content-Type"]) == (400, "application/problem+json")


def test_the_sheet_says_how_the_part_is_run_and_names_no_player(
    world: World, session: Any, django_assert_num_queries: Any
) -> None:
    player = player_in(squad=world.own.squad, display_name="Xanthippe Q")
    row = queries.session_by_id(session.public_id)
    with settings_read_once(), django_assert_num_queries(4):
        sheet = pages.session_sheet(row, link="https://club.example/")
    part = sheet.parts[0]
    assert part.clocks[:2] == ("18:02–18:06", "18:06:40–18:10:40")
    assert part.stations[0].say == ("A pass through the lantern opens both goals.",)
    assert player.display_name not in str(asdict(sheet))
