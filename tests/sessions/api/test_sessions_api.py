"""Sessions over the API: the same rules as the pages, problems with pointers, versions, repeated requests."""

from datetime import timedelta
from typing import Any

import pytest
from rest_framework.test import APIClient

from club.queries import today
from sessions import queries
from sessions.models import TrainingSession
from tests.factories import ThemeFactory, ZoneFactory
from tests.factories_sessions import part_input, planned_session, shared_drill, weekly_slot
from tests.people import World

URL = "/api/v1/sessions/"


def client_of(person: Any) -> APIClient:
    client = APIClient()
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client


@pytest.fixture
def coach(world: World) -> APIClient:
    return client_of(world.people.coach)


@pytest.fixture
def drill(world: World) -> Any:
    return shared_drill(owner=world.people.coach)


@pytest.fixture
def session(world: World, drill: Any) -> Any:
    return planned_session(
        place=world.own, by=world.people.coach, title="Gates", parts=[part_input(drill=drill)]
    )


def body_of(world: World, drill: Any, **changes: Any) -> dict[str, Any]:
    part = {
        "kind": "practice",
        "minutes": 18,
        "bouts": 4,
        "rest_s": 40,
        "effort": 6,
        "stations": [{"drill": str(drill.public_id), "variation_key": "eight"}],
    }
    given = {
        "squad": str(world.own.squad.public_id),
        "title": "Lights on",
        "day": today().isoformat(),
        "starts": "18:00",
        "ends": "19:15",
        "players_expected": 12,
        "parts": [part],
    }
    return {**given, **changes}


def pointers(response: Any) -> dict[str, str]:
    return {each["pointer"]: each["detail"] for each in response.json()["errors"]}


def test_a_session_is_made_with_its_parts_and_read_again(world: World, coach: APIClient, drill: Any) -> None:
    zone, theme = ZoneFactory(), ThemeFactory()
    body = body_of(
        world,
        drill,
        zones=[str(zone.public_id)],
        staff=[str(world.people.coach.public_id)],
        theme=str(theme.public_id),
    )
    made = coach.post(URL, body, format="json")
    assert made.status_code == 201
    assert made["Location"].endswith(f"{URL}{made.json()['id']}/")
    again = coach.get(made["Location"])
    assert (again.json(), again["ETag"]) == (made.json(), made["ETag"])
    found = again.json()
    assert (found["planned_au"], found["budget_au"], found["theme"]) == (108, 340, str(theme.public_id))
    assert found["staff"] == [{"id": str(world.people.coach.public_id), "name": "Carl Coach"}]
    part = found["parts"][0]
    assert (part["bout_s"], part["load_au"]) == (240, 108)  # (18 min − 3 × 40 s) ÷ 4
    assert part["stations"][0]["variation_key"] == "eight"
    assert part["stations"][0]["changed_since"] is False


def test_the_list_is_narrowed_and_paged(world: World, coach: APIClient, session: Any) -> None:
    planned_session(place=world.colleague, day=today() + timedelta(days=3), title="Elsewhere")
    every = coach.get(URL, {"page_size": 1}).json()
    assert (every["count"], [each["title"] for each in every["results"]]) == (2, ["Gates"])
    later = coach.get(URL, {"from": (today() + timedelta(days=1)).isoformat()}).json()
    assert [each["title"] for each in later["results"]] == ["Elsewhere"]
    own = coach.get(URL, {"age_group": str(world.own.age_group.public_id), "state": "planned"}).json()
    assert [each["title"] for each in own["results"]] == ["Gates"]


def test_filters_that_can_not_be_read_are_named(coach: APIClient) -> None:
    refused = coach.get(URL, {"from": "soon", "squad": "7", "state": "done", "to": "2026-02-31"})
    assert (refused.status_code, refused["Content-Type"]) == (400, "application/problem+json")
    assert set(pointers(refused)) == {"/from", "/to", "/squad", "/state"}


def test_a_helper_lists_the_own_age_group_alone(world: World, session: Any) -> None:
    planned_session(place=world.foreign, title="Foreign affairs")
    listed = client_of(world.people.helper).get(URL).json()
    assert [each["title"] for each in listed["results"]] == ["Gates"]


@pytest.mark.parametrize(
    ("changes", "pointer"),
    [
        ({"starts": "six"}, "/starts"),
        ({"ends": "17:00"}, "/ends"),
        ({"players_expected": 500}, "/players_expected"),
        ({"squad": "00000000-0000-4000-8000-000000000000"}, "/squad"),
        ({"theme": "00000000-0000-4000-8000-000000000000"}, "/theme"),
        ({"zones": ["00000000-0000-4000-8000-000000000000"]}, "/zones/0"),
        ({"parts": [{"minutes": "many", "effort": 5}]}, "/parts/0/minutes"),
        ({"parts": [{"minutes": 15, "effort": 5, "bouts": 0}]}, "/parts/0/bouts"),
        ({"parts": [{"minutes": 15, "effort": 5, "kind": "nap"}]}, "/parts/0/kind"),
        (
            {
                "parts": [
                    {
                        "minutes": 9,
                        "effort": 5,
                        "stations": [{"drill": "00000000-0000-4000-8000-000000000000"}],
                    }
                ]
            },
            "/parts/0/stations/0/drill",
        ),
    ],
)
def test_each_problem_has_a_pointer_and_nothing_is_half_saved(
    world: World, coach: APIClient, drill: Any, changes: dict[str, Any], pointer: str
) -> None:
    refused = coach.post(URL, body_of(world, drill, **changes), format="json")
    assert (refused.status_code, list(pointers(refused))) == (400, [pointer])
    assert TrainingSession.objects.count() == 0


