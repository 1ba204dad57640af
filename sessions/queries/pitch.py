"""What a phone at the pitch is told: what has happened so far, and whose names it may hold."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.db.models import F

from club import queries as club
from club import reading
from club.actor import Actor
from sessions.models import DeliveryEvent, TrainingSession, Turns
from sessions.planning.fold import KINDS
from sessions.planning.fold.bodies import REGISTER_KINDS

ACCEPTED = "fit_accepted"
# What a phone's page shows nothing of stays on the server: notes, and kinds that are not known here.
SHOWN = frozenset(KINDS) - {"note"}
# Of an accepted set-up the phone needs its headline; the drawing comes with the page.
HEADLINE = ("numbers", "grids", "players_total", "length_m", "width_m", "waiting")


@dataclass(frozen=True)
class Happened:
    """Events in the order in which they were taken, and the number of the last one."""

    events: list[dict[str, Any]]
    last_seq: int


def happened(session: TrainingSession) -> Happened:
    """Everything so far that a phone shows. One query; none before anything has happened."""
    if not session.last_seq:
        return Happened([], 0)
    return events_since(session, 0)


def events_since(session: TrainingSession, seq: int, *, but: Iterable[str] = ()) -> Happened:
    """What was taken after a number, for a phone that has the rest; `but` are ids that it has sent itself.

    The last number is that of the last row that was read: numbers are given out one by one under the session's lock, so
    nothing that is missing here can have a smaller one. One query.
    """
    own = {str(each) for each in but}
    found = DeliveryEvent.objects.filter(session=session, seq__gt=seq).annotate(by=F("actor__name"))
    rows = list(found.order_by("seq"))
    shown = [_flat(row) for row in rows if row.kind in SHOWN and str(row.event_id) not in own]
    return Happened(shown, rows[-1].seq if rows else seq)


def _flat(row: DeliveryEvent) -> dict[str, Any]:
    at = row.at - timedelta(milliseconds=row.skew_ms)
    return {
        "id": str(row.event_id),
        "kind": row.kind,
        "ms": int(at.timestamp() * 1000),
        **_slim(row.kind, row.body),
        **(_whose(row) if row.kind in REGISTER_KINDS else {}),
    }


def _whose(row: Any) -> dict[str, str]:
    """From which phone a tap of the register came, and whose it is, as staff stand on the session's page; without the name
    where the account was erased."""
    return {"device": row.device, **({"by": row.by} if row.by else {})}


def _slim(kind: str, body: Mapping[str, Any]) -> dict[str, Any]:
    if kind != ACCEPTED:
        return dict(body)
    setup = body.get("setup") or {}
    return {**body, "setup": {name: setup[name] for name in HEADLINE if name in setup}}


@dataclass(frozen=True)
class Collected:
    """When the last child had been collected, and who said so."""

    at: datetime
    by: str


def collected(session: TrainingSession) -> Collected | None:
    """The last child collected; a query only where somebody has said so."""
    at = reading.moment(session.delivery.get("collected_at") or "")
    if at is None:
        return None
    event = DeliveryEvent.objects.filter(session=session, event_id=session.delivery.get("collected_by"))
    return Collected(at, event.values_list("actor__name", flat=True).first() or "")


def taking_part_though_out(session: TrainingSession) -> set[str]:
    """Players, by their outer ids, who are recorded as taking part though they were out when the session ended.

    A phone without signal can't know; what it sent is kept. A query only where somebody takes part and the session was
    not read with who is out when it ends.
    """
    register = session.delivery.get("register", {})
    plays = {
        key
        for key, line in register.items()
        if line["state"] in ("here", "late") and line["taking"] != "watching"
    }
    out: list[UUID] | None = getattr(session, "out_at_end", None)
    if out is not None:
        return plays.intersection(str(each) for each in out)
    return club.out_at(plays, session.period.upper) if plays else set()


def off_by_turns(session: TrainingSession) -> dict[str, list[list[str]]]:
    """By part, who is off in each of its rounds as its first station's turns were worked out: outer ids of players. One query."""
    first = {str(part.public_id): next(iter(part.stations.all()), None) for part in session.parts.all()}
    kept = dict(Turns.objects.filter(session=session).values_list("station_id", "bouts"))
    return {
        key: [list(bout["waiting"]) for bout in kept[station.public_id]]
        for key, station in first.items()
        if station is not None and station.public_id in kept
    }


# --- whose names a phone may hold ---

MOST_GUESTS_OFFERED = 120


@dataclass(frozen=True)
class PlayerShown:
    """A display name and a shirt number; nothing else is known of a player."""

    id: str
    name: str
    shirt: int | None
    squad: str = ""
    guest: bool = False
    out: bool = False  # until a coach of theirs lifts it


@dataclass(frozen=True)
class Guests:
    """Whom this person may add, and the squads whose names were read for it."""

    squad_ids: list[int] = field(default_factory=list)
    players: list[PlayerShown] = field(default_factory=list)

    @property
    def rows(self) -> list[dict[str, Any]]:
        return [
            {"id": each.id, "name": each.name, "squad": each.squad, **({"out": True} if each.out else {})}
            for each in self.players
        ]


def players_for(actor: Actor, session: TrainingSession) -> list[PlayerShown]:
    """The squad's players on the day, by name, then tonight's guests; none for who doesn't work with the age group."""
    if not actor.works_with(session.age_group_id):
        return []
    found = club.players_of([session.squad_id], on=session.day)
    own = [PlayerShown(str(each.public_id), each.display_name, each.shirt, out=each.is_out) for each in found]
    return own + _guests_tonight(session, {each.id for each in own})


def _guests_tonight(session: TrainingSession, own: set[str]) -> list[PlayerShown]:
    """Guests who are on the register already. A query only where there are some."""
    ids = {each["player"] for each in session.delivery.get("guests", [])} - own
    found = club.players_by_id(ids, on=session.day) if ids else []
    return [
        PlayerShown(str(each.public_id), each.display_name, each.shirt, guest=True, out=each.is_out)
        for each in found
    ]


def guests_for(actor: Actor, session: TrainingSession) -> Guests:
    """Players of other squads that this person may add: their own age groups', all of them for a director.

    Not in the page itself: a phone that is lost holds the names of one squad, and of others only once asked for.
    """
    if not actor.works_with(session.age_group_id):
        return Guests()
    groups = None if actor.is_director else actor.age_groups
    squads = {each.pk: each.name for each in club.squads(age_group_ids=groups) if each.pk != session.squad_id}
    if not squads:
        return Guests()
    found = club.players_of(list(squads), on=session.day)[:MOST_GUESTS_OFFERED]
    return Guests(
        list(squads),
        [
            PlayerShown(
                str(each.public_id), each.display_name, each.shirt, squads[each.squad_id], out=each.is_out
            )
            for each in found
        ],
    )
