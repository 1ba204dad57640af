"""Drills taken along as a file and brought in again, by hand: what each row became, in plain words."""

import json
from collections.abc import Callable
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from drills.api.parsers import ImportParser
from drills.models import Drill
from drills.pages.files import plainly
from tests.drills.people import People
from tests.drills.samples import SMALL

pytestmark = pytest.mark.django_db
Visitor = Callable[..., Client]


@pytest.fixture
def bring_in(visitor: Visitor, people: People) -> Callable[[Any], str]:
    def brought(content: Any) -> str:
        raw = content if isinstance(content, bytes) else json.dumps(content).encode()
        sent = SimpleUploadedFile("ours.json", raw)
        return visitor(people.coach).post("/library/files/bring-in/", {"file": sent}).content.decode()

    return brought


def test_one_drill_is_taken_along_and_brought_in_again(
    shared: Drill, visitor: Visitor, people: People, bring_in: Callable[[Any], str]
) -> None:
    answer = visitor(people.helper).get(f"/library/{shared.public_id}/file/")
    assert answer["Content-Disposition"] == 'attachment; filename="shared-gates.json"'
    assert "1 here already" in bring_in(answer.content)
    row = json.loads(answer.content)["drills"][0]
    row["document"]["title"] = "Changed <copy>"
    html = bring_in(row)  # one drill alone will do
    assert "1 new drill" in html
    assert "Changed &lt;copy&gt;" in html
    assert sorted(Drill.objects.values_list("title", "state")) == [
        ("Changed <copy>", "draft"),
        ("Shared Gates", "for review"),
    ]


def test_each_refused_row_says_where_and_why(bring_in: Callable[[Any], str]) -> None:
    grid = SMALL["grids"][0]
    html = bring_in([{**SMALL, "grids": [{**grid, "length_m": 400}]}, {**SMALL, "wizard": 1}, SMALL, 7])
    for said in (
        "1 new drill",
        "3 refused",
        "<b>Grids 1, length</b> <span>At most 130.",
        "“wizard” is not a part of",
    ):
        assert said in html
    assert (
        html.index("3 refused")
        < html.index("<b>Grids 1, length</b>")
        < html.index("/library/", html.index('<ol class="history"'))
    )
    assert Drill.objects.count() == 1


@pytest.mark.parametrize("raw", [b"{", b'[{"a": NaN}]', b"[" * 5000 + b"]" * 5000, b"PK\x03\x04", b"7"])
def test_a_file_that_is_none_says_so_beside_its_field(raw: bytes, bring_in: Callable[[Any], str]) -> None:
    html = bring_in(raw)
    assert '<ul class="errors" id="file_error"><li>' in html
    assert Drill.objects.count() == 0


@pytest.mark.parametrize(
    ("said", "plain"),
    [
        ("Expected `float` <= 130.0", "At most 130."),
        ("Expected `int | null`, got `str`", "A number belongs here."),
        ("Object missing required field `title`", "“title” is missing."),
        ("must be an ordinary number", "Must be an ordinary number."),
        ("As it was.", "As it was."),
    ],
)
def test_what_the_reader_says_is_put_plainly(said: str, plain: str) -> None:
    assert plainly(said) == plain


def test_a_file_that_is_too_large_is_not_read_and_says_so(
    bring_in: Callable[[Any], str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ImportParser, "most_bytes", 1024**2)
    html = bring_in(b"[" + b" " * 1024**2 + b"]")
    assert "The file is larger than 1 MB." in html
