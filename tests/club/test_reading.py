"""The one reader: what it takes, what it leaves, and that it looks at a long text once."""

import json
from datetime import date, time
from uuid import UUID

import pytest

from club import reading

LONG = 100_000


@pytest.mark.parametrize(
    "text", ["²", "٣", "½", "1_000", "", " ", "7.5", "0x10", "-1", "9" * 19, "9" * 5_000, "\0", "𝟙"]
)
def test_what_is_no_whole_number_from_nought(text: str) -> None:
    assert reading.whole(text) is None


@pytest.mark.parametrize(("value", "found"), [("7", 7), (" 12 ", 12), ("007", 7), ("+3", 3), (5, 5), (0, 0)])
def test_whole_numbers(value: object, found: int) -> None:
    assert reading.whole(value) == found


@pytest.mark.parametrize("value", [True, None, 7.0, [], {}, b"7", 1_000_001])
def test_other_things_are_no_whole_number(value: object) -> None:
    assert reading.whole(value) is None


def test_a_version_is_a_number_that_a_column_holds() -> None:
    assert reading.version("2147483647") == 2147483647
    assert [reading.version(each) for each in ("2147483648", "²", None, "-1", "")] == [0] * 5


@pytest.mark.parametrize(
    "text", ["NaN", "Infinity", "-inf", "1e999", "1e5", "0x1p3", "1,2,3", ".", "9" * 400, "²", "1_0"]
)
def test_what_is_no_number(text: str) -> None:
    assert reading.number(text) is None


def test_numbers_with_a_point_or_a_comma() -> None:
    assert [reading.number(each) for each in ("6.5", "6,5", " 7 ", ".5", 3, 2.25)] == [
        6.5,
        6.5,
        7,
        0.5,
        3,
        2.25,
    ]
    assert [reading.number(each) for each in (float("nan"), float("inf"), 10**400, True)] == [None] * 4


@pytest.mark.parametrize(
    "text",
    [
        "0001-01-01",
        "9999-12-31",
        "0000-00-00",
        "2026-02-30",
        "1999-12-31",
        "2026-1-1",
        "20260101",
        "²026-01-01",
    ],
)
def test_days_that_no_club_plans(text: str) -> None:
    assert reading.day(text) is None


def test_days_weeks_and_times() -> None:
    assert reading.day("2026-03-02") == date(2026, 3, 2)
    assert reading.monday("2026-W48") == date(2026, 11, 23)
    assert [reading.monday(each) for each in ("0001-W01", "9999-W52", "2026-W54", "2026-W00")] == [None] * 4
    assert [reading.clock(each) for each in ("18:00", "9:05", "23:59:59.9")] == [
        time(18),
        time(9, 5),
        time(23, 59),
    ]
    assert [reading.clock(each) for each in ("24:00", "18:60", "²1:00", "18", "")] == [None] * 5


def test_moments_have_a_zone_that_some_place_has() -> None:
    found = reading.moment("2026-11-29T18:05:00+14:00")
    assert found is not None
    assert found.isoformat() == "2026-11-29T18:05:00+14:00"
    odd = [
        "2026-11-29T18:05:00",
        "2026-11-29T18:05:00+15:00",
        "0001-01-01T00:00:00+14:00",
        "9999-12-31T23:59:59-14:00",
    ]
    assert [reading.moment(each) for each in [*odd, "now", ""]] == [None] * 6


def test_ids() -> None:
    known = "12345678-1234-4234-8234-123456789abc"
    assert reading.outer_id(known) == reading.outer_id(known.replace("-", "")) == UUID(known)
    assert [
        reading.outer_id(each) for each in ("", known[:-1], f"{{{known}}}", f"urn:uuid:{known}", None)
    ] == [None] * 5


def test_texts_lose_what_no_database_keeps() -> None:
    assert reading.text(" a\0b\ud800c ") == "a b c"
    assert reading.text("x" * 300) == "x" * 200
    assert reading.text(None) == reading.text(["x"]) == ""
    assert reading.texts(["a", "b", "c"], 2) == ["a", "b"]
    assert not reading.is_text("\udfff")
    assert not reading.is_text("ab\u202ecd")  # turns round what stands beside it
    assert reading.is_text("שלום and 🙂")


@pytest.mark.parametrize(
    "raw",
    [
        *(b"[" * LONG, b'{"a":' * LONG, b"[" * 33 + b"]" * 33),
        *(b"NaN", b"-Infinity", b"1e999", b"9" * 400, b"[1", b"", b"\xff", b'"\xed\xa0\x80"'),
        '{"a": 1}'.encode("utf-16"),
    ],
)
def test_json_that_is_not_read(raw: bytes) -> None:
    with pytest.raises(reading.Unreadable):
        reading.json_value(raw)


def test_json_that_is_read() -> None:
    assert reading.json_value(b"[" * 32 + b"]" * 32) is not None
    told = {"[[[[": ['a"]}\\', -1.5, True, None, "\\"], "deep": "[" * 50}
    assert reading.json_value(json.dumps(told).encode()) == told
    assert reading.json_value(b'\xef\xbb\xbf{"a": 123456789012345678}') == {"a": 123456789012345678}


def test_brackets_in_texts_are_no_depth() -> None:
    for raw in (b'"' + b"[" * 99 + b'"', b'"\\"' + b"[" * 99 + b'"', b'"' + b"[" * 99, b'"\\'):
        reading.check_depth(raw)
    with pytest.raises(reading.Unreadable):
        reading.check_depth(b'["\\\\",' * 99)


def test_the_place_of_a_text_that_cannot_be_kept() -> None:
    assert reading.unkeepable({"grids": [{"name": "a"}, {"name": "\0"}]}) == "grids[1].name"
    assert reading.unkeepable({"a": {"\ud800": 1}}) == "a"
    assert reading.unkeepable({"a": ["x", 1, None, "🙂"]}) is None
