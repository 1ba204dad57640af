"""A file of days, iCalendar (RFC 5545) or a table, as rows of a table. Nothing is looked up, nothing repeats, nothing is fetched."""

from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from club import reading
from club.limits import YEARS
from sessions.ics.table import REPEATS, Cells, Kind, cells_of

MOST_BYTES = 400_000
_BEGINS, _ENDS = "BEGIN:VCALENDAR", "END:VCALENDAR"


class NoDays(ValueError):
    """A file that is no calendar and no table; the text is a code: `bytes`, `calendar`, `table`, `nothing`."""


def text_of(data: bytes) -> str:
    """A file's text. Raises NoDays for what is no UTF-8 text, such as a picture or a spreadsheet program's own file."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise NoDays("bytes") from error
    if "\0" in text:
        raise NoDays("bytes")
    return text


def read(text: str, kind: Kind, zone: str) -> list[Cells]:
    """The rows of a calendar or a table; times of a calendar on the club's clock (`zone`, an IANA name). Raises NoDays."""
    if text.lstrip().upper().startswith(_BEGINS):
        found = _of_calendar(text, kind, ZoneInfo(zone))
    else:
        try:
            found = cells_of(text, kind)
        except ValueError as error:
            raise NoDays("table") from error
    if not found:
        raise NoDays("nothing")
    return found


def _of_calendar(text: str, kind: Kind, zone: ZoneInfo) -> list[Cells]:
    import icalendar

    if not text.rstrip().upper().endswith(_ENDS):
        raise NoDays("calendar")
    try:
        calendars: Any = icalendar.Calendar.from_ical(text.strip(), multiple=True)
        events = [event for each in calendars for event in each.walk("VEVENT")]
    except (ValueError, KeyError, IndexError, TypeError) as error:
        raise NoDays("calendar") from error
    return [_event(number, event, kind, zone) for number, event in enumerate(events, start=1)]


def _event(number: int, event: Any, kind: Kind, zone: ZoneInfo) -> Cells:
    starts, ends = _moment(_first(event, "dtstart")), _moment(_first(event, "dtend"))
    day, clock = _apart(starts, zone)
    last, until_clock = _apart(ends, zone)
    if last is not None and not until_clock and not clock:
        last -= timedelta(days=1)  # the end of whole days is the day after them
    repeats = f" {REPEATS}" if event.get("rrule") is not None or event.get("rdate") is not None else ""
    is_long = last is not None and day is not None and last > day
    return Cells(
        number,
        day=f"{day or reading.text(str(_first(event, 'dtstart') or ''), 40)}{repeats}",
        until=str(last) if is_long and (kind == "closed" or not clock) else "",
        starts=clock if kind == "matches" else "",
        ends=until_clock if kind == "matches" else "",
        what=reading.text(str(_first(event, "summary") or "")),
        where=reading.text(str(_first(event, "location") or "")) if kind == "matches" else "",
        off="yes" if str(_first(event, "status") or "").upper() == "CANCELLED" else "",
        uid=reading.text(str(_first(event, "uid") or "")),
    )


def _first(event: Any, name: str) -> Any:
    """A property; the first of those that stand more than once."""
    found = event.get(name)
    return found[0] if isinstance(found, list) else found


def _moment(value: Any) -> date | datetime | None:
    """What a property says; one that can't be read says nothing."""
    from icalendar.error import BrokenCalendarProperty

    try:
        found = getattr(value, "dt", None)
    except BrokenCalendarProperty:
        return None
    return found if isinstance(found, date) and found.year in YEARS else None


def _apart(moment: date | datetime | None, zone: ZoneInfo) -> tuple[date | None, str]:
    """Day and clock in the club; a time without a zone is the club's own."""
    if not isinstance(moment, datetime):
        return moment, ""
    here = moment.astimezone(zone) if moment.tzinfo else moment
    return here.date(), f"{here:%H:%M}"
