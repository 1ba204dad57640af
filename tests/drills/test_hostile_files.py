"""Files that nobody means well with: refused with a reason, nothing of them is kept, and quickly."""

import json
import time
from collections.abc import Callable
from typing import Any

import pytest
from rest_framework.test import APIClient

from drills.models import Drill, DrillRevision, Footprint, RoomNeeded, Word
from drills.validators import LARGEST_IMPORT_BYTES, MOST_IMPORTED
from tests.drills.people import People
from tests.drills.samples import SMALL

pytestmark = pytest.mark.django_db
URL = "/api/v1/drills/import/"
GRID = SMALL["grids"][0]


@pytest.fixture
def send(people: People, api: Callable[..., APIClient]) -> Callable[[bytes | str], Any]:
    coach = api(people.coach)

    def sent(raw: bytes | str) -> Any:
        data = raw.encode() if isinstance(raw, str) else raw
        return coach.post(URL, data, content_type="application/json")

    return sent


def nothing_is_kept() -> bool:
    return not any(model.objects.exists() for model in (Drill, DrillRevision, Footprint, RoomNeeded, Word))


def nested(levels: int) -> str:
    """A list in a list in a list, as an archive in an archive."""
    return "[" * levels + "]" * levels


WHOLE_FILES = {
    "nested a hundred thousand deep": (nested(100_000), 400, "ested deeper"),
    "nested a little too deep": (f'[{{"title": {nested(40)}}}]', 400, "ested deeper"),
    "not JSON": ("{", 400, "Not readable"),
    "not text": (b"\xff\xfe\x00", 400, "Not readable"),
    "NaN": (json.dumps([SMALL]).replace("9,", "NaN,", 1), 400, "not a number"),
    "Infinity": (json.dumps([SMALL]).replace("9,", "-Infinity,", 1), 400, "not a number"),
    "an archive": (b"PK\x03\x04" + b"\x00" * 60, 400, "Not readable"),
    "a number": ("7", 400, "list"),
    "another version": ('{"schema_version": 999, "drills": []}', 400, "not known"),
    "a version that is a list": ('{"schema_version": [1], "drills": []}', 400, "not known"),
    "too many": (json.dumps([{}] * (MOST_IMPORTED + 1)), 400, "At most"),
    "too large": (b" " * (LARGEST_IMPORT_BYTES + 1), 413, "At most"),
}


@pytest.mark.parametrize("name", WHOLE_FILES)
def test_a_file_is_refused_as_a_whole(name: str, send: Callable[[bytes | str], Any]) -> None:
    raw, status, reason = WHOLE_FILES[name]
    began = time.perf_counter()
    response = send(raw)
    assert (response.status_code, reason in response.content.decode()) == (status, True), response.content[
        :300
    ]
    assert response["Content-Type"] == "application/problem+json"
    assert time.perf_counter() - began < 10
    assert nothing_is_kept()


ROWS: dict[str, tuple[Any, str]] = {
    "a thousand million metres": ({**SMALL, "grids": [{**GRID, "length_m": 1e9}]}, "grids/0/length_m"),
    "less than nothing": ({**SMALL, "grids": [{**GRID, "width_m": -5}]}, "grids/0/width_m"),
    "a number with four hundred digits": ({**SMALL, "setup_minutes": 10**400}, "setup_minutes"),
    "a million players": ({**SMALL, "format": "1000000v1000000"}, "format"),
    "a huge list": ({**SMALL, "gates": [{"key": f"g{n}", "x": 0, "y": 0} for n in range(20_000)]}, "gates"),
    "a huge text": ({**SMALL, "notes": "x" * 100_000}, "notes"),
    "text for a number": ({**SMALL, "adults": "two"}, "adults"),
    "a number for text": ({**SMALL, "title": 7}, "title"),
    "true for a number": ({**SMALL, "setup_minutes": True}, "setup_minutes"),
    "nothing at all": (None, ""),
    "a list": ([SMALL], ""),
    "a field of its own": ({**SMALL, "is_admin": True}, ""),
    "a zero byte": ({**SMALL, "title": "a\u0000b"}, "title"),
    "half a character": ({**SMALL, "title": "\ud800"}, "title"),
}


@pytest.mark.parametrize("name", ROWS)
def test_a_row_is_refused_with_its_field(name: str, send: Callable[[bytes | str], Any]) -> None:
    row, field = ROWS[name]
    response = send(json.dumps([row]))
    assert response.status_code == 200, response.content[:300]
    body = response.json()
    assert (body["created"], body["duplicate"], body["refused"]) == (0, 0, 1)
    assert body["results"][0]["errors"][0]["pointer"].strip("/") == f"drills/0/{field}".strip("/")
    assert nothing_is_kept()


def test_markup_is_text(
    send: Callable[[bytes | str], Any], people: People, visitor: Callable[..., Any]
) -> None:
    bad = "<script>alert(1)</script>"
    drill = {**SMALL, "title": bad, "purpose": bad, "say_this": [bad], "coach_place": bad}
    drill["groups"] = [
        {"key": "A", "name": bad, "plays_for": "A", "place": "inside", "least": 4, "most": 5, "role": bad},
        {"key": "B", "name": bad, "plays_for": "B", "place": "inside", "least": 1},
    ]
    drill["variations"] = [
        {
            "key": "v",
            "title": bad,
            "rung": "harder",
            "why": bad,
            "changes": [{"type": "set_format", "format": "5v1"}],
        }
    ]
    body = send(json.dumps([drill])).json()
    assert body["created"] == 1, body
    client = visitor(people.coach)
    for path in ("", f"{body['results'][0]['id']}/", f"{body['results'][0]['id']}/past/"):
        html = client.get(f"/library/{path}").content.decode()
        assert bad not in html
        assert "&lt;script&gt;" in html


@pytest.mark.parametrize("name", ["q", "theme", "age_group", "activity", "state", "kit", "players", "page"])
def test_a_filter_with_a_zero_byte_is_no_error_of_ours(
    name: str, people: People, api: Any, visitor: Any
) -> None:
    asked = {name: "press\x00'\ud800".encode("utf-8", "surrogatepass").decode("utf-8", "replace")}
    assert api(people.coach).get("/api/v1/drills/", asked).status_code < 500
    assert visitor(people.coach).get("/library/", asked).status_code == 200


def test_a_note_with_a_zero_byte_is_no_error_of_ours(people: People, shared: Drill, api: Any) -> None:
    url = f"/api/v1/drills/{shared.public_id}/notes/"
    assert api(people.coach).post(url, {"text": "a\x00b"}, format="json").status_code == 400
    assert (
        api(people.coach).post(url, b'{"text": "\\ud800"}', content_type="application/json").status_code
        == 400
    )
    assert (
        api(people.coach)
        .post(url, b'{"text": "x", "players": 1e300}', content_type="application/json")
        .status_code
        == 400
    )
