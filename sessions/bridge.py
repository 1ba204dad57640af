"""Rows of training ↔ the pure values that the computations take."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time
from typing import Annotated, Any
from zoneinfo import ZoneInfo

import msgspec

from drills.drawing.picture import laid
from drills.game.document import DrillDocument
from drills.game.evening import Evening, PlayerAges, UnreadableEvening, as_plain, from_plain
from drills.game.fit import SetUp, serialize
from drills.game.format import MOST_PLAYERS
from drills.game.played import Played, as_played, bibs_tonight
from drills.game.rooms import ENGINE_VERSION
from sessions.models import Part, Station, TrainingSession
from sessions.planning.fold import DeliveryState, PartState, RegisterLine, counted_now
from sessions.planning.plan import PlannedPart, SessionPlan
from sessions.planning.rotation import InBib, PeopleBout

FARTHEST_M = 1000


def local_moment(day: date, at: time, zone: str) -> datetime:
    """A wall-clock time of the club as an aware datetime."""
    return datetime.combine(day, at, tzinfo=ZoneInfo(zone))


def period_of(day: date, starts: time, ends: time, zone: str) -> tuple[datetime, datetime]:
    """From–to of a wall-clock booking, aware; stored as UTC."""
    return local_moment(day, starts, zone), local_moment(day, ends, zone)


def minutes_of(session: TrainingSession) -> int:
    """Minutes that pass from its start to its end: in a night in which the clocks change more or fewer than they say."""
    lower, upper = (each.astimezone(UTC) for each in (session.period.lower, session.period.upper))
    return round((upper - lower).total_seconds() / 60)


@dataclass(frozen=True, slots=True)
class KeptAt:
    """What a station keeps: a set-up with its bibs and the evening that it answers, or why they can't be read here."""

    setup: serialize.KeptSetUp | None = None
    evening: Evening | None = None
    lost: str = ""


def kept_at(row: Station) -> KeptAt:
    """What was accepted for a station; nothing of it where one half can't be read, as if nothing had been accepted.

    A page asks a dozen times: it is read once for the very data that the row holds, and anew as soon as those are others.
    """
    read = row.__dict__.get("_read_of")
    if read is None or read[0] is not row.setup or read[1] is not row.evening:
        read = row.__dict__["_read_of"] = (row.setup, row.evening, kept_of(row.setup, row.evening))
    found: KeptAt = read[2]
    return found


def kept_of(setup: dict[str, Any] | None, evening: dict[str, Any] | None) -> KeptAt:
    """The same of plain data as a row holds it."""
    if evening is None:
        return KeptAt()
    try:
        return KeptAt(None if setup is None else serialize.from_plain(setup), from_plain(evening))
    except (serialize.UnreadableSetUp, UnreadableEvening) as error:
        return KeptAt(lost=str(error))


def evening_as_kept(setup: SetUp, evening: Evening) -> dict[str, Any]:
    """The evening that a set-up answers, on the piece of ground that it lies on, as plain data."""
    return as_plain(
        replace(evening, pieces=tuple(each for each in evening.pieces if each.key == setup.piece))
    )


def setup_as_kept(setup: SetUp, document: DrillDocument, rung: str, evening: Evening) -> dict[str, Any]:
    """A set-up whole, in bibs out of the evening's kit, as plain data."""
    return serialize.as_plain(
        serialize.KeptSetUp(setup, bibs_tonight(document, rung, setup, evening), ENGINE_VERSION)
    )


def as_kept(
    document: DrillDocument,
    rung: str,
    setup: Mapping[str, Any] | None,
    *,
    players: PlayerAges | None = None,
) -> Played:
    """A drill as it is run with a set-up as it is kept; as it is written where that can't be read, or where there is none.

    `players` says whose goals stand on it.
    """
    try:
        found = None if setup is None else serialize.from_plain(dict(setup))
    except serialize.UnreadableSetUp:
        found = None
    if found is None:
        return as_played(document, rung, players=players)
    return as_played(document, rung, found.setup, found.bibs, players=players)


def evening_kept(row: Station) -> Evening | None:
    """The evening that a station's set-up answers; None where there is none that can be read."""
    return kept_at(row).evening


def setup_kept(row: Station) -> serialize.KeptSetUp | None:
    """The set-up that was accepted for a station, with its bibs; None where there is none that can be read."""
    return kept_at(row).setup


def headline(setup: Mapping[str, Any] | None) -> dict[str, Any] | None:
    """What an accepted set-up says of itself, without the whole of it."""
    return None if setup is None else {name: value for name, value in setup.items() if name != "kept"}


