"""fold(plan, events): the same state for any order, duplication or batching of the events."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import UTC, datetime

import msgspec

from sessions.planning.fold import bodies as ev
from sessions.planning.fold.events import Event, body_of
from sessions.planning.fold.parts import begun, changed, ended, runs, tapped
from sessions.planning.fold.register import MergedRegister
from sessions.planning.fold.state import (
    DeliveryState,
    Guest,
    Heat,
    NextTime,
    NoteState,
    PartState,
    RatingState,
    Status,
)
from sessions.planning.plan import SessionPlan


@dataclass(slots=True)
class _Fold:
    """What is gathered while the events are gone through in order."""

    plan: SessionPlan
    starts_at: datetime | None
    status: Status = "planned"
    minutes: float | None = None
    reason: str | None = None
    moved_to: str | None = None
    done_at: datetime | None = None
    register: MergedRegister = field(default_factory=MergedRegister)
    guests: dict[str, Guest] = field(default_factory=dict)
    parts: dict[str, PartState] = field(default_factory=dict)
    ratings: dict[tuple[str | None, str | None], RatingState] = field(default_factory=dict)
    notes: list[NoteState] = field(default_factory=list)
    trialists: dict[int, str] = field(default_factory=dict)  # number → the event by which they joined
    teams: dict[str, tuple[tuple[str, ...], ...]] = field(default_factory=dict)
    heat: Heat | None = None
    thunder_at: datetime | None = None
    heads: int | None = None
    collected: tuple[datetime, str] | None = None
    next_time: NextTime | None = None
    not_understood: list[str] = field(default_factory=list)
    set_aside: list[str] = field(default_factory=list)

    def part(self, key: str) -> PartState:
        return self.parts.get(key, PartState(key=key))


def fold(plan: SessionPlan, events: Iterable[Event]) -> DeliveryState:
    """The state that the events leave behind, sorted by (corrected time, id). How phones' registers become one: `register.py`.

    The same id counts once; with two contents the one that sorts first counts, and the id is named among the
    conflicts. What was undone is left out before anything else is looked at. Kinds that are not known are kept by
    the caller and named in `not_understood`, what belongs to a part that is not in the plan (any more) in `set_aside`.
    """
    unique, conflicts = _unique(events)
    undone = _undone(unique)
    known = {part.key for part in plan.parts}
    done = [event for event in unique if event.id not in undone]
    starts = [e.corrected_at for e in done if e.kind == "part_started" and e.body.get("part") in known]
    # In UTC, where minutes add up also in a night in which the clocks change.
    planned = None if plan.starts_at is None else plan.starts_at.astimezone(UTC)
    gathered = _Fold(plan, planned or min(starts, default=None))
    for event in done:
        body = body_of(event)
        part = getattr(body, "part", None)
        if body is None:
            gathered.not_understood.append(event.id)
        elif part is not None and part not in known:
            gathered.set_aside.append(event.id)
        else:
            _TAKE[event.kind](gathered, event, body)
    return _state(gathered, conflicts, tuple(sorted(undone)))


def _unique(events: Iterable[Event]) -> tuple[list[Event], tuple[str, ...]]:
    by_id: dict[str, dict[bytes, Event]] = {}
    for event in sorted(events, key=lambda event: event.device, reverse=True):
        content = msgspec.json.encode(msgspec.structs.replace(event, device=""), order="deterministic")
        by_id.setdefault(event.id, {})[content] = event
    first = [contents[min(contents)] for contents in by_id.values()]
    conflicts = tuple(sorted(id_ for id_, contents in by_id.items() if len(contents) > 1))
    return sorted(first, key=lambda event: (event.corrected_at, event.id)), conflicts


def _undone(in_order: list[Event]) -> set[str]:
    """Ids that were taken back, the latest word first: what undoes is void where a later one undoes it."""
    undone: set[str] = set()
    for event in reversed(in_order):
        body = body_of(event) if event.kind == "undone" and event.id not in undone else None
        if isinstance(body, ev.UndoneBody):
            undone.add(body.event)
    return undone & {event.id for event in in_order}


def _register(state: _Fold, event: Event, body: ev.Body) -> None:
    assert isinstance(body, ev.RegisterTap)
    if isinstance(body, ev.GuestBody):
        state.guests[body.player] = Guest(player=body.player, squad=body.squad)
    state.register.take(event, body, state.starts_at)


def _start(state: _Fold, event: Event, body: ev.Body) -> None:
    """The first start stands, and ends whichever other part runs."""
    assert isinstance(body, ev.AboutPart)
    at = event.corrected_at
    for other in [each for each in state.parts.values() if each.key != body.part and runs(each)]:
        state.parts[other.key] = ended(other, at)
    state.parts[body.part] = begun(state.part(body.part), at)


def _run(state: _Fold, event: Event, body: ev.Body) -> None:
    """What is tapped of a part that runs, or is to come."""
    assert isinstance(body, ev.AboutPart)
    state.parts[body.part] = tapped(state.part(body.part), event.kind, event.corrected_at)


def _change_part(state: _Fold, event: Event, body: ev.Body) -> None:
    key = getattr(body, "part", "")
    state.parts[key] = changed(state.part(key), body)


def _weather(state: _Fold, event: Event, body: ev.Body) -> None:
    if isinstance(body, ev.HeatBody):
        state.heat = Heat(
            at=event.corrected_at, temperature_c=body.temperature_c, humidity_pct=body.humidity_pct
        )
    else:
        state.thunder_at = event.corrected_at


def _people(state: _Fold, event: Event, body: ev.Body) -> None:
    match body:
        case ev.TrialistBody():
            _trialist(state, event.id, body)
        case ev.TeamsBody():
            state.teams[body.part or ""] = tuple(tuple(team) for team in body.teams)


def _count(state: _Fold, event: Event, body: ev.Body) -> None:
    """The last count stands."""
    assert isinstance(body, ev.HeadsBody)
    state.heads = body.count


def _trialist(state: _Fold, event_id: str, body: ev.TrialistBody) -> None:
    """Whoever joins stays, under the lowest free number where somebody has theirs already; see `TrialistBody`."""
    state.register.tapped()
    if body.here:
        taken = state.trialists
        free = next(number for number in range(1, len(taken) + 2) if number not in taken)
        taken[free if body.number in taken else body.number] = event_id
    elif body.joined is None:
        state.trialists.pop(body.number, None)
    else:
        state.trialists = {
            number: joined for number, joined in state.trialists.items() if joined != body.joined
        }


def _rate(state: _Fold, event: Event, body: ev.Body) -> None:
    assert isinstance(body, ev.EffortBody)
    rating = RatingState(cr10=body.cr10, part=body.part, player=body.player)
    state.ratings[body.part, body.player] = rating


def _note(state: _Fold, event: Event, body: ev.Body) -> None:
    assert isinstance(body, ev.NoteBody)
    state.notes.append(NoteState(id=event.id, at=event.corrected_at, text=body.text, part=body.part))


def _collect(state: _Fold, event: Event, body: ev.Body) -> None:
    """The last tap counts: another child was found to be waiting."""
    state.collected = (event.corrected_at, event.id)


def _afterwards(state: _Fold, event: Event, body: ev.Body) -> None:
    """Whatever is said once it is over; the last word counts."""
    match body:
        case ev.ConfirmedBody():
            state.register.confirm(event, body)
        case ev.AgainBody():
            part = state.part(body.part)
            state.parts[body.part] = msgspec.structs.replace(part, again=body.answer)
        case ev.NextTimeBody():
            state.next_time = NextTime(id=event.id, at=event.corrected_at, text=body.text)


def _settle(state: _Fold, event: Event, body: ev.Body) -> None:
    """The last word on the session counts."""
    state.minutes = state.reason = state.moved_to = None
    state.done_at = event.corrected_at
    match body:
        case ev.DeliveredBody():
            state.status, state.minutes = "delivered", body.minutes
        case ev.ShortenedBody():
            state.status, state.minutes = "shortened", body.minutes
        case ev.CancelledBody():
            state.status, state.reason = "cancelled", body.reason
        case ev.MovedBody():
            state.status, state.moved_to = "moved", body.to
        case _:
            state.status, state.done_at = "planned", None


_TAKE: dict[str, Callable[[_Fold, Event, ev.Body], None]] = {
    **dict.fromkeys(("arrived", "late", "left", "guest", "limited", "watching", "out", "absent"), _register),
    **dict.fromkeys(("part_started", "next_part"), _start),
    **dict.fromkeys(("part_ended", "part_skipped", "bout_held", "bout_resumed"), _run),
    **dict.fromkeys(
        ("easier", "harder", "fit_accepted", "minute_more", "bout_dropped", "part_swapped"), _change_part
    ),
    **dict.fromkeys(("heat", "thunder"), _weather),
    **dict.fromkeys(("trialist", "teams_set"), _people),
    "undone": lambda state, event, body: None,
    "effort": _rate,
    "note": _note,
    **dict.fromkeys(("delivered", "shortened", "cancelled", "moved", "as_planned"), _settle),
    "collected": _collect,
    **dict.fromkeys(("confirmed", "again", "next_time"), _afterwards),
    "heads": _count,
}


def _state(gathered: _Fold, conflicts: tuple[str, ...], undone: tuple[str, ...]) -> DeliveryState:
    if gathered.done_at is not None:
        _close_parts(gathered, gathered.done_at)
    started = any(part.started_at is not None for part in gathered.parts.values())
    status: Status = "running" if gathered.status == "planned" and started else gathered.status
    return DeliveryState(
        starts_at=gathered.starts_at,
        status=status,
        reason=gathered.reason,
        moved_to=gathered.moved_to,
        minutes_delivered=_minutes_delivered(gathered),
        minutes_said=gathered.minutes is not None,
        register=gathered.register.settled(),
        guests=tuple(guest for _, guest in sorted(gathered.guests.items())),
        parts=tuple(gathered.part(part.key) for part in gathered.plan.parts),
        ratings=tuple(gathered.ratings[key] for key in sorted(gathered.ratings, key=repr)),
        notes=tuple(gathered.notes),
        collected_at=gathered.collected[0] if gathered.collected else None,
        collected_by=gathered.collected[1] if gathered.collected else None,
        not_understood=tuple(gathered.not_understood),
        set_aside=tuple(gathered.set_aside),
        conflicts=conflicts,
        undone=undone,
        trialists=tuple(sorted(gathered.trialists)),
        teams=dict(sorted(gathered.teams.items())),
        heat=gathered.heat,
        thunder_at=gathered.thunder_at,
        confirmed_at=gathered.register.confirmed_at,
        next_time=gathered.next_time,
        heads=gathered.heads,
    )


def _close_parts(gathered: _Fold, at: datetime) -> None:
    for part in [each for each in gathered.parts.values() if runs(each)]:
        gathered.parts[part.key] = ended(part, at, by_itself=True)


def _minutes_delivered(gathered: _Fold) -> float:
    """As said; else the plan's for a delivered session, none for a cancelled or moved one, so far for the rest."""
    if gathered.status in ("cancelled", "moved"):
        return 0.0
    if gathered.minutes is not None:
        return float(gathered.minutes)
    if gathered.status == "delivered":
        return float(gathered.plan.minutes)
    starts = [part.started_at for part in gathered.parts.values() if part.started_at is not None]
    ends = [
        part.ended_at for part in gathered.parts.values() if part.started_at and part.ended_at is not None
    ]
    if not starts or not ends:
        return 0.0
    return max(0.0, (max(ends) - (gathered.starts_at or min(starts))).total_seconds() / 60)
