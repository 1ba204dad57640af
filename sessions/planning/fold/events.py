"""Events as phones send them: `{"id", "kind", "at", …}`, the fields of a kind beside the three.

Every field that counts names what it is about (the part that begins, the variation gone to), so the same tap
on two phones gives one result.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Annotated, Any, Literal

import msgspec

MOST_TEXT = 500
MOST_KEY = 64
MOST_LABEL = 40
MOST_MINUTES = 600
MOST_BODY_BYTES = 16_384
MOST_SKEW_MS = 7 * 24 * 3600 * 1000

Key = Annotated[str, msgspec.Meta(min_length=1, max_length=MOST_KEY)]
Minutes = Annotated[float, msgspec.Meta(ge=0, le=MOST_MINUTES)]
Skew = Annotated[int, msgspec.Meta(ge=-MOST_SKEW_MS, le=MOST_SKEW_MS)]
LimitName = Literal["no_contact", "no_heading", "outside_only"]
CancelReason = Literal["weather", "pitch", "staff", "too_few"]


class Event(msgspec.Struct, frozen=True, kw_only=True):
    """One event. `at` is the phone's time; `skew_ms` is how far that phone's clock runs ahead of the server's."""

    id: str
    kind: str
    at: datetime
    skew_ms: int = 0
    body: dict[str, Any] = {}

    @property
    def corrected_at(self) -> datetime:
        """The time by the server's clock."""
        return self.at - timedelta(milliseconds=self.skew_ms)


class Body(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Base of the bodies: a field that is not known is refused rather than dropped."""


class AboutPlayer(Body, frozen=True, kw_only=True):
    """`arrived`, `absent`, `watching`; `out`: takes part nowhere until a coach of theirs lifts it, why is not kept."""

    player: Key


class TimedPlayer(Body, frozen=True, kw_only=True):
    """`late`, `left`: at the event's own time unless minutes after the start are given."""

    player: Key
    minutes: Minutes | None = None


class GuestBody(Body, frozen=True, kw_only=True):
    """`guest`: a player of another squad."""

    player: Key
    squad: Key | None = None


class LimitedBody(Body, frozen=True, kw_only=True):
    """`limited`: what a player leaves out tonight; nothing named is full again. No reason is kept."""

    player: Key
    limits: Annotated[list[LimitName], msgspec.Meta(max_length=3)] = []
    at_most_min: Annotated[int, msgspec.Meta(ge=1, le=MOST_MINUTES)] | None = None


class AboutPart(Body, frozen=True, kw_only=True):
    """`part_started`, `part_ended`, `next_part` (the part that begins), `bout_held`, `bout_resumed`."""

    part: Key


class RungBody(Body, frozen=True, kw_only=True):
    """`easier`, `harder`: the variation that is gone to, empty for the drill as written."""

    part: Key
    to: Annotated[str, msgspec.Meta(max_length=MOST_KEY)]


class FitBody(Body, frozen=True, kw_only=True):
    """`fit_accepted`: the set-up as the fit answered it."""

    part: Key
    setup: dict[str, Any]


class MinuteBody(Body, frozen=True, kw_only=True):
    """`minute_more`."""

    part: Key
    minutes: Annotated[int, msgspec.Meta(ge=1, le=30)] = 1


class EffortBody(Body, frozen=True, kw_only=True):
    """`effort`: CR10 of the group for a part, or for the whole session."""

    cr10: Annotated[float, msgspec.Meta(ge=0, le=10)]
    part: Key | None = None
    player: Key | None = None
    scale: Literal["CR10"] = "CR10"


class NoteBody(Body, frozen=True, kw_only=True):
    """`note`: no names, no health."""

    text: Annotated[str, msgspec.Meta(min_length=1, max_length=MOST_TEXT)]
    part: Key | None = None


class DeliveredBody(Body, frozen=True, kw_only=True):
    """`delivered`: all of it, or so many minutes."""

    minutes: Minutes | None = None


class ShortenedBody(Body, frozen=True, kw_only=True):
    """`shortened`."""

    minutes: Minutes


class CancelledBody(Body, frozen=True, kw_only=True):
    """`cancelled`."""

    reason: CancelReason


class MovedBody(Body, frozen=True, kw_only=True):
    """`moved`: to another time or place."""

    to: Annotated[str, msgspec.Meta(max_length=MOST_LABEL)] = ""


class EmptyBody(Body, frozen=True, kw_only=True):
    """`as_planned`: takes back delivered, shortened, cancelled or moved. `collected`: the last child has gone home."""


KINDS: Mapping[str, type[Body]] = {
    "arrived": AboutPlayer,
    "late": TimedPlayer,
    "left": TimedPlayer,
    "guest": GuestBody,
    "limited": LimitedBody,
    "watching": AboutPlayer,
    "out": AboutPlayer,
    "absent": AboutPlayer,
    "part_started": AboutPart,
    "part_ended": AboutPart,
    "next_part": AboutPart,
    "bout_held": AboutPart,
    "bout_resumed": AboutPart,
    "easier": RungBody,
    "harder": RungBody,
    "fit_accepted": FitBody,
    "minute_more": MinuteBody,
    "effort": EffortBody,
    "note": NoteBody,
    "delivered": DeliveredBody,
    "shortened": ShortenedBody,
    "cancelled": CancelledBody,
    "moved": MovedBody,
    "as_planned": EmptyBody,
    "collected": EmptyBody,
}

_ENVELOPE = ("id", "kind", "at", "skew_ms")


class _Envelope(msgspec.Struct, kw_only=True):
    id: Key
    kind: Annotated[str, msgspec.Meta(min_length=1, max_length=MOST_LABEL)]
    at: Annotated[datetime, msgspec.Meta(tz=True)]
    skew_ms: Skew = 0


def parse_event(raw: Mapping[str, Any]) -> Event:
    """An event from its flat form. ValueError with a coach's words where id, kind, at or skew_ms are wrong."""
    head = {name: raw[name] for name in _ENVELOPE if name in raw}
    try:
        envelope = msgspec.convert(head, _Envelope)
    except msgspec.ValidationError as error:
        raise ValueError(f"event: {_words(str(error))}") from error
    body = {name: value for name, value in raw.items() if name not in _ENVELOPE}
    return Event(id=envelope.id, kind=envelope.kind, at=envelope.at, skew_ms=envelope.skew_ms, body=body)


def body_of(event: Event) -> Body | None:
    """The event's body by its kind; None where the kind or the body is not understood."""
    known = KINDS.get(event.kind)
    if known is None:
        return None
    try:
        return msgspec.convert(event.body, known)
    except msgspec.ValidationError:
        return None


def event_problems(raw: Mapping[str, Any] | Event, *, individual_ratings: bool = False) -> tuple[str, ...]:
    """What is wrong with an event, in a coach's words; empty where it can be taken.

    A kind that is not known is no problem: it is kept and marked. `individual_ratings` says whether single
    players may be rated in this age group.
    """
    try:
        event = raw if isinstance(raw, Event) else parse_event(raw)
    except ValueError as error:
        return (str(error),)
    known = KINDS.get(event.kind)
    if known is None:
        return _too_big(event.body)
    try:
        body = msgspec.convert(event.body, known)
    except msgspec.ValidationError as error:
        return (f"{event.kind.replace('_', ' ')}: {_words(str(error))}",)
    if isinstance(body, EffortBody) and body.player and not individual_ratings:
        return ("effort: single players are not rated in this age group; rate the group",)
    return _too_big(event.body)


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