def can_be_kept(setup: Mapping[str, Any]) -> bool:
    """Whether what a phone accepted can be written down: its headline is plain, and the whole of it reads as a set-up."""
    try:
        msgspec.convert(headline(setup), Headline)
        whole = setup.get("kept")
        if whole is not None:
            serialize.from_plain(dict(whole))
    except (msgspec.ValidationError, serialize.UnreadableSetUp, TypeError, ValueError):
        return False
    return True


class Headline(msgspec.Struct, frozen=True, kw_only=True):
    """What every event of an accepted set-up says of it. Lengths are those of its first grid, in metres."""

    numbers: Annotated[str, msgspec.Meta(min_length=1, max_length=60)]
    grids: Annotated[int, msgspec.Meta(ge=1, le=40)] = 1
    players_total: Annotated[int, msgspec.Meta(ge=1, le=MOST_PLAYERS)] | None = None
    length_m: Annotated[float, msgspec.Meta(gt=0, le=1000)] | None = None
    width_m: Annotated[float, msgspec.Meta(gt=0, le=1000)] | None = None
    waiting: Annotated[int, msgspec.Meta(ge=0, le=MOST_PLAYERS)] = 0


def can_be_played(document: DrillDocument, rung: str, whole: Mapping[str, Any]) -> bool:
    """Whether a set-up that came whole is one of this drill: everything that shows it can be worked out."""
    try:
        found = serialize.from_plain(dict(whole))
        if not _in_bounds(found.setup):
            return False
        run = as_played(document, rung, found.setup, found.bibs)
        return run.kit is not None and all(laid(run, grid).scene for grid, _times in run.pictures)
    except (serialize.UnreadableSetUp, ValueError, TypeError, LookupError, ArithmeticError):
        return False


def _in_bounds(setup: SetUp) -> bool:
    sizes = (*setup.grid_sizes, setup.extent_m, (setup.length_m, setup.width_m))
    return (
        1 <= setup.players_total <= MOST_PLAYERS
        and 1 <= setup.grids == len(setup.grid_formats) == len(setup.grid_sizes) <= MOST_PLAYERS
        and setup.grids <= setup.columns * setup.rows <= MOST_PLAYERS
        and 0 <= setup.waiting <= MOST_PLAYERS
        and all(0 < side <= FARTHEST_M for size in sizes for side in size)
    )


def state_of(session: TrainingSession) -> DeliveryState | None:
    """What the events left behind; None before anything has happened."""
    return msgspec.convert(session.delivery, DeliveryState) if session.delivery.get("status") else None


def register_of(session: TrainingSession) -> dict[str, RegisterLine]:
    """The register as it stands, by the players' outer ids; empty before anybody was marked."""
    return msgspec.convert(session.delivery.get("register", {}), dict[str, RegisterLine])


def counted(session: TrainingSession) -> int:
    """How many play tonight as far as anybody said, by the register or by a count of heads; 0 where nobody did."""
    said = session.delivery
    return counted_now(register_of(session).values(), len(said.get("trialists", [])), said.get("heads"))


def there(session: TrainingSession) -> int:
    """How many are there now, whoever watches among them."""
    here = sum(each.state in ("here", "late") for each in register_of(session).values())
    return here + len(session.delivery.get("trialists", []))


def came(session: TrainingSession) -> int:
    """How many came to a session that is done, those who watched, left early or try out among them."""
    return sum(each.state != "absent" for each in register_of(session).values()) + len(
        session.delivery.get("trialists", [])
    )


def parts_run(session: TrainingSession) -> dict[str, PartState]:
    """How each part has gone so far, by its outer id; empty before anything has happened."""
    states = msgspec.convert(session.delivery.get("parts", []), list[PartState])
    return {each.key: each for each in states}


def people_bouts(bouts: Iterable[Mapping[str, Any]]) -> tuple[PeopleBout, ...]:
    """Who is where in which bout, as turns keep it, with players by their outer ids."""
    return tuple(
        PeopleBout(
            number=each["number"],
            teams=tuple(InBib(team["bib"], team["place"], tuple(team["players"])) for team in each["teams"]),
            waiting=tuple(each["waiting"]),
            away=tuple(each["away"]),
            loans=tuple((loan[0], loan[1], loan[2]) for loan in each["loans"]),
        )
        for each in bouts
    )


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
        minutes=minutes_of(session),
        parts=tuple(parts),
        starts_at=local_moment(session.day, session.starts, zone),
        clear_minutes=clear_minutes,
    )
