"""All parts set up in one go, by its three doors: the session's page, the pitch, the API."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from rest_framework.test import APIClient

from sessions import pages
from sessions.models import DeliveryEvent
from tests.people import World, signed_in
from tests.sessions.setting_up import again, rondos, set_up, stations_of

pytestmark = pytest.mark.django_db


def test_the_page_does_it_says_it_and_takes_it_back(world: World) -> None:
    session, client = rondos(world), signed_in(world.people.coach)
    url = f"/sessions/{session.public_id}/"
    shown = client.get(url).content.decode()
    assert "Set everything up for 12" in shown
    found = client.get(f"{url}set-up/", {"players": 15}).context["found"]
    assert [(each.standing, each.now) for each in found.lines] == [("fits", "")] * 2
    becomes = [each.becomes for each in found.lines]
    sent = client.post(f"{url}set-up/", {"players": "15", "version": session.version}, follow=True)
    assert "Set up for 15." in sent.content.decode()
    lines = sent.context["found"].lines
    assert [each.standing for each in lines] == ["holds", "holds"]
    assert [each.now.split(",")[0] for each in lines] == becomes  # what was said beforehand is what it is
    station = lines[0].station
    back = client.post(
        f"{url}stations/{station.public_id}/drop/",
        {"version": again(session).version, "all": "1"},
        follow=True,
    )
    assert back.redirect_chain[-1][0] == f"{url}set-up/"
    assert [each.setup is None for each in stations_of(session)] == [True, False]


def test_the_page_says_what_is_wrong_beside_it(world: World) -> None:
    session, client = rondos(world), signed_in(world.people.coach)
    url = f"/sessions/{session.public_id}/set-up/"
    for wrong in ("", "many", "61", "0"):
        refused = client.post(url, {"players": wrong, "version": session.version})
        assert set(refused.context["form"].errors) == {"players"}
    stale = client.post(url, {"players": "12", "version": session.version + 1}, follow=True)
    assert "Somebody else has just changed this session" in stale.content.decode()
    assert [each.setup for each in stations_of(session)] == [None, None]


def test_everything_is_set_up_says_the_session_page_afterwards(world: World) -> None:
    session, client = rondos(world), signed_in(world.people.coach)
    set_up(world, session)
    assert "Everything is set up for 12" in client.get(f"/sessions/{session.public_id}/").content.decode()


def test_the_api_answers_what_became_of_each(world: World) -> None:
    session = rondos(world)
    client = APIClient()
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    url = f"/api/v1/sessions/{session.public_id}/setups/"
    assert client.post(url, {}, format="json").status_code == 428
    done = client.post(url, {"players": 9}, format="json", HTTP_IF_MATCH=f'"v{session.version}"')
    body = done.json()
    assert (done.status_code, body["players"], body["version"]) == (200, 9, session.version + 1)
    lines = pages.all_set_up(again(session), 9).lines
    assert [each["set_up"] for each in body["stations"]] == [each.now for each in lines]
    assert {(each["standing"], each["changed"]) for each in body["stations"]} == {("holds", True)}
    usual = client.post(url, {}, format="json", HTTP_IF_MATCH=done["ETag"]).json()
    assert usual["players"] == 12
    wrong = client.post(url, {"players": 61}, format="json", HTTP_IF_MATCH=f'"v{usual["version"]}"')
    assert (wrong.status_code, wrong.json()["errors"][0]["pointer"]) == (400, "/players")


def test_at_the_pitch_a_helper_sets_everything_up_for_who_is_here(world: World) -> None:
    session = rondos(world)
    client = signed_in(world.people.helper)
    url = f"/sessions/{session.public_id}/pitch/set-up-all/"
    done = client.post(url, {"players": "9"})
    html = done.content.decode()
    assert done.status_code == 200
    assert html.count("data-redrawn=") == 2
    assert "Set up for 9." in html
    events = DeliveryEvent.objects.filter(session=session, kind="fit_accepted")
    assert {each.body["setup"]["players_total"] for each in events} == {9}
    assert all(str(each.event_id) in html for each in events)
    assert client.post(url, {"players": "many"}).status_code == 400
    assert client.post(url, {"players": "0"}).status_code == 409


# Each station is fitted, dressed and saved by itself: three queries for each.
@pytest.mark.parametrize(("rows", "count"), [(1, 21), (3, 25)])
def test_queries_of_setting_everything_up(world: World, rows: int, count: int) -> None:
    session, client = rondos(world, rows), signed_in(world.people.coach)
    url = f"/sessions/{session.public_id}/set-up/"
    with CaptureQueriesContext(connection) as asked:
        response = client.post(url, {"players": "12", "version": session.version})
    assert (response.status_code, len(asked)) == (302, count), [each["sql"][:120] for each in asked]
