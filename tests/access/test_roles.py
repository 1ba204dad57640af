"""Every role at every route, with an own, a colleague's and a foreign object, and with names that could leak."""

from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from django.db import transaction
from django.test import Client
from django.urls import reverse

from club.access import decision_of
from tests.access.caching import nobody_keeps
from tests.access.rows import ANYWHERE, Row
from tests.access.table_bibrack import SIGNING_IN
from tests.access.walker import all_rows, room_of, routes, tables
from tests.harness.standing import standing
from tests.people import NAMES, World, make_world, signed_in

# Rooms whose routes are walked by a table of their own, because their objects belong to people and not to places.
ELSEWHERE = frozenset({"drills"})  # tests/drills/test_access.py

pytestmark = pytest.mark.django_db


def walked() -> dict[str, Any]:
    """Our own routes, in the rooms that have a table here."""
    return {
        name: callback
        for name, callback in routes().items()
        if name not in SIGNING_IN and room_of(callback) not in ELSEWHERE
    }


def test_every_room_has_a_table() -> None:
    rooms = {room_of(callback) for name, callback in routes().items() if name not in SIGNING_IN}
    assert rooms - set(tables()) == ELSEWHERE


def test_every_route_has_a_row() -> None:
    rows = {row.route for row in all_rows()}
    assert set(walked()) - rows == set()
    assert rows - set(walked()) == set()


def test_routes_of_the_library_are_the_named_ones() -> None:
    foreign = {name for name, callback in routes().items() if decision_of(callback) is None}
    assert foreign == SIGNING_IN


def test_every_route_that_decides_by_method_has_a_row_for_writing() -> None:
    by_method = {
        name
        for name, callback in walked().items()
        if getattr(callback, "who_may_write", None) is not getattr(callback, "who_may", None)
    }
    assert by_method >= {"club:kit"}
    assert by_method - {row.route for row in all_rows() if row.method == "post"} == set()


def test_no_cell_stands_twice() -> None:
    assert [name for name, n in Counter(map(str, all_rows())).items() if n > 1] == []


def _club_with_everybody_signed_in() -> tuple[World, dict[str, Any]]:
    world = make_world()
    return world, {name: signed_in(getattr(world.people, name)).cookies for name in NAMES}


club = standing(_club_with_everybody_signed_in)


@pytest.fixture(autouse=True)
def no_paper(monkeypatch: pytest.MonkeyPatch) -> None:
    """Who gets a sheet is asked here, not how it looks: nothing is typeset."""
    monkeypatch.setattr("sessions.sheet.render.typeset", lambda order: [b"%PDF-"])


@pytest.mark.parametrize("row", all_rows(), ids=str)
def test_each_role_gets_what_the_table_says(row: Row, club: tuple[World, dict[str, Any]]) -> None:
    world, cookies = club
    found, wanted = {}, {}
    clients = {name: visitor(cookies[name]) for name in NAMES}
    for place in row.at:
        with undone():
            address, sent = made(row, world, place)
            for person, client in clients.items():
                if person not in row.may and place != row.at[0]:
                    continue  # refused by role, before anybody looks at the place
                with undone():
                    response = getattr(client, row.method)(address, sent)
                found[person, place] = (response.status_code, names_in(response, world))
                wanted[person, place] = (row.expected(person, place), names_for(row, world, person, place))
                strangers_are_sent_to_sign_in(row, person, place, response)
                nobody_keeps(row.route, response)
    assert found == wanted


def visitor(cookies: Any) -> Client:
    """A browser of its own that is signed in already."""
    client = Client()
    client.cookies.update(cookies)
    return client


@contextmanager
def undone() -> Iterator[None]:
    """What happens inside is rolled back, so that everybody meets the same club."""
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


def made(row: Row, world: World, place: str) -> tuple[str, dict[str, Any]]:
    """The address of what a row is about, made at a place, and what is sent there."""
    for each in world.places().values():
        each.player.refresh_from_db()
    chosen = world.places()[place]
    return reverse(row.route, kwargs=row.kwargs(world, chosen)), row.data(world, chosen)


def names_in(response: Any, world: World) -> set[str]:
    """The players whose names stand in a page."""
    text = response.content.decode(errors="replace")  # some answers are no text
    return {name for name, place in world.places().items() if place.player.display_name in text}


def names_for(row: Row, world: World, person: str, place: str) -> set[str]:
    """Where a row shows names, it shows those of its own place (or of the others); everywhere else none."""
    if place not in row.names.get(person, frozenset()):
        return set()
    return set(world.places()) - {place} if row.of_others else {place}


def strangers_are_sent_to_sign_in(row: Row, person: str, place: str, response: Any) -> None:
    if row.expected(person, place) == 302 and person == "nobody" and person not in row.may:
        assert response.url.startswith("/accounts/login/")


def test_the_table_knows_places_where_names_stand() -> None:
    """Without rows that show names the test above would prove nothing about leaks."""
    showing = {str(row) for row in all_rows() if row.names}
    assert {"get club:squad", "get club:squad-player", "get api-players"} <= showing
    assert all(row.names.get("director") == ANYWHERE for row in all_rows() if row.names)
