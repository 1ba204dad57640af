"""One part of a session as its events leave it: begun, paused, ended, skipped, changed. Times are moments with their zone."""

from __future__ import annotations

from datetime import datetime

from msgspec.structs import replace

from sessions.planning.fold import bodies as ev
from sessions.planning.fold.state import PartState, Swap


def runs(part: PartState) -> bool:
    """Whether it has begun and not ended, paused or not. Raises nothing."""
    return part.started_at is not None and part.ended_at is None


def begun(part: PartState, at: datetime) -> PartState:
    """Its first start stands; begun again after its end it runs on. Raises nothing."""
    return replace(part, started_at=part.started_at or at, ended_at=None, skipped=False)


def ended(part: PartState, at: datetime, *, by_itself: bool = False) -> PartState:
    """Ended, a pause with it; by itself, where nobody ended it, never before it began. Raises nothing."""
    if by_itself and part.started_at is not None:
        at = max(at, part.started_at)
    return replace(_resumed(part, at), ended_at=at, ended_by_itself=by_itself)


def tapped(part: PartState, kind: str, at: datetime) -> PartState:
    """After a tap of a kind that names the part alone: ended, skipped, paused or going on. Raises nothing."""
    match kind:
        case "part_ended" if part.ended_at is None:
            return ended(part, at)
        case "part_skipped":  # what has begun is ended; what has not is not run
            return ended(part, at) if runs(part) else replace(part, skipped=part.started_at is None)
        case "bout_resumed":
            return _resumed(part, at)
        case "bout_held" if part.held_since is None:
            return replace(part, held_since=at)
    return part


def changed(part: PartState, body: ev.Body) -> PartState:
    """Played otherwise: another variation, set-up or drill, minutes more, rounds fewer. Raises nothing."""
    match body:
        case ev.RungBody():
            return replace(part, variation=body.to, setup=None, setups={}, older=())
        case ev.FitBody():
            return _set_up(part, body)
        case ev.MinuteBody():
            return replace(part, extra_minutes=part.extra_minutes + body.minutes)
        case ev.DroppedBody():
            return replace(part, dropped_bouts=part.dropped_bouts + body.bouts)
        case ev.SwapBody():
            swap = Swap(drill=body.drill, revision=body.revision, rung=body.rung)
            return replace(part, swap=swap, variation=body.rung, setup=None, setups={}, older=())
    return part


def _resumed(part: PartState, at: datetime) -> PartState:
    if part.held_since is None:
        return part
    held_s = part.held_s + (at - part.held_since).total_seconds()
    return replace(part, held_s=held_s, held_since=None)


def _set_up(part: PartState, body: ev.FitBody) -> PartState:
    rung = part.variation if body.rung is None else body.rung
    if body.station is None:
        return replace(part, variation=rung, setup=body.setup, older=tuple(sorted(part.setups)))
    older = tuple(each for each in part.older if each != body.station)
    return replace(part, variation=rung, setups={**part.setups, body.station: body.setup}, older=older)
