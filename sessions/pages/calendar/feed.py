"""A calendar as programs read it: what each entry says, and what it leaves out. No player stands in it, and no note."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from hashlib import sha256
from typing import TYPE_CHECKING, Any

from django.urls import reverse
from django.utils.translation import gettext as _

from club import queries as club
from club.letters import isolated
from sessions.bridge import local_moment
from sessions.choices import Kind, Reach, State
from sessions.ics.written import CalendarEntry, written
from sessions.queries.calendar.days import CalendarDays, calendar_days
from sessions.queries.calendar.games import Game
from sessions.queries.rows import zone_words

if TYPE_CHECKING:
    from sessions.models import CalendarLink, ClosedDays, Slot, TrainingSession

_DAY = timedelta(days=1)


@dataclass(frozen=True)
class CalendarShown:
    """A calendar by its name and entries; `sha256` is of all that is answered."""

    name: str
    entries: tuple[CalendarEntry, ...]

    @property
    def sha256(self) -> str:
        return sha256(repr((self.name, self.entries)).encode()).hexdigest()

    def as_ics(self) -> bytes:
        return written(self.name, self.entries)


def calendar_shown(link: CalendarLink, *, site: str) -> CalendarShown:
    """What a calendar says today; `site` begins the addresses in one's own. The queries of `calendar_days`, and the settings."""
    settings = club.club_settings()
    with_links = site if link.reach == Reach.PERSON else ""
    found = _Entries(link, settings.time_zone, with_links.rstrip("/")).of(calendar_days(link))
    return CalendarShown(_name(link, settings.name), tuple(found))


def _name(link: CalendarLink, club_name: str) -> str:
    """A pitch is named where places are, since the calendar's name tells as much."""
    if link.squad:
        return f"{club_name}: {link.squad.name}"
    if link.user:
        return _("{club}: {person}").format(club=club_name, person=link.user.name)
    if link.pitch:
        return f"{club_name}: {link.pitch.name if link.with_place else _('a pitch')}"
    return club_name


@dataclass(frozen=True)
class _Entries:
    link: CalendarLink
    zone: str
    site: str

    def of(self, days: CalendarDays) -> Iterator[CalendarEntry]:
        yield from (self.session(each) for each in days.sessions)
        yield from (self.empty(slot, day) for slot, day in days.empty)
        yield from (self.game(each) for each in days.games)
        yield from (_closed(each) for each in days.closed)

    def session(self, row: TrainingSession) -> CalendarEntry:
        mark = getattr(row, "calendar_mark", None)
        is_off = row.state == State.CANCELLED
        what = row.title or (row.theme.title if row.theme else Kind(row.kind).label)
        rows: Any = row
        return CalendarEntry(
            uid=str(row.public_id),
            summary=self._said(row.squad.name, str(what), is_off=is_off),
            starts=row.period.lower,
            ends=row.period.upper,
            sequence=mark.sequence if mark else 0,
            changed_at=self._at(mark.changed_at if mark else None),
            status="CANCELLED" if is_off else "CONFIRMED",
            place=self._place(rows.place_rows),
            about=self._about(rows.leaders),
            address=self.site + reverse("sessions:session", args=[row.public_id]) if self.site else "",
        )

    def empty(self, slot: Slot, day: date) -> CalendarEntry:
        """A weekly time that is the team's; the session that fills it stands there instead, by an id of its own."""
        rows: Any = slot
        return CalendarEntry(
            uid=f"{slot.public_id}-{day:%Y%m%d}",
            summary=self._said(slot.squad.name, _("usual time")),
            starts=local_moment(day, slot.starts, self.zone),
            ends=local_moment(day, slot.ends, self.zone),
            sequence=slot.version - 1,
            changed_at=self._at(None),
            status="TENTATIVE",
            place=self._place(rows.place_rows),
            about=_("No session is planned for it yet."),
        )

    def game(self, game: Game) -> CalendarEntry:
        """What was entered by hand keeps no count of its changes: it can't be changed, only taken away."""
        row = game.row
        starts: datetime | date = game.day
        ends: datetime | date = game.day + _DAY
        if game.starts and game.ends:
            starts, ends = (local_moment(game.day, each, self.zone) for each in (game.starts, game.ends))
        return CalendarEntry(
            uid=str(game.public_id),
            summary=self._said(row.squad.name, game.title, is_off=game.is_off),
            starts=starts,
            ends=ends,
            sequence=0 if game.is_by_hand else row.sequence,
            changed_at=self._at(None if game.is_by_hand else row.changed_at),
            status="CANCELLED" if game.is_off else "CONFIRMED",
            place=game.place if self.link.with_place else "",
        )

    def _said(self, team: str, what: str, *, is_off: bool = False) -> str:
        """Programs that don't show what is cancelled show the title at least."""
        text = what if self.link.reach == Reach.TEAM else f"{isolated(team)}: {what}"
        return _("Cancelled: {what}").format(what=text) if is_off else text

    def _place(self, rows: list[dict[str, Any]]) -> str:
        return zone_words(rows) if self.link.with_place else ""

    def _about(self, leaders: list[str]) -> str:
        if not (self.link.with_coach and leaders):
            return ""
        return _("Led by {names}").format(names=", ".join(leaders))

    def _at(self, moment: datetime | None) -> datetime:
        """When an entry was last revised, to the second; what keeps no such moment is as old as the address."""
        return (moment or self.link.made_at).astimezone(UTC).replace(microsecond=0)


def _closed(row: ClosedDays) -> CalendarEntry:
    title = f"{row.pitch.name}: {row.title}" if row.pitch else row.title
    return CalendarEntry(
        uid=str(row.public_id),
        summary=_("Closed: {what}").format(what=title),
        starts=row.period.lower,
        ends=row.period.upper,
        sequence=0,
        changed_at=row.changed_at.astimezone(UTC).replace(microsecond=0),
        is_free=True,
    )
