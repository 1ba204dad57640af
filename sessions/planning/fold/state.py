"""The state of a delivery: register, parts, ratings, notes, status and minutes."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Any, Literal

import msgspec

from sessions.planning.fold.bodies import AgainAnswer

Status = Literal["planned", "running", "delivered", "shortened", "moved", "cancelled"]
Presence = Literal["here", "late", "left", "absent"]
Taking = Literal["full", "limited", "watching"]


class PresenceSpell(msgspec.Struct, frozen=True, kw_only=True):
    """A stretch of being there. `starts_at` None is from the start, `ends_at` None to the end."""

    starts_at: datetime | None = None
    ends_at: datetime | None = None
    taking_part: bool = True


class RegisterWord(msgspec.Struct, frozen=True, kw_only=True):
    """The last word of one phone about one player: `event` is its id, which knows whose tap it was.

    `taking` None says nothing of how the player takes part.
    """

    device: str
    event: str
    at: datetime
    state: Presence
    taking: Taking | None = None
    limits: tuple[str, ...] = ()
    at_most_min: int | None = None


class RegisterLine(msgspec.Struct, frozen=True, kw_only=True):
    """One player: there or not, from when to when, full, limited or watching. No reason is kept.

    `others` are last words of other phones that say otherwise than what counts, earliest first; `said` is then the word
    that counts. Empty and None where nobody says otherwise, or somebody settled it.
    """

    state: Presence
    taking: Taking = "full"
    limits: tuple[str, ...] = ()
    at_most_min: int | None = None
    spells: tuple[PresenceSpell, ...] = ()
    others: tuple[RegisterWord, ...] = ()
    said: RegisterWord | None = None

    @property
    def from_at(self) -> datetime | None:
        """When the player came; None is from the start."""
        return self.spells[0].starts_at if self.spells else None

    @property
    def to_at(self) -> datetime | None:
        """When the player left; None is to the end."""
        return self.spells[-1].ends_at if self.spells else None


class Guest(msgspec.Struct, frozen=True, kw_only=True):
    """A player of another squad."""

    player: str
    squad: str | None = None


class Swap(msgspec.Struct, frozen=True, kw_only=True):
    """The drill that is played in a part's place, in the revision that the phone had."""

    drill: str
    revision: int
    rung: str = ""


class PartState(msgspec.Struct, frozen=True, kw_only=True):
    """One part as it was run. `minutes` is from its start to its end, holds included; None while it runs.

    `setup` is the last that was accepted for its first station, `setups` those that named their station, and `older` the
    stations among these that were named before `setup` was accepted: one of them may be the first.
    `ended_by_itself` says that nobody ended it: it ran when the session was said to be over.
    """

    key: str
    started_at: datetime | None = None
    ended_at: datetime | None = None
    held_s: float = 0.0
    held_since: datetime | None = None
    extra_minutes: int = 0
    variation: str | None = None
    setup: dict[str, Any] | None = None
    setups: dict[str, dict[str, Any]] = {}
    older: tuple[str, ...] = ()
    swap: Swap | None = None
    skipped: bool = False
    dropped_bouts: int = 0
    ended_by_itself: bool = False
    again: AgainAnswer | None = None

    def setup_of(self, station: str, *, is_first: bool) -> dict[str, Any] | None:
        """The last that was accepted for a station, named or, for the first one, not."""
        named = self.setups.get(station)
        return self.setup if is_first and (named is None or station in self.older) else named

    @property
    def minutes(self) -> float | None:
        """Minutes from start to end, holds included; None before it has ended."""
        if self.started_at is None or self.ended_at is None:
            return None
        return max(0.0, (self.ended_at - self.started_at).total_seconds() / 60)


class RatingState(msgspec.Struct, frozen=True, kw_only=True):
    """CR10 for a part or (None) the whole session, of the group or of one player."""

    cr10: float
    part: str | None = None
    player: str | None = None


class NoteState(msgspec.Struct, frozen=True, kw_only=True):
    """A note with its event's id and time."""

    id: str
    at: datetime
    text: str
    part: str | None = None


class NextTime(msgspec.Struct, frozen=True, kw_only=True):
    """The line for the team's next session, with its event's id and time."""

    id: str
    at: datetime
    text: str