def test_a_clash_is_a_conflict_that_names_the_other(world: World, coach: APIClient, drill: Any) -> None:
    zone = ZoneFactory(pitch__name="Cage", name="Far")
    planned_session(place=world.colleague, zones=[zone])
    refused = coach.post(URL, body_of(world, drill, zones=[str(zone.public_id)]), format="json")
    assert refused.status_code == 409
    assert pointers(refused)["/zones"].endswith("18:00–19:15 by Badgers.")


def test_another_age_groups_session_can_not_be_made(world: World, coach: APIClient, drill: Any) -> None:
    body = body_of(world, drill, squad=str(world.foreign.squad.public_id))
    assert coach.post(URL, body, format="json").status_code == 403
    assert TrainingSession.objects.count() == 0


def test_the_same_key_makes_one_session(world: World, coach: APIClient, drill: Any) -> None:
    body = body_of(world, drill)
    first = coach.post(URL, body, format="json", HTTP_IDEMPOTENCY_KEY="evening-1")
    second = coach.post(URL, body, format="json", HTTP_IDEMPOTENCY_KEY="evening-1")
    other = coach.post(URL, {**body, "title": "Other"}, format="json", HTTP_IDEMPOTENCY_KEY="evening-1")
    assert (first.status_code, second.status_code, other.status_code) == (201, 201, 422)
    assert second.json()["id"] == first.json()["id"]
    assert TrainingSession.objects.count() == 1


def test_saving_needs_the_version_that_was_read(coach: APIClient, session: Any) -> None:
    url = f"{URL}{session.public_id}/"
    assert coach.patch(url, {"title": "New"}, format="json").status_code == 428
    assert coach.patch(url, {"title": "New"}, format="json", HTTP_IF_MATCH='"v99"').status_code == 412
    saved = coach.patch(url, {"title": "New"}, format="json", HTTP_IF_MATCH=coach.get(url)["ETag"])
    assert (saved.status_code, saved.json()["title"], saved.json()["starts"]) == (200, "New", "18:00")
    assert len(saved.json()["parts"]) == 1


def test_parts_are_replaced_and_keep_their_ids(coach: APIClient, session: Any) -> None:
    url = f"{URL}{session.public_id}/"
    read = coach.get(url)
    part = read.json()["parts"][0]
    sent = {"parts": [{**part, "minutes": 30}, {"minutes": 10, "effort": 3}]}
    saved = coach.patch(url, sent, format="json", HTTP_IF_MATCH=read["ETag"]).json()
    assert [each["minutes"] for each in saved["parts"]] == [30, 10]
    assert (saved["parts"][0]["id"], saved["parts"][0]["stations"][0]["id"]) == (
        part["id"],
        part["stations"][0]["id"],
    )


def test_a_put_is_the_whole_session(world: World, coach: APIClient, drill: Any, session: Any) -> None:
    url = f"{URL}{session.public_id}/"
    tag = coach.get(url)["ETag"]
    missing = coach.put(url, {"title": "Half"}, format="json", HTTP_IF_MATCH=tag)
    assert set(pointers(missing)) == {"/squad", "/day", "/starts", "/ends"}
    saved = coach.put(
        url, body_of(world, drill, note="Gate code at the shed."), format="json", HTTP_IF_MATCH=tag
    )
    assert (saved.status_code, saved.json()["note"]) == (200, "Gate code at the shed.")


def test_a_set_up_is_accepted_and_dropped(coach: APIClient, session: Any) -> None:
    url = f"{URL}{session.public_id}/"
    read = coach.get(url)
    station = read.json()["parts"][0]["stations"][0]["id"]
    tonight = {"players": 15, "length": 60, "width": 50, "adults": 2, "numbers": "6v6+3in", "grids": 1}
    setup = f"{url}stations/{station}/setup/"
    taken = coach.post(setup, tonight, format="json", HTTP_IF_MATCH=read["ETag"])
    assert taken.status_code == 200
    shown = taken.json()["parts"][0]["stations"][0]
    assert (shown["setup"]["players_total"], shown["setup_input"]["players"]) == (15, 15)
    assert shown["setup_is_stale"] is True  # 14 are expected
    wrong = coach.post(setup, {**tonight, "players": 500}, format="json", HTTP_IF_MATCH=taken["ETag"])
    assert pointers(wrong) == {"/players": "From 1 to 60 players."}
    dropped = coach.delete(setup, HTTP_IF_MATCH=taken["ETag"])
    assert dropped.json()["parts"][0]["stations"][0]["setup"] is None


def test_a_session_is_called_off_with_a_reason(coach: APIClient, session: Any) -> None:
    url = f"{URL}{session.public_id}/"
    tag = coach.get(url)["ETag"]
    refused = coach.post(f"{url}cancel/", {"why": "mood"}, format="json", HTTP_IF_MATCH=tag)
    assert list(pointers(refused)) == ["/why"]
    off = coach.post(f"{url}cancel/", {"why": "weather"}, format="json", HTTP_IF_MATCH=tag)
    assert (off.json()["state"], off.json()["why_cancelled"]) == ("cancelled", "weather")


def test_a_slot_of_the_own_squad_is_filled(world: World, coach: APIClient, drill: Any) -> None:
    own, foreign = weekly_slot(place=world.own), weekly_slot(place=world.colleague)
    made = coach.post(URL, body_of(world, drill, slot=str(own.public_id)), format="json")
    assert made.json()["slot"] == str(own.public_id)
    assert (
        coach.post(URL, body_of(world, drill, slot=str(foreign.public_id)), format="json").status_code == 404
    )
    assert queries.session_by_id(made.json()["id"]) is not None
