"""What is written is read back the same by a parser that shares no code with the writer; lines keep RFC 5545's bounds."""

from datetime import UTC, date, datetime, timedelta

import vobject
from hypothesis import given
from hypothesis import strategies as st

from sessions.ics.written import CalendarEntry, written

# What a title can hold: no control characters, which forms refuse; blanks at the edges are cut by them.
TITLES = st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]), min_size=1, max_size=80).map(
    str.strip
)
MOMENTS = st.datetimes(datetime(2000, 1, 1), datetime(2099, 12, 31)).map(
    lambda each: each.replace(microsecond=0, tzinfo=UTC)
)


@st.composite
def entries(draw: st.DrawFn) -> CalendarEntry:
    starts: datetime | date = draw(MOMENTS)
    ends = starts + timedelta(minutes=draw(st.integers(10, 240)))
    if draw(st.booleans()):
        starts, ends = starts.date(), starts.date() + timedelta(days=draw(st.integers(1, 9)))
    return CalendarEntry(
        uid=str(draw(st.uuids())),
        summary=draw(TITLES.filter(bool)),
        starts=starts,
        ends=ends,
        sequence=draw(st.integers(0, 99)),
        changed_at=draw(MOMENTS),
        status=draw(st.sampled_from(["CONFIRMED", "TENTATIVE", "CANCELLED"])),
        place=draw(TITLES),
        about=draw(TITLES),
    )


@given(st.lists(entries(), min_size=1, max_size=4, unique_by=lambda each: each.uid))
def test_another_parser_reads_what_was_written(rows: list[CalendarEntry]) -> None:
    data = written("Larkmoor, the club; all", rows)
    (calendar,) = vobject.readComponents(data.decode())
    assert calendar.contents["x-wr-calname"][0].value == "Larkmoor, the club; all"
    found = {each.uid.value: each for each in calendar.contents["vevent"]}
    assert set(found) == {each.uid for each in rows}
    for row in rows:
        entry = found[row.uid]
        assert (entry.dtstart.value, entry.dtend.value) == (row.starts, row.ends)
        assert entry.summary.value == row.summary
        assert entry.contents.get("location", [None])[0] is None or entry.location.value == row.place
        assert (int(entry.sequence.value), entry.status.value) == (row.sequence, row.status)
        assert entry.dtstamp.value == entry.last_modified.value == row.changed_at


@given(st.lists(entries(), min_size=1, max_size=4, unique_by=lambda each: each.uid))
def test_lines_are_short_and_the_order_of_rows_says_nothing(rows: list[CalendarEntry]) -> None:
    data = written("Larkmoor", rows)
    assert data == written("Larkmoor", reversed(rows))
    lines = data.split(b"\r\n")
    assert lines[-1] == b""
    assert max(map(len, lines)) <= 75  # octets without the break: RFC 5545, 3.1
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert b"METHOD" not in data
