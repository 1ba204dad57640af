"""The club's settings, its clock and the season that runs."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date, datetime, timedelta, tzinfo
from typing import Any, TypeVar
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import QuerySet
from django.utils import timezone

from club.models import ClubSettings, Season

_kept: ContextVar[dict[str, Any] | None] = ContextVar("kept_settings", default=None)
Read = TypeVar("Read")


@contextmanager
def settings_read_once() -> Iterator[None]:
    """Within this, the settings and the guidelines are read at most once: a page asks for them a dozen times."""
    token = _kept.set({})
    try:
        yield
    finally:
        _kept.reset(token)


def forget_settings() -> None:
    """After settings or guidelines were saved."""
    found = _kept.get()
    if found is not None:
        found.clear()


def kept(name: str, read: Callable[[], Read]) -> Read:
    """What `read` gives, asked at most once in a request."""
    found = _kept.get()
    if found is None:
        return read()
    if name not in found:
        found[name] = read()
    known: Read = found[name]
    return known


def club_settings() -> ClubSettings:
    """The one row of settings; unsaved defaults before the club has been set up."""
    return kept("settings", _read_settings)


def _read_settings() -> ClubSettings:
    return ClubSettings.objects.filter(id=1).first() or ClubSettings(name="Bibrack")


def club_now(settings: ClubSettings | None = None) -> datetime:
    """The present moment on the club's own clock."""
    zone = (settings or club_settings()).time_zone
    return timezone.now().astimezone(ZoneInfo(zone))


def today() -> date:
    """The club's date: weeks and registers go by it, not by UTC."""
    return club_now().date()


class ClubZone(tzinfo):
    """The club's time zone, read when the first moment is shown: a request that shows none asks nothing."""

    def _zone(self) -> ZoneInfo:
        return ZoneInfo(club_settings().time_zone)

    def utcoffset(self, moment: datetime | None) -> timedelta | None:
        return self._zone().utcoffset(moment)

    def dst(self, moment: datetime | None) -> timedelta | None:
        return self._zone().dst(moment)

    def tzname(self, moment: datetime | None) -> str | None:
        return self._zone().key if moment is None else self._zone().tzname(moment)

    def fromutc(self, moment: datetime) -> datetime:
        zone = self._zone()
        return zone.fromutc(moment.replace(tzinfo=zone))


def running_season(on: date | None = None) -> QuerySet[Season, int]:
    """The number of the season that `current_season` finds, to filter by without asking first."""
    day = on or today()
    return Season.objects.filter(period__endswith__gt=day).order_by("period").values_list("pk", flat=True)[:1]


def current_season(on: date | None = None) -> Season | None:
    """The season that runs on a day (today when not said), else the next one to begin."""
    day = on or today()
    running = Season.objects.filter(period__contains=day).first()
    return running or Season.objects.filter(period__startswith__gt=day).order_by("period").first()


def seasons() -> list[Season]:
    """All seasons, the newest first."""
    return list(Season.objects.order_by("-period"))


def season(public_id: UUID) -> Season | None:
    return Season.objects.filter(public_id=public_id).first()
