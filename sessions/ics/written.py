"""A calendar as bytes: RFC 5545, published without a METHOD, so DTSTAMP says when an entry was last revised (section 3.8.7.2)."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any, Literal

Status = Literal["CONFIRMED", "TENTATIVE", "CANCELLED"]
# How often a program may ask; RFC 7986, section 5.7. Programs that know the older name only read the second.
REFRESH_MINUTES = 60


@dataclass(frozen=True, slots=True)
class CalendarEntry:
    """One entry. `starts` and `ends` are aware moments, or days of which the last is not among them.

    `changed_at` is the aware moment of its last revision; `sequence` counts its revisions from 0 (RFC 5545, 3.8.7.4).
    """

    uid: str
    summary: str
    starts: datetime | date
    ends: datetime | date
    sequence: int
    changed_at: datetime
    status: Status = "CONFIRMED"
    place: str = ""
    about: str = ""
    address: str = ""  # of a page about it
    is_free: bool = False  # whoever has it in the calendar counts as free


def written(name: str, entries: Iterable[CalendarEntry]) -> bytes:
    """The calendar as UTF-8 with lines of at most 75 octets. The same entries give the same bytes, in whatever order they come."""
    import icalendar

    calendar = icalendar.Calendar()
    calendar.add("prodid", "-//Bibrack//Calendar//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("name", icalendar.vText(name))  # which escapes it; of a plain text the library does not
    calendar.add("x-wr-calname", icalendar.vText(name))
    calendar.add("refresh-interval", timedelta(minutes=REFRESH_MINUTES), parameters={"value": "DURATION"})
    calendar.add("x-published-ttl", f"PT{REFRESH_MINUTES}M")
    for each in sorted(entries, key=lambda each: (_key(each.starts), each.uid)):
        calendar.add_component(_event(icalendar.Event(), each))
    return bytes(calendar.to_ical())


def _key(moment: datetime | date) -> str:
    return moment.astimezone(UTC).isoformat() if isinstance(moment, datetime) else moment.isoformat()


def _event(event: Any, entry: CalendarEntry) -> Any:
    add = event.add
    add("uid", entry.uid)
    add("dtstamp", entry.changed_at.astimezone(UTC))
    add("last-modified", entry.changed_at.astimezone(UTC))
    add("sequence", entry.sequence)
    add("dtstart", _in_utc(entry.starts))
    add("dtend", _in_utc(entry.ends))
    add("summary", entry.summary)
    add("status", entry.status)
    add("transp", "TRANSPARENT" if entry.is_free or entry.status == "CANCELLED" else "OPAQUE")
    for name, value in (("location", entry.place), ("description", entry.about), ("url", entry.address)):
        if value:
            add(name, value)
    return event


def _in_utc(moment: datetime | date) -> datetime | date:
    return moment.astimezone(UTC) if isinstance(moment, datetime) else moment
