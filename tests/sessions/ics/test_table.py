"""Rows of a table: read back as they were written, whatever stands in them; times that a clock skips are found."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sessions.ics.read import NoDays, read, text_of
from sessions.ics.table import Cells, as_text, cells_of, valued
from sessions.ics.written import CalendarEntry, written

WORDS = st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]), max_size=20).map(
    lambda text: " ".join(text.split())
)


@given(
    st.lists(
        st.tuples(WORDS | st.just("day") | st.just("a;b"), WORDS, WORDS, WORDS | st.just("")),
        min_size=1,
        max_size=5,
    ),
    st.booleans(),
)
def test_a_table_is_read_back_as_it_was_written(rows: list[tuple[str, str, str, str]], more: bool) -> None:
    cells = [
        Cells(number, day="2027-02-13", what=what, where=where, off=off * more, uid=uid * more)
        for number, (what, where, off, uid) in enumerate(rows, start=1)
    ]
    assert cells_of(as_text(cells, "matches"), "matches") == cells


def test_what_was_typed_stands_as_it_was_typed() -> None:
    typed = "2027-02-13,10:30,12:00,Home,Mill Field\n2027-02-20,,,Away,\n"
    assert as_text(cells_of(typed, "matches"), "matches") == typed


@pytest.mark.parametrize("zone", ["Europe/London", "America/New_York", "Australia/Lord_Howe"])
def test_exactly_the_minutes_that_clocks_skip_are_refused(zone: str) -> None:
    """Counted the other way round: the minutes that do pass, in UTC, on the clock of the place."""
    spring = {
        "Europe/London": (2027, 3, 28),
        "America/New_York": (2027, 3, 14),
        "Australia/Lord_Howe": (2026, 10, 4),
    }
    day = date(*spring[zone])
    begins = datetime.combine(day, time(), ZoneInfo(zone)).astimezone(UTC)
    shown = {(begins + timedelta(minutes=n)).astimezone(ZoneInfo(zone)).time() for n in range(4 * 60)}
    minutes = [time(n // 60, n % 60) for n in range(4 * 60)]
    skipped = [each for each in minutes if each not in shown]
    found = [
        each
        for each in minutes
        if valued(
            Cells(1, day=str(day), starts=f"{each:%H:%M}", ends="05:00", what="x"), "matches", zone
        ).problem
        == "gap"
    ]
    assert found == skipped
    assert len(found) == (30 if zone == "Australia/Lord_Howe" else 60)


def test_what_we_write_we_can_read() -> None:
    at = datetime(2027, 6, 5, 9, 30, tzinfo=UTC)
    rows = [
        CalendarEntry("a", "Home to Ridgeway", at, at + timedelta(minutes=90), 0, at, place="Mill Field"),
        CalendarEntry("b", "Half-term", date(2027, 2, 15), date(2027, 2, 20), 0, at),
    ]
    text = text_of(written("Larkmoor", rows))
    half_term, match = read(text, "matches", "Europe/London")
    assert (match.day, match.starts, match.ends, match.where) == (
        "2027-06-05",
        "10:30",
        "12:00",
        "Mill Field",
    )
    closed = read(text, "closed", "Europe/London")[0]
    assert (half_term.uid, closed.day, closed.until) == ("b", "2027-02-15", "2027-02-19")


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused(text: str) -> None:
    for kind in ("matches", "closed"):
        for given_text in (
            text,
            f"BEGIN:VCALENDAR\n{text}\nEND:VCALENDAR",
            f"BEGIN:VCALENDAR\nBEGIN:VEVENT\n{text}\nEND:VEVENT\nEND:VCALENDAR",
        ):
            try:
                rows = read(given_text, kind, "Europe/London")
            except NoDays:
                continue
            for each in rows:
                valued(each, kind, "Europe/London")


LINES = st.sampled_from(
    [
        "DTSTART:20270213T103000Z",
        "DTSTART;TZID=Nowhere/At_all:20270213T103000",
        "DTSTART;VALUE=DATE:20270213",
        "DTSTART;VALUE=PERIOD:20270213T103000Z/PT1H",
        "DTSTART:00000000T000000Z",
        "DTSTART:00010101T000000Z",
        "DTEND:99991231T235959Z",
        "DTEND;TZID=Pacific/Kiritimati:99991231T235959",
        "DTEND;VALUE=DATE:00010101",
        "DURATION:PT90M",
        "RRULE:FREQ=NEVER",
        "RDATE:x",
        "SUMMARY;LANGUAGE=en:Cup",
        "SUMMARY",
        "STATUS:CANCELLED",
        "UID:a",
        "BEGIN:VALARM",
        "END:VALARM",
        "BEGIN:VEVENT",
        "END:VEVENT",
        ":;=,",
    ]
)


@given(st.lists(LINES, max_size=8))
def test_any_calendar_is_read_or_refused(lines: list[str]) -> None:
    text = "\r\n".join(["BEGIN:VCALENDAR", "BEGIN:VEVENT", *lines, "END:VEVENT", "END:VCALENDAR"])
    try:
        rows = read(text, "matches", "Europe/London")
    except NoDays:
        return
    for each in rows:
        valued(each, "matches", "Europe/London")
