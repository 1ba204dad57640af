"""Rows of a file held against what is known: which are new, which stand already, which can't be taken and why. Nothing is saved."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, Literal

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from club import queries as club
from club.limits import TITLE
from sessions.ics.table import Row
from sessions.models import ClosedDays, Fixture

FARTHEST_DAYS = 400  # a season ahead, and what of the next is known
LONGEST_CLOSED = 120  # days: a summer
Outcome = Literal["new", "changed", "there", "refused"]


@dataclass(frozen=True)
class Judged:
    """A row and what becomes of it; `was` is what is saved of it already."""

    row: Row
    outcome: Outcome
    reason: str = ""
    was: Any = None


def problem_words(row: Row) -> str:
    """What is wrong with a row by itself, and what would clear it; empty where nothing is."""
    cells = row.cells
    words = {
        "day": _("“{day}” is no day. Write it as 2026-12-05 or 5.12.2026.").format(
            day=cells.day if row.first is None and not cells.until else cells.until or cells.day
        ),
        "time": _("“{time}” is no time. Write it as 10:30.").format(
            time=f"{cells.starts} {cells.ends}".strip()
        ),
        "order": _("It ends before it starts, or on another day."),
        "days": _("The last day is before the first."),
        "gap": _("The clocks go forward that night: this time is not there. Ask when it is."),
        "repeats": _("It repeats by a rule. Write each day in a line of its own."),
        "title": _("It has no title."),
    }
    return words.get(row.problem or "", "")


def judge_matches(rows: Iterable[Row], squad_id: int) -> list[Judged]:
    """What becomes of each match. One query."""
    known = list(Fixture.objects.filter(squad_id=squad_id))
    by_uid = {each.source_uid: each for each in known}
    by_facts: dict[Any, Fixture] = {(each.day, each.starts, each.title.casefold()): each for each in known}
    found: list[Judged] = []
    seen: set[str] = set()
    for row in rows:
        was = by_uid.get(row.uid) or by_facts.get((row.first, row.starts, row.cells.what.casefold()))
        reason = problem_words(row) or _too_far(row) or _too_long(row)
        if not reason and row.last != row.first:
            reason = _("A match is on one day. Write a tournament’s days in a line each.")
        if not reason and row.uid in seen:
            reason = _("It stands in the file twice.")
        if not reason:
            seen.add(row.uid)
        found.append(Judged(row, "refused", reason) if reason else Judged(row, _of_match(row, was), was=was))
    return found


def match_facts(row: Row) -> dict[str, Any]:
    """What is saved of a match's row."""
    return {
        "title": row.cells.what,
        "place": row.cells.where[:TITLE],
        "day": row.first,
        "starts": row.starts,
        "ends": row.ends,
        "is_off": row.is_off,
    }


def _of_match(row: Row, was: Fixture | None) -> Outcome:
    if was is None:
        return "new"
    same = all(getattr(was, name) == value for name, value in match_facts(row).items())
    return "there" if same else "changed"


def judge_closed(rows: Iterable[Row], pitch_id: int | None) -> list[Judged]:
    """What becomes of each stretch of closed days; of two that overlap the first is taken. One query."""
    known = [
        (each.first_day, each.last_day, each.title) for each in ClosedDays.objects.filter(pitch_id=pitch_id)
    ]
    found = []
    for row in rows:
        reason = problem_words(row) or _too_far(row) or _too_long(row)
        if not reason and row.is_off:
            reason = _("The file says that it is cancelled.")
        if reason or row.first is None or row.last is None:
            found.append(Judged(row, "refused", reason))
            continue
        stretch = (row.first, row.last, row.cells.what)
        other = next((each for each in known if each[0] <= row.last and row.first <= each[1]), None)
        if other == stretch:
            found.append(Judged(row, "there"))
        elif other:
            words = _("It overlaps {title}, {first} to {last}. Change one of the two.")
            reason = words.format(title=other[2], first=_said(other[0]), last=_said(other[1]))
            found.append(Judged(row, "refused", reason))
        else:
            known.append(stretch)
            found.append(Judged(row, "new"))
    return found


def _too_far(row: Row) -> str:
    today = club.today()
    if row.first is None or row.last is None:
        return ""
    if row.last < today:
        return _("This day is over.")
    if row.last > today + timedelta(days=FARTHEST_DAYS):
        return _("This day is more than {n} days away.").format(n=FARTHEST_DAYS)
    return ""


def _too_long(row: Row) -> str:
    if len(row.cells.what) > TITLE:
        return _("The title is longer than {n} characters. Shorten it.").format(n=TITLE)
    if row.first and row.last and (row.last - row.first).days >= LONGEST_CLOSED:
        return _("These are more than {n} days. Split them.").format(n=LONGEST_CLOSED)
    return ""


def _said(day: date) -> str:
    return date_format(day, "j M Y")


def closed_between(first: date, last: date = date.max) -> list[ClosedDays]:
    """Closed days of which one lies between two days, both included, with their pitch. One query."""
    rows = ClosedDays.objects.filter(period__endswith__gt=first, period__startswith__lte=last)
    return list(rows.select_related("pitch"))


def closed_by_week(mondays: Sequence[date]) -> list[tuple[date, list[ClosedDays]]]:
    """Each week by its Monday with the closed days that lie in it. One query."""
    ends = [(monday, monday + timedelta(days=6)) for monday in mondays]
    rows = closed_between(ends[0][0], ends[-1][1]) if ends else []
    return [
        (monday, [each for each in rows if each.first_day <= sunday and monday <= each.last_day])
        for monday, sunday in ends
    ]


def fixture_by_id(public_id: Any) -> Fixture | None:
    return Fixture.objects.filter(public_id=public_id).first()
