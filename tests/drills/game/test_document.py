"""Documents are taken whole or refused by the name of the field."""

import json
from pathlib import Path

import jsonschema
import pytest

from drills.game.document import DocumentError, codec, decode, digest, encode, json_schema
from drills.game.document.codec import DEEPEST, LARGEST_BYTES, to_plain
from tests.drills.samples import SMALL, WHOLE, whole


def refused(data: object) -> DocumentError:
    with pytest.raises(DocumentError) as caught:
        decode(data)  # type: ignore[arg-type]
    return caught.value


def test_a_document_survives_the_round_trip() -> None:
    document = whole()
    assert decode(encode(document)) == document
    assert decode(to_plain(document)) == document


def test_equal_content_has_an_equal_digest_whatever_the_order_of_fields() -> None:
    turned = dict(reversed(list(WHOLE.items())))
    assert digest(decode(turned)) == digest(whole())
    assert digest(whole(title="Another")) != digest(whole())


def test_what_is_written_out_although_it_is_the_default_makes_no_difference() -> None:
    said = {
        **WHOLE,
        "numbers": {"kind": "exact"},
        "ends": {},
        "goals": [{**WHOLE["goals"][0], "along": 0.5}, WHOLE["goals"][1]],
    }
    assert encode(decode(said)) == encode(whole())
    assert digest(decode(said)) == digest(whole())


def test_the_encoded_document_names_its_schema_version() -> None:
    assert json.loads(encode(decode(SMALL)))["schema_version"] == 2


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"titel": "x"}, ""),
        ({"grids": [{**SMALL["grids"][0], "colour": "red"}]}, "grids[0]"),
        ({"grids": [{**SMALL["grids"][0], "length_m": 0}]}, "grids[0].length_m"),
        ({"grids": []}, "grids"),
        ({"title": ""}, "title"),
        ({"title": "x" * 81}, "title"),
        ({"activity": "jogging"}, "activity"),
        ({"under_from": "twelve"}, "under_from"),
        ({"conditions": [{"type": "spell", "key": "x"}]}, "conditions[0].type"),
        ({"questions": [{**WHOLE["questions"][0], "key": "no spaces"}]}, "questions[0].key"),
    ],
)
def test_a_wrong_field_is_refused_by_its_name(change: dict, field: str) -> None:
    assert refused({**SMALL, **change}).field == field


@pytest.mark.parametrize("text", ["NaN", "Infinity", "-Infinity"])
def test_what_is_not_a_number_is_refused(text: str) -> None:
    raw = json.dumps(SMALL).replace('"length_m": 9', f'"length_m": {text}')
    assert "is not a number" in refused(raw).text


def test_a_number_that_is_not_one_is_refused_in_plain_data_too() -> None:
    bad = {**SMALL, "grids": [{**SMALL["grids"][0], "length_m": float("nan")}]}
    assert refused(bad).field == "grids[0].length_m"


def test_deep_nesting_is_refused() -> None:
    deep: object = "x"
    for _ in range(DEEPEST + 2):
        deep = [deep]
    assert "nested deeper" in refused({**SMALL, "notes": deep}).text
    assert "nested deeper" in refused("[" * 100_000).text


def test_a_large_document_is_refused() -> None:
    assert "too large" in refused(" " * (LARGEST_BYTES + 1)).text


@pytest.mark.parametrize("raw", ["", "{", "[]", "12", '"text"', b"\xff\xfe"])
def test_what_is_no_document_is_refused(raw: str | bytes) -> None:
    assert refused(raw).field == ""


def test_an_unknown_schema_version_is_refused() -> None:
    assert refused({**SMALL, "schema_version": 99}).field == "schema_version"


def test_an_older_version_is_brought_up_a_step_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    def from_zero(plain: dict) -> dict:
        return {**plain, "schema_version": 1, "title": plain["name"]} | {"name": None}

    def drop_name(plain: dict) -> dict:
        made = from_zero(plain)
        del made["name"]
        return made

    monkeypatch.setitem(codec.STEPS, 0, drop_name)
    old = {name: value for name, value in SMALL.items() if name != "title"}
    assert decode({**old, "schema_version": 0, "name": "Old square"}).title == "Old square"


VERSION_1 = Path(__file__).with_name("stored") / "version-1.json"


def test_a_document_of_version_1_says_its_years_as_under() -> None:
    """Version 1 had ages in years: whoever is 8 on the reference date plays under 9."""
    raw = VERSION_1.read_bytes()
    old, document = json.loads(raw), decode(raw)
    assert (old["age_from"], old["age_to"]) == (8, 12)
    assert (document.under_from, document.under_to) == (9, 13)
    kept = {
        name: value for name, value in old.items() if name not in ("age_from", "age_to", "schema_version")
    }
    assert document == decode({**kept, "schema_version": 2, "under_from": 9, "under_to": 13})


@pytest.mark.parametrize(("ages", "unders"), [({}, (None, None)), ({"age_from": 4, "age_to": 99}, (5, 100))])
def test_every_age_of_version_1_can_be_said(ages: dict, unders: tuple) -> None:
    document = decode({**SMALL, "schema_version": 1, **ages})
    assert (document.under_from, document.under_to) == unders


@pytest.mark.parametrize(
    ("said", "field"), [("twelve", "under_from"), (True, "under_from"), (1000, "under_from")]
)
def test_what_was_no_age_in_version_1_is_refused(said: object, field: str) -> None:
    assert refused({**SMALL, "schema_version": 1, "age_from": said}).field == field


def test_version_2_knows_no_years() -> None:
    assert refused({**SMALL, "schema_version": 2, "age_from": 8}).field == ""


def test_the_published_schema_takes_what_we_take_and_refuses_what_we_refuse() -> None:
    # Checked with an independent validator (jsonschema, draft 2020-12).
    validator = jsonschema.Draft202012Validator(json_schema())
    assert list(validator.iter_errors(json.loads(encode(whole())))) == []
    assert list(validator.iter_errors({**SMALL, "titel": "x"})) != []