class Heat(msgspec.Struct, frozen=True, kw_only=True):
    """Air temperature in °C and relative humidity in %, as they were read at the pitch."""

    at: datetime
    temperature_c: float
    humidity_pct: float


class DeliveryState(msgspec.Struct, frozen=True, kw_only=True):
    """Everything the events say.

    `not_understood` holds ids of events kept but not used, `set_aside` those of parts that the session has no more,
    `conflicts` ids that came with two different contents, `undone` those that were taken back. `trialists` are the
    numbers of those who try out and are there; `teams` who plays with whom, by part, or for all of them ("").
    `minutes_said` tells whether somebody said how many minutes took place. `confirmed_at` is when the register was read
    through that counts now, None where it was not, or was tapped since. `heads` is the last count of
    players without names.
    """

    starts_at: datetime | None
    status: Status
    reason: str | None
    moved_to: str | None
    minutes_delivered: float
    register: dict[str, RegisterLine]
    guests: tuple[Guest, ...]
    parts: tuple[PartState, ...]
    ratings: tuple[RatingState, ...]
    notes: tuple[NoteState, ...]
    collected_at: datetime | None = None
    collected_by: str | None = None  # the id of the event, which knows whose tap it was
    not_understood: tuple[str, ...] = ()
    set_aside: tuple[str, ...] = ()
    conflicts: tuple[str, ...] = ()
    undone: tuple[str, ...] = ()
    trialists: tuple[int, ...] = ()
    teams: dict[str, tuple[tuple[str, ...], ...]] = {}
    heat: Heat | None = None
    thunder_at: datetime | None = None
    minutes_said: bool = False
    confirmed_at: datetime | None = None
    next_time: NextTime | None = None
    heads: int | None = None

    @property
    def playing(self) -> int:
        """How many are there now and take part: what a drill is set up for."""
        return playing_now(self.register.values(), len(self.trialists))

    @property
    def counted(self) -> int:
        """How many play tonight as far as anybody said; 0 where nobody did."""
        return counted_now(self.register.values(), len(self.trialists), self.heads)

    @property
    def turn_out(self) -> int:
        """How many came, watching and trying out included."""
        return sum(line.state != "absent" for line in self.register.values()) + len(self.trialists)

    def effort(self, part: str | None = None) -> float | None:
        """The group's CR10 for a part, or for the session."""
        return next((r.cr10 for r in self.ratings if r.part == part and r.player is None), None)


def playing_now(register: Iterable[RegisterLine], trialists: int = 0) -> int:
    """How many of a register are there now and take part, neither watching nor gone, and those who try out."""
    here = sum(line.state in ("here", "late") and line.taking != "watching" for line in register)
    return here + trialists


def counted_now(register: Iterable[RegisterLine], trialists: int = 0, heads: int | None = None) -> int:
    """How many play as far as anybody said: by the register, else by the last count of heads; 0 where nobody said.

    The register leads from the first player on who takes part, or took part and left, or tries out; until then, also
    while it knows only who is absent or watching, the heads count.
    """
    lines = list(register)
    leads = trialists or any(line.state != "absent" and line.taking != "watching" for line in lines)
    return playing_now(lines, trialists) if leads else heads or 0


def minutes_present(state: DeliveryState, player: str) -> float:
    """Minutes between coming and leaving, inside the minutes delivered."""
    return _minutes(state, player, watching=True)


def minutes_taking_part(state: DeliveryState, player: str) -> float:
    """Minutes present without those of watching; no more than the player's limit for tonight."""
    minutes = _minutes(state, player, watching=False)
    line = state.register.get(player)
    return minutes if line is None or line.at_most_min is None else min(minutes, float(line.at_most_min))


def _minutes(state: DeliveryState, player: str, *, watching: bool) -> float:
    line = state.register.get(player)
    if line is None or line.state == "absent":
        return 0.0
    if state.starts_at is None:
        return state.minutes_delivered if watching or line.taking != "watching" else 0.0
    end = state.starts_at + timedelta(minutes=state.minutes_delivered)
    total = 0.0
    for spell in line.spells:
        if spell.taking_part or watching:
            starts = max(spell.starts_at or state.starts_at, state.starts_at)
            total += max(0.0, (min(spell.ends_at or end, end) - starts).total_seconds())
    return total / 60
