"""POST /api/v1/sessions/{id}/events/: a list in, an outcome for each out."""

import json
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from rest_framework.test import APIClient

from sessions.models import DeliveryEvent
from tests.people import signed_in
from tests.sessions.pitch.evening import Evening, make_evening


def address(evening: Evening) -> str:
    return f"/api/v1/sessions/{evening.session.public_id}/events/"


def post(person: Any, evening: Evening, body: Any, **headers: str) -> Any:
    text = body if isinstance(body, str) else json.dumps(body)
    return signed_in(person).post(address(evening), text, content_type="application/json", headers=headers)


def test_a_bare_list_is_answered_event_by_event(evening: Evening) -> None:
    good, bad = evening.event("note", text="Short grid."), evening.event("effort", cr10=12)
    response = post(evening.people.helper, evening, [good, bad, good])
    answer = response.json()
    clock = datetime.fromtimestamp(answer.pop("now") / 1000, UTC)
    assert abs(clock - datetime.now(UTC)) < timedelta(minutes=1)
    assert (response.status_code, answer) == (
        200,
        {
            "results": [
                {"id": good["id"], "outcome": "taken", "text": "", "understood": True},
                {
                    "id": bad["id"],
                    "outcome": "refused",
                    "text": "effort: the CR10 scale ends at 10 (field `cr10`)",
                    "understood": True,
                },
                {"id": good["id"], "outcome": "already", "text": "", "understood": True},
            ],
            "last_seq": 1,
        },
    )


def test_a_phone_learns_what_another_one_sent(evening: Evening) -> None:
    first, own = evening.event("arrived", 2, player=evening.players[0]), evening.event("effort", 5, cr10=4)
    evening.append(first)
    answer = post(evening.people.coach, evening, {"events": [own], "since": 0, "device": "b"}).json()
    assert [(each["id"], each["kind"], each["player"]) for each in answer["events"]] == [
        (first["id"], "arrived", evening.players[0])
    ]
    assert answer["events"][0]["ms"] == int((evening.starts.timestamp() + 120) * 1000)
    again = post(evening.people.coach, evening, {"events": [], "since": answer["last_seq"]}).json()
    assert (again["events"], again["last_seq"]) == ([], 2)


@pytest.mark.parametrize("who", ["colleague", "reader", "stranger", "administrator", "nobody"])
def test_who_does_not_work_with_the_age_group_records_nothing(evening: Evening, who: str) -> None:
    response = post(getattr(evening.people, who), evening, [evening.event("note", text="Mine.")])
    status = {"colleague": 404, "nobody": 401}.get(who, 403)
    assert (response.status_code, DeliveryEvent.objects.count()) == (status, 0)
    assert response["Content-Type"] == "application/problem+json"


@pytest.mark.parametrize("who", ["coach", "helper", "director"])
def test_who_works_with_the_age_group_records(evening: Evening, who: str) -> None:
    assert post(getattr(evening.people, who), evening, [evening.event("delivered")]).status_code == 200
    assert DeliveryEvent.objects.get().actor == getattr(evening.people, who)


def test_another_age_groups_evening_is_not_there_for_its_neighbour(world: Any) -> None:
    foreign = make_evening(world, place=world.foreign)
    assert post(world.people.coach, foreign, [foreign.event("delivered")]).status_code == 404
    assert DeliveryEvent.objects.count() == 0


def test_a_browser_needs_its_token_against_forged_forms(evening: Evening) -> None:
    client = APIClient(enforce_csrf_checks=True)
    client.force_login(evening.people.coach)
    response = client.post(address(evening), [evening.event("delivered")], format="json")
    assert (response.status_code, DeliveryEvent.objects.count()) == (403, 0)


def test_501_events_are_refused_whole(evening: Evening) -> None:
    many = [evening.event("note", text="x") for _ in range(501)]
    response = post(evening.people.coach, evening, many)
    assert (response.status_code, response.json()["errors"]) == (
        400,
        [{"pointer": "/events", "detail": "At most 500 events at a time; send the rest afterwards."}],
    )
    assert DeliveryEvent.objects.count() == 0


BODIES = [
    ("{}", "/events", "Send a list of events."),
    ('"arrived"', "/events", "Send a list of events."),
    ("null", "/events", "Send a list of events."),
    ('{"events": {}}', "/events", "Send a list of events."),
    (
        '{"events": [], "now": "soon"}',
        "/now",
        "The sender's time needs a date, a time and a time zone.",
    ),
    (
        '{"events": [], "now": "2026-02-31T18:00:00Z"}',
        "/now",
        "The sender's time needs a date, a time and a time zone.",
    ),
    (
        '{"events": [], "now": "2026-03-03T18:00:00"}',
        "/now",
        "The sender's time needs a date, a time and a time zone.",
    ),
    ('{"events": [], "since": -1}', "/since", "This is the number of the last event you have."),
    ('{"events": [], "since": true}', "/since", "This is the number of the last event you have."),
]


@pytest.mark.parametrize(("body", "pointer", "detail"), BODIES)
def test_a_body_that_is_no_batch_is_a_problem_beside_its_field(
    evening: Evening, body: str, pointer: str, detail: str
) -> None:
    response = post(evening.people.coach, evening, body)
    assert (response.status_code, response.json()["errors"]) == (
        400,
        [{"pointer": pointer, "detail": detail}],
    )


@pytest.mark.parametrize("body", ["[" * 200_000, "[NaN]", "{", '[{"at": Infinity}]'])
def test_what_is_no_json_is_a_problem_too(evening: Evening, body: str) -> None:
    response = post(evening.people.coach, evening, body)
    assert (response.status_code, response["Content-Type"]) == (400, "application/problem+json")


def test_a_megabyte_is_too_much(evening: Evening) -> None:
    response = post(evening.people.coach, evening, json.dumps(["x" * 1_100_000]))
    assert response.status_code in (400, 413)
    assert DeliveryEvent.objects.count() == 0


@pytest.mark.parametrize("count", [1, 30])
def test_a_batch_takes_as_many_queries_whatever_its_length(
    evening: Evening, django_assert_num_queries: Any, count: int
) -> None:
    events = [evening.event("note", text=f"Note {number}") for number in range(count)]
    client = signed_in(evening.people.coach)
    with django_assert_num_queries(25):
        response = client.post(address(evening), json.dumps(events), content_type="application/json")
    assert [each["outcome"] for each in response.json()["results"]] == ["taken"] * count
