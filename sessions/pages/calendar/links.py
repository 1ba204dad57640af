"""The addresses of one calendar: what is said of them before one is made."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django.utils.translation import gettext as _

from club import lasting
from club.letters import isolated
from sessions.choices import Reach
from sessions.queries.calendar.days import AHEAD_DAYS, BACK_DAYS, EMPTY_AHEAD_DAYS
from sessions.queries.calendar.links import CalendarLinkRow, CalendarOf, calendar_link_rows


@dataclass(frozen=True)
class CalendarPage:
    """Whose calendar, its addresses that are open, and how far it reaches."""

    of: CalendarOf
    title: str
    shows: str
    links: list[CalendarLinkRow]
    back: str
    ahead: str
    empty_ahead: str

    @property
    def thing(self) -> Any:
        return self.of.thing


def calendar_page(of: CalendarOf) -> CalendarPage:
    """One query."""
    return CalendarPage(
        of=of,
        title=_title(of),
        shows=_shows(of),
        links=calendar_link_rows(of),
        back=lasting.in_words(timedelta(days=BACK_DAYS)),
        ahead=lasting.in_words(timedelta(days=AHEAD_DAYS)),
        empty_ahead=lasting.in_words(timedelta(days=EMPTY_AHEAD_DAYS)),
    )


def _title(of: CalendarOf) -> str:
    if of.reach == Reach.PERSON:
        return _("Your sessions in your own calendar")
    if of.reach == Reach.CLUB:
        return _("The club’s calendar")
    return _("Calendar of {name}").format(name=isolated(of.thing.name))


def _shows(of: CalendarOf) -> str:
    return {
        Reach.PERSON: _(
            "The sessions that you are down for, your weekly times that nothing fills yet, matches of your age groups, closed days."
        ),
        Reach.TEAM: _(
            "The team’s sessions, its weekly times that nothing fills yet, its matches, closed days."
        ),
        Reach.PITCH: _(
            "Every session on this pitch, weekly times that nothing fills yet, and days on which it is closed."
        ),
        Reach.CLUB: _(
            "Every team’s sessions and weekly times, matches and closed days: for the club’s website, say."
        ),
    }[of.reach]
