"""Secret addresses of calendars: made, ended, and what each was answered last."""

from uuid import UUID

from django.utils import timezone

from club import actions as club
from club import queries as people
from club.actions import action
from club.actions.conflicts import lock_name
from club.actor import Actor
from sessions.models import CalendarLink
from sessions.queries.calendar.links import CalendarOf, links_to

LASTS_DAYS = (92, 366)  # a block or two, or a season


@action
def open_calendar(*, actor: Actor, of: CalendarOf, days: str, with_place: bool, with_coach: bool) -> str:
    """Make an address and return its secret, which is kept nowhere. Raises Refused, as every link does."""
    lock_name(f"calendar {of.fields}")  # links are counted and made by one at a time
    return club.open_link(
        actor=actor,
        links=links_to(of),
        shows={**of.fields, "with_place": with_place, "with_coach": with_coach},
        days=days,
        offered=LASTS_DAYS,
    )


@action
def end_calendar(*, of: CalendarOf, link_id: UUID | str) -> CalendarLink:
    """Delete an address of this calendar: programs that read it find nothing from now on. Raises Http404."""
    return club.close_link(links=links_to(of), link_id=link_id)


@action
def note_reading(*, link: CalendarLink, sha256: str) -> CalendarLink:
    """Note the day on which it was read, and since when its answer is what it is. One write a day, and one for each new answer."""
    today = people.today()
    if link.last_read_on == today and link.answer_sha256 == sha256:
        return link
    if link.answer_sha256 != sha256:
        link.answer_sha256, link.answer_since = sha256, timezone.now()
    link.last_read_on = today
    link.save(update_fields=["last_read_on", "answer_sha256", "answer_since"])
    return link


def forget_calendar_links() -> int:
    """Delete addresses that open nothing any more. The number deleted."""
    return club.delete_closed(CalendarLink.objects.all())
