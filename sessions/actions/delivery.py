"""What happened at the pitch: events appended under a lock, and everything worked out from them anew."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, timedelta
from typing import Any, Literal
from uuid import UUID

import msgspec
from django.utils import timezone
from django.utils.translation import gettext as _

from club import queries as club
from club import reading
from club.actions import action, lock_row, set_out
from club.actor import Actor
from club.errors import Refused
from club.limits import YEARS
from drills import queries as drills
from sessions import bridge
from sessions.actions.projections import rebuild
from sessions.actions.setups import RUNGS, keep_accepted_setups, take_back_setups
from sessions.models import DeliveryEvent, Part, Register, TrainingSession
from sessions.planning.fold import Event, SessionLimits, body_of, event_problems, parse_event
from sessions.planning.fold.bodies import Body, FitBody, SwapBody, TeamsBody, TrialistBody, UndoneBody
from sessions.queries.pitch import ACCEPTED

MOST_EVENTS = 500
OUT = "out"
UNDONE = "undone"
MOST_SKEW = timedelta(days=7)
LEAST_SKEW = timedelta(seconds=10)  # less is the way: it must not turn the taps of one phone round
MOST_AHEAD = timedelta(days=1)
MOST_DAYS_BEFORE = 60
MOST_SAID = 200
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
    if actor.user_id is None:
        raise Refused(_("Nobody is signed in."))
    locked = lock_row(TrainingSession, session.pk)
    return take_all(EventWriter(actor, locked, device[:40], skew_ms(phone_now)), events)


def take_all(writer: "EventWriter", events: Sequence[Mapping[str, Any]]) -> list[EventOutcome]:
    """One after another, with all that follows from them; the writer's session is locked. Raises Refused for too many."""
    if len(events) > MOST_EVENTS:
        raise Refused(
            _("At most {most_events} events at a time; send the rest afterwards.").format(
                most_events=MOST_EVENTS
            ),
            "events",
        )
    outcomes = [writer.take(raw) for raw in events]
    if writer.new:
        DeliveryEvent.objects.bulk_create(writer.new)
        state = rebuild(session=writer.session, last_seq=writer.seq)
        if any(each.kind in (ACCEPTED, *RUNGS) for each in writer.new):
            keep_accepted_setups(writer.session, state)
        if any(each.kind == UNDONE for each in writer.new):
            take_back_setups(writer.session, state)
        _set_out(writer.session, writer.new)
    return outcomes


def _set_out(session: TrainingSession, events: Iterable[DeliveryEvent]) -> None:
    """Who was tapped out at the pitch is out in every team from then on, by the event's own time."""
    taps = {str(each.body.get("player")): each for each in events if each.kind == OUT}
    for player in club.players_by_id(taps, on=session.day) if taps else ():
        tap = taps[str(player.public_id)]
        set_out(player=player, by_id=tap.actor_id, since=tap.at - timedelta(milliseconds=tap.skew_ms))


def skew_ms(phone_now: Any) -> int:
    """How far a phone's clock runs ahead, in ms; 0 for one that is too far off to be meant."""
    if phone_now is None:
        return 0
    skew = phone_now - timezone.now()
    return 0 if not LEAST_SKEW <= abs(skew) <= MOST_SKEW else int(skew.total_seconds() * 1000)


