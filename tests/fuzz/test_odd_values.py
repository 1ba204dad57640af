"""Requests that once ended in a 500, one for each cause; what each answers now."""

from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from tests.factories import KitStockFactory
from tests.factories_sessions import planned_session, shared_drill, weekly_slot
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db
CSRF = "f" * 32
DEEP = b"[" * 100_000


def browser(person: Any) -> Client:
    """As a browser is: with a cookie, and the forgery token in the header, which is looked at."""
    client = Client(enforce_csrf_checks=True, headers={"X-CSRFToken": CSRF})
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    client.cookies["csrftoken"] = CSRF
    return client


@pytest.mark.parametrize("version", ["²", "9" * 5_000, "9" * 12, "-1", "\0"])
def test_a_version_that_is_none_is_an_old_one(version: str, world: World) -> None:
    slot = weekly_slot(place=world.own)
    address = f"/sessions/slots/{slot.public_id}/end/"
    assert signed_in(world.people.director).post(address, {"version": version}).status_code == 302
    slot.refresh_from_db()
    assert slot.version == 1  # nothing was ended


def test_a_number_that_was_shown_and_tampered_with_counts_as_not_shown(world: World) -> None:
    row = KitStockFactory(count=5)
    typed = {f"kit-{row.public_id}": "7", f"initial-kit-{row.public_id}": "²"}
    assert signed_in(world.people.director).post("/club/kit/", typed).status_code == 302
    row.refresh_from_db()
    assert row.count == 7


@pytest.mark.parametrize("body", [DEEP, b'{"a":' * 50_000, b'{"why": 1e999}', b'{"why": "\\ud800"}', b"\xff"])
def test_a_body_is_refused_as_a_problem_to_a_browser_too(body: bytes, world: World) -> None:
    session = planned_session(place=world.own, by=world.people.director)
    address = f"/api/v1/sessions/{session.public_id}/cancel/"
    sent = {"content_type": "application/json", "headers": {"If-Match": f'"v{session.version}"'}}
    response = browser(world.people.director).post(address, body, **sent)
    assert (response.status_code, response["Content-Type"]) == (400, "application/problem+json")


def test_a_browser_may_repeat_a_request_under_one_key(world: World) -> None:
    drill = shared_drill(owner=world.people.coach)
    address, sent = f"/api/v1/drills/{drill.public_id}/notes/", {"content_type": "application/json"}
    client = browser(world.people.coach)
    answers = [
        client.post(address, b'{"text": "Fine."}', headers={"Idempotency-Key": "once"}, **sent)
        for _ in range(2)
    ]
    assert [(each.status_code, each.json()["count"]) for each in answers] == [(201, 1), (201, 1)]


def test_without_the_forgery_token_in_the_header_nothing_is_read(world: World) -> None:
    client = browser(world.people.director)
    address = f"/api/v1/sessions/{uuid4()}/cancel/"
    refused = client.post(address, {"csrfmiddlewaretoken": CSRF}, headers={"X-CSRFToken": ""})
    assert (refused.status_code, refused["Content-Type"]) == (403, "application/problem+json")


@pytest.mark.parametrize("token", ["\0", "ÿ\0", "a b", "²", "x" * 5_000])
def test_what_is_no_token_is_refused(token: str, world: World) -> None:
    response = Client().get("/api/v1/squads/", headers={"Authorization": f"Token {token}"})
    assert (response.status_code, response["Content-Type"]) == (401, "application/problem+json")


def test_a_cookie_that_no_database_keeps_is_none(world: World) -> None:
    client = Client()
    client.cookies["bibrack_session"] = "\0" * 32
    response = client.get("/")
    assert (response.status_code, response["Location"]) == (302, "/accounts/login/?next=/")


@pytest.mark.parametrize(
    "at", ["2026-11-29T18:05:00+23:59", "0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-14:00"]
)
def test_an_event_at_no_places_time_is_refused_by_itself(at: str, world: World) -> None:
    session = planned_session(place=world.own, by=world.people.director)
    events = [{"id": str(uuid4()), "kind": "delivered", "at": each} for each in (at, "2026-11-29T18:05:00Z")]
    address = f"/api/v1/sessions/{session.public_id}/events/"
    answer = signed_in(world.people.coach).post(address, events, content_type="application/json")
    assert [each["outcome"] for each in answer.json()["results"]] == ["refused", "taken"]


@pytest.mark.parametrize("now", ["9999-12-31T23:59:59-14:00", "2026-11-29T18:05:00+23:59"])
def test_a_senders_time_that_no_clock_shows_is_refused(now: str, world: World) -> None:
    session = planned_session(place=world.own, by=world.people.director)
    address = f"/api/v1/sessions/{session.public_id}/events/"
    answer = signed_in(world.people.coach).post(
        address, {"events": [], "now": now}, content_type="application/json"
    )
    assert answer.status_code == 400


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
def test_a_day_that_no_club_plans_is_said_beside_its_field(day: str, world: World) -> None:
    typed = {"name": "Odd", "first_day": day, "last_day": day}
    response = signed_in(world.people.director).post("/club/seasons/add/", typed)
    assert (response.status_code, "A day between 2000 and 2099" in response.content.decode()) == (200, True)


def test_problems_of_the_description_are_problems_too() -> None:
    response = Client().put("/api/v1/schema/", b"{}", content_type="application/json")
    assert response["Content-Type"] == "application/problem+json"
    assert response.json()["status"] == response.status_code


def test_a_form_where_json_is_wanted_is_refused(world: World) -> None:
    drill = shared_drill(owner=world.people.coach)
    response = browser(world.people.coach).post(f"/library/{drill.public_id}/draw/look/", {"scene": "x"})
    assert response.status_code == 400
