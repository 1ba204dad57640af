"""What happened at the pitch: events appended under a lock, and everything worked out from them anew."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, timedelta
from decimal import Decimal
from typing import Any, Literal
from uuid import UUID

import msgspec
from django.utils import timezone

from club import queries as club
from club import reading
from club.actions import action, lock_row, set_out
from club.actor import Actor
from club.errors import Refused
from club.limits import YEARS
from drills import queries as drills
from sessions import bridge
from sessions.actions.booking import give_free, leave_filled_slot, take_back
from sessions.actions.setups import keep_accepted_setups
from sessions.choices import Attendance, Kind, State, WhyCancelled
from sessions.models import DeliveryEvent, LedgerEntry, Rating, Register, TrainingSession
from sessions.planning import load
from sessions.planning.fold import (
    KINDS,
    DeliveryState,
    Event,
    event_problems,
    fold,
    minutes_taking_part,
    parse_event,
)
from sessions.planning.plan import SessionPlan
from sessions.queries.ledger import squad_factor
from sessions.queries.pitch import ACCEPTED

MOST_EVENTS = 500
OUT = "out"
MOST_SKEW = timedelta(days=7)
Outcome = Literal["taken", "already", "conflict", "refused"]


@dataclass(frozen=True)
class EventOutcome:
    """What became of one event: taken, already there, in conflict with another of the same id, or refused."""

    id: str
    outcome: Outcome
    text: str = ""
    understood: bool = True


@action
def append_events(
    *,
    actor: Actor,
    session: TrainingSession,
    device: str,
    events: Sequence[Mapping[str, Any]],
    phone_now: Any = None,
) -> list[EventOutcome]:
    """Append events and rebuild what follows from them. Sending the same again changes nothing.

    `phone_now` is what the phone's clock says while it sends; the difference to ours corrects its events.
    """
    if len(events) > MOST_EVENTS:
        raise Refused(f"At most {MOST_EVENTS} events at a time; send the rest afterwards.", "events")
    if actor.user_id is None:
        raise Refused("Nobody is signed in.")
    locked = lock_row(TrainingSession, session.pk)
    writer = _Writer(actor, locked, device[:40], _skew_ms(phone_now))
    outcomes = [writer.take(raw) for raw in events]
    if writer.new:
        DeliveryEvent.objects.bulk_create(writer.new)
        rebuild(session=locked, last_seq=writer.seq)
        if any(each.kind == ACCEPTED for each in writer.new):
            keep_accepted_setups(locked)
        _set_out(locked, writer.new)
    return outcomes


def _set_out(session: TrainingSession, events: Iterable[DeliveryEvent]) -> None:
    """Who was tapped out at the pitch is out in every team from then on, by the event's own time."""
    taps = {str(each.body.get("player")): each for each in events if each.kind == OUT}
    for player in club.players_by_id(taps, on=session.day) if taps else ():
        tap = taps[str(player.public_id)]
        set_out(player=player, by_id=tap.actor_id, since=tap.at - timedelta(milliseconds=tap.skew_ms))


def _skew_ms(phone_now: Any) -> int:
    if phone_now is None:
        return 0
    skew = phone_now - timezone.now()
    return 0 if abs(skew) > MOST_SKEW else int(skew.total_seconds() * 1000)


