"""A helper's phone at the evening: it scans the code, types a number and sends."""

import json
from typing import Any

from django.test import Client

from club.models import Player
from sessions.queries import helping
from tests.people import signed_in
from tests.sessions.pitch.evening import Evening


def client_of(evening: Evening, who: str) -> Client:
    """A browser of somebody of the world; of nobody, one that isn't signed in."""
    person = getattr(evening.people, who)
    return signed_in(person) if person else Client()


def address(evening: Evening, more: str = "") -> str:
    return f"/sessions/at/{helping.code_of(evening.read())}/{more}"


def wrong(evening: Evening) -> str:
    return f"{(int(helping.number_of(evening.read())) + 1) % 10_000:04d}"


def try_number(
    evening: Evening, number: str = "", *, client: Client | None = None, ip: str = "198.51.100.7"
) -> Any:
    given = {"number": number or helping.number_of(evening.read())}
    return (client or Client()).post(address(evening, "number/"), given, REMOTE_ADDR=ip)


def a_phone(evening: Evening) -> Client:
    """A phone that was let in."""
    client = Client()
    assert try_number(evening, client=client).status_code == 302
    return client


def send(client: Client, evening: Evening, *events: Any, **given: Any) -> Any:
    body = json.dumps({"events": list(events), "since": 0, **given})
    return client.post(address(evening, "events/"), body, content_type="application/json")


def outcomes(answer: Any) -> list[str]:
    return [each["outcome"] for each in answer.json()["results"]]


def named(evening: Evening, content: bytes) -> list[str]:
    """What of players stands in bytes that a helper gets: names, and the ids by which events call them."""
    text = content.decode()
    found = Player.objects.values_list("display_name", "public_id")
    people = [evening.people.coach, evening.people.director, evening.people.helper]
    told = [str(each) for row in found for each in row] + [
        each for one in people for each in (one.name, one.email)
    ]
    assert len(told) > 8
    return [each for each in told if each and each in text]
