"""Rows of training ↔ the pure values that the computations take."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

import msgspec

from drills.game.document import DrillDocument
from drills.game.evening import Evening, UnreadableEvening, as_plain, from_plain
from drills.game.fit import SetUp, kept
from drills.game.played import Played, as_played, bibs_tonight
from drills.game.rooms import ENGINE_VERSION
from sessions.models import Part, Station, TrainingSession
from sessions.planning.fold import PartState, RegisterLine
from sessions.planning.plan import PlannedPart, SessionPlan
from sessions.validators import minutes_between


def local_moment(day: date, at: time, zone: str) -> datetime:
    """A wall-clock time of the club as an aware datetime."""
    return datetime.combine(day, at, tzinfo=ZoneInfo(zone))


def period_of(day: date, starts: time, ends: time, zone: str) -> tuple[datetime, datetime]:
    """From–to of a wall-clock booking, aware; stored as UTC."""
    return local_moment(day, starts, zone), local_moment(day, ends, zone)


@dataclass(frozen=True, slots=True)
class KeptAt:
    """What a station keeps: a set-up with its bibs and the evening that it answers, or why they can't be read here."""

    setup: kept.Kept | None = None
    evening: Evening | None = None
    lost: str = ""


def kept_at(row: Station) -> KeptAt:
    """What was accepted for a station; nothing of it where one half can't be read, as if nothing had been accepted."""
    if row.evening is None:
        return KeptAt()
    try:
        setup = None if row.setup is None else kept.from_plain(row.setup)
        return KeptAt(setup, from_plain(row.evening))
    except (kept.UnreadableSetUp, UnreadableEvening) as error:
        return KeptAt(lost=str(error))


def evening_as_kept(setup: SetUp, evening: Evening) -> dict[str, Any]:
    """The evening that a set-up answers, on the piece of ground that it lies on, as plain data."""
    return as_plain(
        replace(evening, pieces=tuple(each for each in evening.pieces if each.key == setup.piece))
    )


def setup_as_kept(setup: SetUp, document: DrillDocument, rung: str, evening: Evening) -> dict[str, Any]:
    """A set-up whole, in bibs out of the evening's kit, as plain data."""
    return kept.as_plain(kept.Kept(setup, bibs_tonight(document, rung, setup, evening), ENGINE_VERSION))


def as_kept(document: DrillDocument, rung: str, setup: Mapping[str, Any] | None) -> Played:
    """A drill as it is run with a set-up as it is kept; as it is written where that can't be read, or where there is none."""
    try:
        found = None if setup is None else kept.from_plain(dict(setup))
    except kept.UnreadableSetUp:
        found = None
    return as_played(document, rung, found.setup, found.bibs) if found else as_played(document, rung)


def evening_kept(row: Station) -> Evening | None:
    """The evening that a station's set-up answers; None where there is none that can be read."""
    return kept_at(row).evening


def setup_kept(row: Station) -> kept.Kept | None:
    """The set-up that was accepted for a station, with its bibs; None where there is none that can be read."""
    return kept_at(row).setup


def register_of(session: TrainingSession) -> dict[str, RegisterLine]:
    """The register as it stands, by the players' outer ids; empty before anybody was marked."""
    return msgspec.convert(session.delivery.get("register", {}), dict[str, RegisterLine])


def parts_run(session: TrainingSession) -> dict[str, PartState]:
    """How each part has gone so far, by its outer id; empty before anything has happened."""
    states = msgspec.convert(session.delivery.get("parts", []), list[PartState])
    return {each.key: each for each in states}


def part_of(row: Part, *, title: str, kit: Iterable[Mapping[str, int]] = (), headers: int = 0) -> PlannedPart:
    """A part row as the computations see it."""
    return PlannedPart(
        key=str(row.public_id),
        title=title,
        minutes=row.minutes,
        cr10=float(row.effort),
        bouts=row.bouts,
        bout_s=row.bout_s,
        rest_s=row.rest_s,
        changeover_s=row.changeover_s,
        headers_per_player=headers,
        station_kit=tuple(kit),
    )


def plan_of(
    session: TrainingSession, parts: Iterable[PlannedPart], *, zone: str, clear_minutes: int
) -> SessionPlan:
    """A session row and its parts as one plan on the club's clock."""
    return SessionPlan(
        minutes=minutes_between(session.starts, session.ends),
        parts=tuple(parts),
        starts_at=local_moment(session.day, session.starts, zone),
        clear_minutes=clear_minutes,
    )
