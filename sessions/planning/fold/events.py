"""Events as phones send them: `{"id", "kind", "at", …}`, the fields of a kind beside the three."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Annotated, Any

import msgspec

from sessions.planning.fold.bodies import (
    MOST_LABEL,
    Body,
    DeliveredBody,
    EffortBody,
    Key,
    ShortenedBody,
    TimedPlayer,
    decoded,
)

MOST_BODY_BYTES = 16_384
MOST_SKEW_MS = 7 * 24 * 3600 * 1000
OVERRUN_MIN = 60

Skew = Annotated[int, msgspec.Meta(ge=-MOST_SKEW_MS, le=MOST_SKEW_MS)]


class Event(msgspec.Struct, frozen=True, kw_only=True):
    """One event. `at` is the phone's time; `skew_ms` is how far that phone's clock runs ahead of the server's.

    `v` is the form in which the body is written. `device` is the phone that it came from, empty where it did not say: such
    senders count as one.
    """

    id: str
    kind: str
    at: datetime
    skew_ms: int = 0
    v: int = 1
    body: dict[str, Any] = {}
    device: str = ""

    @property
    def corrected_at(self) -> datetime:
        """When it happened by the server's clock: the phone's time less what its clock runs ahead."""
        return self.at - timedelta(milliseconds=self.skew_ms)


@dataclass(frozen=True, slots=True)
class SessionLimits:
    """What an event of a session is held against: its planned minutes, and whether single players are rated."""

    session_minutes: float | None = None
    individual_ratings: bool = False


_ENVELOPE = ("id", "kind", "at", "skew_ms", "v")


class _Envelope(msgspec.Struct, kw_only=True):
    id: Key
    kind: Annotated[str, msgspec.Meta(min_length=1, max_length=MOST_LABEL)]
    at: Annotated[datetime, msgspec.Meta(tz=True)]
    skew_ms: Skew = 0
    v: Annotated[int, msgspec.Meta(ge=1, le=1000)] = 1


def parse_event(raw: Mapping[str, Any]) -> Event:
    """An event from its flat form. ValueError with a coach's words where id, kind, at or skew_ms are wrong."""
    head = {name: raw[name] for name in _ENVELOPE if name in raw}
    try:
        envelope = msgspec.convert(head, _Envelope)
    except msgspec.ValidationError as error:
        raise ValueError(f"event: {_words(str(error))}") from error
    body = {name: value for name, value in raw.items() if name not in _ENVELOPE}
    return Event(
        id=envelope.id, kind=envelope.kind, at=envelope.at, skew_ms=envelope.skew_ms, v=envelope.v, body=body
    )


def body_of(event: Event) -> Body | None:
    """The event's body by its kind and form; None where the kind or the body is not understood."""
    try:
        return decoded(event.kind, event.v, event.body)
    except msgspec.ValidationError:
        return None


def event_problems(raw: Mapping[str, Any] | Event, told: SessionLimits | None = None) -> tuple[str, ...]:
    """What is wrong with an event, in a coach's words; empty where it can be taken.

    A kind or a form that is not known is no problem: it is kept and marked.
    """
    try:
        event = raw if isinstance(raw, Event) else parse_event(raw)
    except ValueError as error:
        return (str(error),)
    if too_big := _too_big(event.body):
        return too_big
    try:
        body = decoded(event.kind, event.v, event.body)
    except (msgspec.ValidationError, KeyError, TypeError, ValueError) as error:
        return (f"{event.kind.replace('_', ' ')}: {_words(str(error))}",)
    return () if body is None else _against(body, told or SessionLimits())


def _against(body: Body, told: SessionLimits) -> tuple[str, ...]:
    """What speaks against a well-formed body in this session."""
    if isinstance(body, EffortBody) and body.player and not told.individual_ratings:
        return ("effort: single players are not rated in this age group; rate the group",)
    minutes = body.minutes if isinstance(body, TimedPlayer | DeliveredBody | ShortenedBody) else None
    if minutes is None or told.session_minutes is None or minutes <= told.session_minutes + OVERRUN_MIN:
        return ()
    return (
        f"minutes: the session is {told.session_minutes:g} minutes; {minutes:g} is longer than it can have lasted",
    )


def _too_big(body: Mapping[str, Any]) -> tuple[str, ...]:
    try:
        size = len(msgspec.json.encode(body))
    except (TypeError, ValueError, RecursionError):
        return ("event: it holds something that cannot be written down",)
    if size > MOST_BODY_BYTES:
        return (f"event: it is too long ({size} bytes; {MOST_BODY_BYTES} at most)",)
    return ()


_FOR_COACHES = (
    ("Object missing required field ", "missing: "),
    ("Object contains unknown field ", "not known here: "),
    ("Expected `datetime` with a timezone component", "the time needs its time zone"),
    ("Invalid RFC3339 encoded datetime", "that is not a time"),
    ("Expected `float` <= 10.0", "the CR10 scale ends at 10"),
    ("Expected `float` >= 0.0", "less than 0"),
    ("Expected `str` of length <= ", "too long; characters at most: "),
    ("Expected `str` of length >= 1", "empty"),
    ("Invalid enum value ", "not one of the choices: "),
    ("Expected `float` <= ", "too many; at most "),
    ("Expected `int` <= ", "too many; at most "),
    ("Expected `int` >= ", "too few; at least "),
    (" - at `$.", " (field `"),
)


def _words(error: str) -> str:
    for theirs, ours in _FOR_COACHES:
        error = error.replace(theirs, ours)
    return error + ")" if "(field `" in error else error
