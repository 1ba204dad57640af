"""Days as rows of a table: what a file of any kind is turned into, so that it can be looked at, corrected and sent again."""

import csv
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from io import StringIO
from typing import Literal
from zoneinfo import ZoneInfo

from club import reading

# A match whose file says no end; common practice, no source: from the first whistle to clearing up.
MATCH_MINUTES = 90
COLUMNS = ("day", "until", "from", "to", "what", "where", "off", "id")
REPEATS = "repeats"  # stands behind the day of an entry that a file repeats by a rule
_ALSO = {
    "date": "day",
    "first day": "day",
    "last day": "until",
    "start": "from",
    "kick-off": "from",
    "time": "from",
    "end": "to",
    "title": "what",
    "match": "what",
    "opponent": "what",
    "place": "where",
    "venue": "where",
    "uid": "id",
}
# Without a line of headings the cells stand in this order.
_MATCHES = ("day", "from", "to", "what", "where")
_CLOSED = ("day", "until", "what")
Kind = Literal["matches", "closed"]
Problem = Literal["day", "time", "order", "days", "gap", "repeats", "title"]


@dataclass(frozen=True, slots=True)
class Cells:
    """A row as it was typed or read: everything text. `number` counts from 1."""

    number: int
    day: str = ""
    until: str = ""
    starts: str = ""
    ends: str = ""
    what: str = ""
    where: str = ""
    off: str = ""
    uid: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """A row with its values on the club's clock, or what is wrong with it. `last` is the last day that belongs to it."""

    cells: Cells
    first: date | None = None
    last: date | None = None
    starts: time | None = None
    ends: time | None = None
    problem: Problem | None = None

    @property
    def uid(self) -> str:
        """What the file calls it, else its day and title: the same line read again is the same match."""
        return self.cells.uid or f"{self.first} {self.cells.what.casefold()}"

    @property
    def is_off(self) -> bool:
        return self.cells.off.casefold() in ("1", "yes", "off", "cancelled")


def cells_of(text: str, kind: Kind) -> list[Cells]:
    """The rows of a pasted table, its cells apart by tab, semicolon or comma; empty lines and the headings left out. Raises ValueError."""
    lines = [line for line in text.splitlines() if line.strip()]
    apart = next((each for each in "\t;" if lines and each in lines[0]), ",")
    try:
        rows = [
            [cell.strip() for cell in row]
            for row in csv.reader(StringIO("\n".join(lines)), delimiter=apart, strict=False)
        ]
    except csv.Error as error:
        raise ValueError(str(error)) from error
    if not rows:
        return []
    names = _headings(rows[0])
    order: Sequence[str] = names or (_CLOSED if kind == "closed" else _MATCHES)
    return [_cells(number, order, row) for number, row in enumerate(rows[bool(names) :], start=1)]


def _headings(row: list[str]) -> list[str]:
    names = [_ALSO.get(cell.casefold(), cell.casefold()) for cell in row]
    return names if "day" in names else []


def _cells(number: int, order: Sequence[str], row: list[str]) -> Cells:
    found = dict(zip(order, row, strict=False))
    given = {
        "day": found.get("day", ""),
        "until": found.get("until", ""),
        "starts": found.get("from", ""),
        "ends": found.get("to", ""),
        "what": found.get("what", ""),
        "where": found.get("where", ""),
        "off": found.get("off", ""),
        "uid": found.get("id", ""),
    }
    return Cells(number, **given)


def as_text(rows: Iterable[Cells], kind: Kind) -> str:
    """Rows as a table that `cells_of` reads back: as they are typed, with headings only where more stands in it than that order has."""
    found = [
        dict(
            zip(
                COLUMNS,
                (each.day, each.until, each.starts, each.ends, each.what, each.where, each.off, each.uid),
                strict=True,
            )
        )
        for each in rows
    ]
    used = [name for name in COLUMNS if name == "day" or any(row[name] for row in found)]
    order: Sequence[str] = _CLOSED if kind == "closed" else _MATCHES
    lines = [[" ".join(row[name].split()) for name in order] for row in found]
    bare = set(used) <= set(order) and lines and not _headings(lines[0]) and ";" not in "".join(lines[0])
    if not bare:
        lines = [used, *([" ".join(row[name].split()) for name in used] for row in found)]
    out = StringIO()
    csv.writer(out, lineterminator="\n").writerows(lines)
    return out.getvalue()


def valued(cells: Cells, kind: Kind, zone: str) -> Row:
    """A row's values. `zone` is the club's, an IANA name; a time that its clocks skip is a problem, one that they show twice is the first."""
    if cells.day.endswith(REPEATS):
        return Row(cells, problem="repeats")
    first = reading.day_as_written(cells.day)
    last = reading.day_as_written(cells.until) if cells.until else first
    if first is None or last is None:
        return Row(cells, problem="day")
    if not cells.what:
        return Row(cells, first, last, problem="title")
    if last < first:
        return Row(cells, first, last, problem="days")
    if kind == "closed" or not cells.starts:
        return Row(cells, first, last)
    return _timed(cells, first, zone)


def _timed(cells: Cells, day: date, zone: str) -> Row:
    starts = reading.clock(cells.starts)
    ends = reading.clock(cells.ends) if cells.ends else _later(starts)
    if starts is None or ends is None:
        return Row(cells, day, day, problem="time")
    problem: Problem | None = None
    if ends <= starts:
        problem = "order"
    elif not (_is_there(day, starts, zone) and _is_there(day, ends, zone)):
        problem = "gap"
    return Row(cells, day, day, starts, ends, problem)


def _later(starts: time | None) -> time | None:
    if starts is None:
        return None
    ends = datetime.combine(date(2000, 1, 1), starts) + timedelta(minutes=MATCH_MINUTES)
    return ends.time() if ends.day == 1 else time(23, 59)


def _is_there(day: date, at: time, zone: str) -> bool:
    """Whether a clock shows this time on this day: in a night in which they go forward an hour is left out."""
    moment = datetime.combine(day, at, tzinfo=ZoneInfo(zone))
    return moment.astimezone(UTC).astimezone(ZoneInfo(zone)).time() == at
