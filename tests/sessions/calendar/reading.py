"""Calendars as other programs read them: asked for without an account, then read by a parser that shares no code with ours."""

from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

import vobject
from django.test import Client

from club.queries import actor_of
from sessions import actions
from sessions.choices import Reach
from sessions.queries.calendar.links import CalendarOf

LONDON = ZoneInfo("Europe/London")


def address(by: Any, of: CalendarOf, **switched: bool) -> str:
    """A new address of a calendar, everything that could be told left out unless it is named."""
    given = {"with_place": False, "with_coach": False, **switched}
    secret = actions.open_calendar(actor=actor_of(by), of=of, days="366", **given)
    return f"/calendar/{secret}.ics"


def of_team(place: Any) -> CalendarOf:
    return CalendarOf(Reach.TEAM, place.squad)


def text_at(address: str) -> str:
    answer = Client().get(address)
    assert (answer.status_code, answer["Content-Type"]) == (200, "text/calendar; charset=utf-8")
    return answer.content.decode()


def entries_in(text: str) -> dict[str, Any]:
    """By its UID, each entry as the other parser has it."""
    (calendar,) = vobject.readComponents(text)
    found = {each.uid.value: each for each in calendar.contents.get("vevent", [])}
    assert len(found) == len(calendar.contents.get("vevent", [])), "a UID stands twice"
    return found


def entry(address: str, row: Any) -> Any:
    return entries_in(text_at(address))[str(row.public_id)]


def said(entry: Any) -> dict[str, str]:
    """Every line of an entry but when it was last revised."""
    return {
        name: str(values[0].value)
        for name, values in entry.contents.items()
        if name not in ("dtstamp", "last-modified", "sequence")
    }


def local(moment: datetime | date) -> str:
    """What a clock in the club shows."""
    assert isinstance(moment, datetime)
    assert moment.utcoffset() == UTC.utcoffset(None)
    return f"{moment.astimezone(LONDON):%Y-%m-%d %H:%M}"
