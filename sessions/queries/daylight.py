"""Who plays in the dark: civil dusk at the club's place against the lights of what is booked."""

from collections.abc import Iterable, Mapping
from datetime import date, time
from typing import Any

from club import queries as club
from club.choices import Surface
from club.models import ClubSettings
from sessions.bridge import local_moment
from sessions.choices import State
from sessions.models import Slot, TrainingSession
from sessions.planning.daylight import Coordinates, dark_reasons
from sessions.planning.reasons import PlanningReason
from sessions.queries.rows import zones_of
from sessions.queries.slots.weekly import days_of


def spot_of(settings: ClubSettings) -> Coordinates | None:
    """Where the club's pitches are; None where nobody has said."""
    if settings.latitude is None or settings.longitude is None:
        return None
    return Coordinates(float(settings.latitude), float(settings.longitude), settings.time_zone)


def in_the_dark(session: TrainingSession) -> list[PlanningReason]:
    """What is said of a session that ends after dusk without lights; nothing where it is off, indoors, or nobody knows where.

    No query for a session that was read with its frame.
    """
    if session.state == State.CANCELLED:
        return []
    return _dark(session.day, session.starts, session.ends, zones_of(session))


def dark_from(slot: Slot, today: date) -> tuple[date, PlanningReason] | None:
    """The first day from today on which a slot, read with its zones, ends after dusk without lights."""
    if not _unlit(slot.zone_rows) or spot_of(club.club_settings()) is None:
        return None
    for day in days_of(slot, max(today, slot.first_day), slot.last_day):
        found = _dark(day, slot.starts, slot.ends, slot.zone_rows)
        if found:
            return day, found[0]
    return None


def is_dark_on(pitch: Any, day: date, starts: time, ends: time) -> bool:
    """Whether a pitch has no lights and its time ends after dusk; not known where nobody has said where the club is: no."""
    row = {"pitch": pitch.name, "has_lights": pitch.has_lights, "surface": pitch.surface}
    return bool(_dark(day, starts, ends, [row]))


def _dark(day: date, starts: time, ends: time, zones: Iterable[Mapping[str, Any]]) -> list[PlanningReason]:
    unlit = _unlit(zones)
    settings = club.club_settings()
    spot = spot_of(settings) if unlit else None
    if spot is None:
        return []
    begin = local_moment(day, starts, settings.time_zone)
    end = local_moment(day, ends, settings.time_zone)
    return list(dark_reasons(spot, begin, end, ", ".join(unlit)))


def _unlit(zones: Iterable[Mapping[str, Any]]) -> list[str]:
    """The pitches among these zones that have no lights and no roof."""
    dark = (row["pitch"] for row in zones if not row["has_lights"] and row["surface"] != Surface.HALL)
    return list(dict.fromkeys(dark))
