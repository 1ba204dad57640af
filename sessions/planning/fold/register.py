"""The register: what each event says about one player."""

from __future__ import annotations

from datetime import datetime, timedelta

import msgspec

from sessions.planning.fold.bodies import AboutPlayer, Body, GuestBody, LimitedBody, TimedPlayer
from sessions.planning.fold.state import PresenceSpell, RegisterLine

ABSENT = RegisterLine(state="absent")


def changed_line(
    line: RegisterLine | None, kind: str, body: Body, at: datetime, starts_at: datetime | None
) -> RegisterLine:
    """The player's line after one more event.

    `arrived` is from the start whenever it was tapped: a register taken at 18:04 makes nobody four minutes
    late. Watching and limits stay as they are until `limited` with nothing named says full again.
    """
    line = line or ABSENT
    if isinstance(body, TimedPlayer):
        when = (
            at if body.minutes is None or starts_at is None else starts_at + timedelta(minutes=body.minutes)
        )
        return _late(line, when) if kind == "late" else _left(line, when)
    if isinstance(body, LimitedBody):
        return _limited(line, body, at)
    if kind == "absent":
        return msgspec.structs.replace(line, state="absent", spells=())
    if kind in ("watching", "out"):
        return msgspec.structs.replace(
            _here(line), taking="watching", spells=_turn(line, at, taking_part=False)
        )
    return _arrived(line) if isinstance(body, AboutPlayer | GuestBody) else line


def _taking_part(line: RegisterLine) -> bool:
    return line.taking != "watching"


def _here(line: RegisterLine) -> RegisterLine:
    return line if line.state in ("here", "late") else msgspec.structs.replace(line, state="here")


def _arrived(line: RegisterLine) -> RegisterLine:
    """Here from the start; after `left`, or a wrong `late`, this takes it back."""
    if line.state == "here":
        return line
    spells = line.spells or (PresenceSpell(taking_part=_taking_part(line)),)
    first = msgspec.structs.replace(spells[0], starts_at=None)
    last = msgspec.structs.replace((first, *spells[1:])[-1], ends_at=None)
    kept = (*(first, *spells[1:])[:-1], last)
    return msgspec.structs.replace(line, state="here", spells=kept)


def _late(line: RegisterLine, when: datetime) -> RegisterLine:
    return msgspec.structs.replace(
        line, state="late", spells=(PresenceSpell(starts_at=when, taking_part=_taking_part(line)),)
    )


def _left(line: RegisterLine, when: datetime) -> RegisterLine:
    spells = line.spells or (PresenceSpell(taking_part=_taking_part(line)),)
    return msgspec.structs.replace(
        line, state="left", spells=(*spells[:-1], msgspec.structs.replace(spells[-1], ends_at=when))
    )


def _limited(line: RegisterLine, body: LimitedBody, at: datetime) -> RegisterLine:
    limits = tuple(sorted(set(body.limits)))
    return msgspec.structs.replace(
        _here(line),
        taking="limited" if limits or body.at_most_min else "full",
        limits=limits,
        at_most_min=body.at_most_min,
        spells=_turn(line, at, taking_part=True),
    )


def _turn(line: RegisterLine, at: datetime, *, taking_part: bool) -> tuple[PresenceSpell, ...]:
    """Watch from now on, or take part again; said first of all it counts from the start."""
    if not line.spells:
        return (PresenceSpell(taking_part=taking_part),)
    last = line.spells[-1]
    if last.taking_part == taking_part:
        return line.spells
    ended = msgspec.structs.replace(last, ends_at=at)
    return (*line.spells[:-1], ended, PresenceSpell(starts_at=at, taking_part=taking_part))