class _Writer:
    """Takes one event after another, knowing what the session has already."""

    def __init__(self, actor: Actor, session: TrainingSession, device: str, skew_ms: int) -> None:
        self.actor, self.session, self.device, self.skew_ms = actor, session, device, skew_ms
        self.known = dict(DeliveryEvent.objects.filter(session=session).values_list("event_id", "sha256"))
        self.players = {str(each.public_id) for each in club.players_of([session.squad_id], on=session.day)}
        self.players |= {
            str(each)
            for each in Register.objects.filter(session=session).values_list("player__public_id", flat=True)
        }
        self.seq = session.last_seq
        self.new: list[DeliveryEvent] = []

    def take(self, raw: Mapping[str, Any]) -> EventOutcome:
        if not isinstance(raw, Mapping):
            return EventOutcome("", "refused", "An event is an object with id, kind and at.")
        named = str(raw.get("id", ""))
        problem = next(iter(event_problems(raw)), "")
        if problem:
            return EventOutcome(named, "refused", problem)
        event = parse_event(raw)
        problem = _cant_keep(event)
        if problem:
            return EventOutcome(named, "refused", problem)
        event_id, digest = UUID(event.id), _digest(event)
        if event_id in self.known:
            same = self.known[event_id] == digest
            text = "" if same else "This id came before with other content; the first one stands."
            return EventOutcome(named, "already" if same else "conflict", text)
        stranger = self._stranger(event)
        if stranger:
            return EventOutcome(named, "refused", stranger)
        self._append(event, event_id, digest)
        known = event.kind in KINDS
        return EventOutcome(named, "taken", "" if known else "Kept, but not understood here.", known)

    def _stranger(self, event: Event) -> str:
        """Why this event's player can't be on this register; empty when there is none or it may.

        Asked of every kind, not of `guest` alone: what happened to a guest may come in before the guest does.
        """
        player = event.body.get("player")
        if not isinstance(player, str) or player in self.players:
            return ""
        if not _is_uuid(player):
            return "The player of an event is named by a UUID."
        squad = club.squad_of_player(player, on=self.session.day)
        if squad is None or not self.actor.works_with(squad.age_group_id):
            if event.kind != "guest":
                return "This player is not on the list of the squad."
            return "A guest is added by the coach of their own squad, or by the director."
        self.players.add(player)
        return ""

    def _append(self, event: Event, event_id: UUID, digest: str) -> None:
        self.seq += 1
        self.known[event_id] = digest
        self.new.append(
            DeliveryEvent(
                session=self.session,
                event_id=event_id,
                seq=self.seq,
                kind=event.kind,
                at=event.at,
                skew_ms=event.skew_ms or self.skew_ms,
                actor_id=self.actor.user_id,
                device=self.device,
                body=event.body,
                sha256=digest,
            )
        )


def _is_uuid(text: str) -> bool:
    return reading.outer_id(text) is not None


def _cant_keep(event: Event) -> str:
    """Why an event that is well formed can't be written down all the same; empty when it can."""
    if not _is_uuid(event.id):
        return "The id of an event is a UUID."
    if event.at.year not in YEARS:  # it would run off the calendar once it is corrected
        return "The time of this event is in no year that a club trains in."
    if not reading.is_moment(event.at):
        return "No place's clock is so far from the time of this event."
    if reading.unkeepable([event.kind, event.body]) is not None:
        return "This event holds characters that can't be kept."
    return ""


def _digest(event: Event) -> str:
    """Content only: the phone's clock may drift between two sendings of the same event."""
    content = {"kind": event.kind, "at": event.at.astimezone(UTC).isoformat(), "body": event.body}
    return hashlib.sha256(msgspec.json.encode(content, order="deterministic")).hexdigest()


@action
def rebuild(*, session: TrainingSession, last_seq: int | None = None) -> DeliveryState:
    """Work out register, ratings, ledger and state from the events; a projection that may be thrown away."""
    if last_seq is None:
        session = lock_row(TrainingSession, session.pk)
    plan = _plan(session)
    rows = DeliveryEvent.objects.filter(session=session)
    state = fold(plan, [_event(row) for row in rows])
    _write_state(session, state, last_seq if last_seq is not None else session.last_seq)
    players = {
        str(each.public_id): each
        for each in club.players_by_id(
            [*state.register, *(each.player for each in state.guests)], on=session.day
        )
    }
    _write_register(session, state, players)
    _write_ratings(session, state, players)
    _write_ledger(session, state, plan, players)
    return state


def _event(row: DeliveryEvent) -> Event:
    return Event(id=str(row.event_id), kind=row.kind, at=row.at, skew_ms=row.skew_ms, body=row.body)


def _plan(session: TrainingSession) -> SessionPlan:
    settings = club.club_settings()
    parts = [bridge.part_of(row, title=row.title) for row in session.parts.all()]
    return bridge.plan_of(session, parts, zone=settings.time_zone, clear_minutes=settings.clear_minutes)


_STATES = {"delivered": State.DELIVERED, "shortened": State.SHORTENED, "cancelled": State.CANCELLED}


