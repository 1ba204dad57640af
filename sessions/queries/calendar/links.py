"""Addresses of calendars: which there are of what, and which one a secret opens."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID

from django.db.models import QuerySet
from django.http import Http404

from club import queries as club
from club.queries.public_links import still_open
from sessions.choices import Reach
from sessions.models import CalendarLink


@dataclass(frozen=True)
class CalendarOf:
    """Whose calendar: a person's, a team's or a pitch's row, or the club's (None)."""

    reach: Reach
    thing: Any = None

    @property
    def fields(self) -> dict[str, Any]:
        """What a link to it says of it."""
        named = {Reach.PERSON: "user", Reach.TEAM: "squad", Reach.PITCH: "pitch"}
        found: dict[str, Any] = {"reach": self.reach}
        if self.reach in named:
            found[f"{named[self.reach]}_id"] = self.thing.pk
        return found


@dataclass(frozen=True)
class CalendarLinkRow:
    """An address that is open; `made_by` is empty where that person has been erased."""

    public_id: UUID
    made_at: datetime
    expires_at: datetime
    made_by: str
    with_place: bool
    with_coach: bool
    last_read_on: date | None


def links_to(of: CalendarOf) -> QuerySet[CalendarLink]:
    """Every address of a calendar, also those that are over."""
    return CalendarLink.objects.filter(**of.fields)


def calendar_link_rows(of: CalendarOf) -> list[CalendarLinkRow]:
    """The addresses of a calendar that are open, newest first. One query."""
    return [
        CalendarLinkRow(
            each.public_id,
            each.made_at,
            each.expires_at,
            each.made_by.name if each.made_by else "",
            each.with_place,
            each.with_coach,
            each.last_read_on,
        )
        for each in still_open(links_to(of)).select_related("made_by")
    ]


def calendar_of_secret(secret: str) -> CalendarLink:
    """The address with this secret, if it opens something now. One query, two for a person's.

    Raises Http404, which does not tell never made, deleted and over apart. A person's ends with the last role.
    """
    link = club.link_with(CalendarLink.objects.select_related("user", "squad", "pitch"), secret)
    if link is None:
        raise Http404
    if link.user is not None and not club.actor_of(link.user).is_staff:
        raise Http404
    return link