class EventWriter:
    """Takes one event after another, knowing what the session has already."""

    def __init__(self, actor: Actor, session: TrainingSession, device: str, skew_ms: int) -> None:
        self.actor, self.session, self.device, self.skew_ms = actor, session, device, skew_ms
        self.known = dict(DeliveryEvent.objects.filter(session=session).values_list("event_id", "sha256"))
        self.players = {str(each.public_id) for each in club.players_of([session.squad_id], on=session.day)}
        self.players |= {
            str(each)
            for each in Register.objects.filter(session=session).values_list("player__public_id", flat=True)
        }
        self.places = _places_of(session)
        self.told = SessionLimits(session_minutes=bridge.minutes_of(session))
        self.seq = session.last_seq
        self.new: list[DeliveryEvent] = []

    def take(self, raw: Mapping[str, Any]) -> EventOutcome:
        if not isinstance(raw, Mapping):
            return EventOutcome("", "refused", "An event is an object with id, kind and at.")
        named = _sayable(raw.get("id"))
        problem = next(iter(event_problems(raw, self.told)), "")
        if problem:
            return EventOutcome(named, "refused", _sayable(problem))
        event = parse_event(raw)
        problem = _cant_keep(event)
        if problem:
            return EventOutcome(named, "refused", problem)
        event_id, digest = UUID(event.id), _digest(event)
        if event_id in self.known:
            same = self.known[event_id] == digest
            text = "" if same else "This id came before with other content; the first one counts."
            return EventOutcome(named, "already" if same else "conflict", text)
        body = body_of(event)
        problem = (
            self.not_theirs(event, body)
            or self._not_of_this_time(event)
            or self._not_here(body)
            or self._stranger(event, body)
        )
        if problem:
            return EventOutcome(named, "refused", problem)
        self._append(event, event_id, digest)
        return EventOutcome(
            named, "taken", "" if body else "Saved, but not understood here.", body is not None
        )

    def not_theirs(self, event: Event, body: Body | None) -> str:
        """Why whoever sends this may not; empty when they may: staff of the age group send every kind."""
        return ""

    def _not_of_this_time(self, event: Event) -> str:
        """Why this can't have happened at this session's time; empty when it can. The sender's clock is put right first."""
        skew = timedelta(milliseconds=event.skew_ms or self.skew_ms)
        happened = event.at - skew
        if happened > timezone.now() + MOST_AHEAD:
            return "By our clock this has not happened yet."
        if (self.session.day - happened.date()).days > MOST_DAYS_BEFORE:
            return "This happened long before this session."
        return ""

    def _not_here(self, body: Body | None) -> str:
        """Why what this event names was never this session's; empty when it is, or was."""
        part = getattr(body, "part", None)
        if part is not None and part not in self.places:
            return "This part is not in this session."
        station = getattr(body, "station", None)
        if station is not None and station not in self.places:
            return "This station is not in this session."
        if isinstance(body, UndoneBody) and not _is_own_form(body.event):
            return "What is undone is named by the id of its event."
        if isinstance(body, TrialistBody) and body.joined is not None and not _is_own_form(body.joined):
            return "Who goes is named by the id of the event by which they joined."
        if isinstance(body, FitBody) and not bridge.can_be_kept(body.setup):
            return "This set-up can't be read. Choose it again."
        if isinstance(body, SwapBody) and not drills.has_revision(body.drill, body.revision, self.actor):
            return "The library does not have this drill in that form."
        return ""

    def _stranger(self, event: Event, body: Body | None) -> str:
        """Why this event's players can't be on this register; empty when there are none or they may.

        Asked of every kind, not of `guest` alone: what happened to a guest may come in before the guest does.
        """
        if isinstance(body, TeamsBody):
            pairs = (name for each in body.wishes for name in (each.first, each.second))
            named: list[Any] = [*(player for team in body.teams for player in team), *body.keepers, *pairs]
            named = [each for each in named if not self._tries_out(each)]
        else:
            named = [event.body.get("player")]
        found = (self._strange(event.kind, each) for each in named if isinstance(each, str))
        return next((each for each in found if each), "")

    def _tries_out(self, name: str) -> bool:
        """Whether this is the id of an event by which a trialist joined."""
        return _is_own_form(name) and UUID(name) in self.known

    def _strange(self, kind: str, player: str) -> str:
        if player in self.players:
            return ""
        if not _is_uuid(player):
            return "The player of an event is named by a UUID."
        squad = club.squad_of_player(player, on=self.session.day)
        if squad is None or not self.actor.works_with(squad.age_group_id):
            if kind != "guest":
                return "This player is not on the list of the team."
            return "A guest is added by the coach of their own team, or by the director."
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
                form=event.v,
                actor_id=self.actor.user_id,
                device=self.device,
                body=event.body,
                sha256=digest,
            )
        )


def _places_of(session: TrainingSession) -> set[str]:
    """Outer ids of parts and stations that the session has, or has had."""
    rows = Part.objects.filter(session=session).values_list("public_id", "stations__public_id")
    return {str(each) for row in rows for each in row if each} | set(session.former_places)


def _is_own_form(text: str) -> bool:
    """Whether an id is written as ids of events are written here."""
    found = reading.outer_id(text)
    return found is not None and str(found) == text


def _sayable(given: Any) -> str:
    """What was sent, short, and with nothing in it that no answer could carry."""
    text = given if isinstance(given, str) else ""
    return text[:MOST_SAID].encode("utf-8", "replace").decode()


def _is_uuid(text: str) -> bool:
    return reading.outer_id(text) is not None


def _cant_keep(event: Event) -> str:
    """Why an event that is well formed can't be written down all the same; empty when it can."""
    if not _is_uuid(event.id):
        return "The id of an event is a UUID."
    if event.at.year not in YEARS:  # it would run off the calendar once it is corrected
        return "The time of this event is in no year that a club trains in."
    if not reading.is_moment(event.at):
        return "No clock anywhere is that far from the time of this event."
    if reading.unkeepable([event.kind, event.body]) is not None:
        return "This event holds something that can't be saved."
    return ""


def _digest(event: Event) -> str:
    """Content only: the phone's clock may drift between two sendings of the same event."""
    content: dict[str, Any] = {
        "kind": event.kind,
        "at": event.at.astimezone(UTC).isoformat(),
        "body": event.body,
    }
    if event.v != 1:
        content["v"] = event.v
    return hashlib.sha256(msgspec.json.encode(content, order="deterministic")).hexdigest()
