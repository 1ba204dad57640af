"""The register: what each event says about one player, and how the registers of several phones become one.

The rule, for the server's fold and the phone's alike:

1. Every tap of every phone counts, by its corrected time. The later word stands, whichever phone it came from and whenever
   it arrives.
2. A phone that taps a player says with it which words of other phones it knew of (`over`). Words that it did not know of
   stay beside it: each phone's last word is kept until somebody settles it.
3. Where such a word says otherwise than what counts, both are shown. Words that can both be true do not differ: here, then
   left; not here, then late; here, and with limits.
4. It is settled by a tap on the player on a phone that shows both, or by reading the register through (`confirmed`).
5. A register that was read through is confirmed until it is tapped again, a tap of it is undone, or a tap comes in that was
   made before and that the reader did not have.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Literal

import msgspec

from sessions.planning.fold.bodies import (
    AboutPlayer,
    Body,
    ConfirmedBody,
    GuestBody,
    LimitedBody,
    RegisterTap,
    TimedPlayer,
)
from sessions.planning.fold.events import Event
from sessions.planning.fold.state import Presence, PresenceSpell, RegisterLine, RegisterWord

ABSENT = RegisterLine(state="absent")
SAYS: dict[str, Presence] = {"late": "late", "left": "left", "absent": "absent"}  # all others: here
# An earlier word that is true beside the state that counts.
BOTH_TRUE: frozenset[tuple[Presence, Presence]] = frozenset(
    {("here", "left"), ("late", "left"), ("absent", "late")}
)


@dataclass(slots=True)
class MergedRegister:
    """The register while the events are gone through in order of time.

    `words` are each phone's last words about a player that nobody settled, by player and phone, the latest last.
    """

    lines: dict[str, RegisterLine] = field(default_factory=dict)
    words: dict[str, dict[str, RegisterWord]] = field(default_factory=dict)
    taps: int = 0
    confirmed_at: datetime | None = None

    def take(self, event: Event, body: RegisterTap, starts_at: datetime | None) -> None:
        """One more word about a player."""
        self.tapped()
        at, player = event.corrected_at, body.player
        self.lines[player] = changed_line(self.lines.get(player), event.kind, body, at, starts_at)
        kept = {
            phone: word
            for phone, word in self.words.get(player, {}).items()
            if phone != event.device and word.event not in body.over
        }
        self.words[player] = {**kept, event.device: _word(event, body)}

    def tapped(self) -> None:
        """The register is another one than was read through."""
        self.taps += 1
        self.confirmed_at = None

    def confirm(self, event: Event, body: ConfirmedBody) -> None:
        """Read through: it settles what phones said apart, where the reader had all of it."""
        if body.taps is None or body.taps == self.taps:
            self.confirmed_at = event.corrected_at
            self.words.clear()

    def settled(self) -> dict[str, RegisterLine]:
        """The lines by player, each with what other phones say otherwise."""
        return {player: self._beside(player, line) for player, line in sorted(self.lines.items())}

    def _beside(self, player: str, line: RegisterLine) -> RegisterLine:
        *earlier, last = self.words.get(player, {}).values() or [None]
        others = tuple(each for each in earlier if each is not None and not _agrees(each, line))
        return msgspec.structs.replace(line, others=others, said=last) if others else line


def _word(event: Event, body: RegisterTap) -> RegisterWord:
    word = RegisterWord(
        device=event.device,
        event=event.id,
        at=event.corrected_at,
        state=SAYS.get(event.kind, "here"),
        taking="watching" if event.kind in ("watching", "out") else None,
    )
    if not isinstance(body, LimitedBody):
        return word
    limits = tuple(sorted(set(body.limits)))
    taking = _how(limits, body.at_most_min)
    return msgspec.structs.replace(word, taking=taking, limits=limits, at_most_min=body.at_most_min)


def _agrees(word: RegisterWord, line: RegisterLine) -> bool:
    """Whether an earlier word is true beside what counts."""
    if word.state != line.state and (word.state, line.state) not in BOTH_TRUE:
        return False
    if word.taking is None or word.taking != line.taking:
        return word.taking is None
    limits = (word.limits, word.at_most_min)
    return word.taking != "limited" or limits == (line.limits, line.at_most_min)


def _how(limits: tuple[str, ...], at_most_min: int | None) -> Literal["full", "limited"]:
    return "limited" if limits or at_most_min else "full"


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
        taking=_how(limits, body.at_most_min),
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