def _write_state(session: TrainingSession, state: DeliveryState, last_seq: int) -> None:
    before = session.state
    still = State.MOVED if session.moved_from else State.PLANNED
    called_off_at_the_desk = (
        session.state == State.CANCELLED and session.delivery.get("status") != "cancelled"
    )
    if not (called_off_at_the_desk and state.status in ("planned", "running")):
        session.state = _STATES.get(state.status, still)
        session.why_cancelled = (
            WhyCancelled((state.reason or "weather").replace("_", " "))
            if session.state == State.CANCELLED
            else ""
        )
    took_place = session.state in (State.DELIVERED, State.SHORTENED)
    session.delivered_minutes = round(state.minutes_delivered) if took_place else None
    held = _let_go_or_taken_back(session, before)
    session.delivery = {**msgspec.to_builtins(state), **({"held": held} if held else {})}
    session.last_seq = last_seq
    session.version += 1
    session.save()


def _let_go_or_taken_back(session: TrainingSession, before: str) -> Any:
    """Place and people go with a session that is called off, and come back with one that is on after all.

    What was let go is kept with the delivery for as long as the session is off.
    """
    held = session.delivery.get("held")
    if session.state == State.CANCELLED:
        return give_free(session) if before != State.CANCELLED else held
    if before == State.CANCELLED:
        leave_filled_slot(session)
    if held:
        take_back(session, held)
    return None


def _write_register(session: TrainingSession, state: DeliveryState, players: Mapping[str, Any]) -> None:
    over = session.state in (State.DELIVERED, State.SHORTENED)
    guests = {each.player for each in state.guests}
    Register.objects.filter(session=session).delete()
    Register.objects.bulk_create(
        Register(
            session=session,
            player=players[key],
            state=Attendance.WATCHING if line.taking == "watching" and line.state != "absent" else line.state,
            came_at=line.from_at,
            left_at=line.to_at,
            # Tonight's limits are nobody's business tomorrow.
            limits=[]
            if over
            else [*line.limits, *([f"at most {line.at_most_min} min"] if line.at_most_min else [])],
            is_guest=key in guests,
            minutes=Decimal(str(round(minutes_taking_part(state, key), 1))) if over else 0,
        )
        for key, line in state.register.items()
        if key in players
    )


def _write_ratings(session: TrainingSession, state: DeliveryState, players: Mapping[str, Any]) -> None:
    Rating.objects.filter(session=session).delete()
    Rating.objects.bulk_create(
        Rating(session=session, player=players.get(each.player or ""), cr10=Decimal(str(each.cr10)))
        for each in state.ratings
        if each.part is None and (each.player is None or each.player in players)
    )


def _write_ledger(
    session: TrainingSession, state: DeliveryState, plan: SessionPlan, players: Mapping[str, Any]
) -> None:
    """The squad's load, and each player's minutes and load in the player's own squad."""
    LedgerEntry.objects.filter(session=session).delete()
    if session.state not in (State.DELIVERED, State.SHORTENED):
        return
    minutes = state.minutes_delivered
    rating = state.effort()
    k = squad_factor(session.squad_id, before=session.day)
    share = min(1.0, minutes / plan.minutes) if plan.minutes else 0.0
    whole = load.delivered(rating, minutes, load.expected(load.planned_session(plan).total_au, k) * share)
    per_minute = whole.load_au / minutes if minutes else 0.0
    headers = _headers(session)
    entries = [_entry(session, session.squad_id, None, minutes, whole.load_au, whole.estimated, headers)]
    with_load = session.age_group.session_load_au is not None
    for key, line in state.register.items():
        player = players.get(key)
        if player is None or line.state == "absent":
            continue
        taken = minutes_taking_part(state, key)
        au = per_minute * taken if with_load else None
        entries.append(_entry(session, player.squad_id, player, taken, au, whole.estimated, headers))
    LedgerEntry.objects.bulk_create(entries)


def _entry(
    session: TrainingSession,
    squad_id: int,
    player: Any,
    minutes: float,
    load_au: float | None,
    is_estimated: bool,
    headers: int,
) -> LedgerEntry:
    return LedgerEntry(
        squad_id=squad_id,
        player=player,
        session=session,
        day=session.day,
        kind=Kind.TRAINING,
        title=session.title,
        minutes=Decimal(str(round(minutes, 1))),
        load_au=None if load_au is None else Decimal(str(round(load_au, 1))),
        is_estimated=is_estimated,
        headers=headers,
    )


def _headers(session: TrainingSession) -> int:
    """Headers per player that the session's drills plan."""
    revisions: Iterable[int | None] = session.parts.values_list("stations__revision_id", flat=True)
    documents = drills.documents({each for each in revisions if each})
    return sum(each.document.headers_per_player for each in documents.values())
