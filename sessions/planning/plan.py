"""A planned session as the pure computations see it: parts in order, with minutes, bouts, effort and kit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from sessions.planning.numbers import at_least, cr10, whole


@dataclass(frozen=True, slots=True)
class PlannedPart:
    """One part of a session. Raises ValueError naming the field.

    `cr10` rates the part as a whole, its rests included. `changeover_s` is the time to change over *into* this part, so a
    part that is taken out takes its changeover along. `station_kit` holds the kit of each station that runs at the same
    time; `headers_per_player` is what one player heads in this part.
    """

    key: str
    minutes: float
    cr10: float
    title: str = ""
    bouts: int = 1
    bout_s: int | None = None
    rest_s: int = 0
    changeover_s: int = 0
    easier_cr10: float | None = None
    headers_per_player: int = 0
    station_kit: tuple[Mapping[str, int], ...] = field(default=())

    def __post_init__(self) -> None:
        if not self.key:
            raise ValueError("key: a part needs a key")
        at_least("minutes", self.minutes, 0)
        cr10("cr10", self.cr10)
        whole("bouts", self.bouts, 1)
        whole("rest_s", self.rest_s, 0)
        whole("changeover_s", self.changeover_s, 0)
        whole("headers_per_player", self.headers_per_player, 0)
        if self.bout_s is not None:
            whole("bout_s", self.bout_s, 1)
        if self.easier_cr10 is not None:
            cr10("easier_cr10", self.easier_cr10)

    @property
    def name(self) -> str:
        """What people call it: the title, else the key."""
        return self.title or self.key

    @property
    def stations(self) -> int:
        """How many stations run at the same time (one where no kit is listed)."""
        return max(1, len(self.station_kit))

    @property
    def bout_length_s(self) -> float:
        """Seconds of one bout: the given length, else the part shared out evenly around its rests."""
        if self.bout_s is not None:
            return float(self.bout_s)
        return max(0.0, (self.minutes * 60 - (self.bouts - 1) * self.rest_s) / self.bouts)

    @property
    def bouts_and_rests_s(self) -> float:
        """Length of n bouts: n·work + (n−1)·rest, in seconds."""
        return self.bouts * self.bout_length_s + (self.bouts - 1) * self.rest_s


@dataclass(frozen=True, slots=True)
class SessionPlan:
    """One session: its parts in order inside `minutes`, of which the last `clear_minutes` are for clearing.

    Raises ValueError naming the field.
    """

    minutes: float
    parts: tuple[PlannedPart, ...]
    starts_at: datetime | None = None
    clear_minutes: float = 5.0
    players: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        at_least("minutes", self.minutes, 0)
        at_least("clear_minutes", self.clear_minutes, 0)
        if len({part.key for part in self.parts}) != len(self.parts):
            raise ValueError("parts: two parts have the same key")

    @property
    def changeover_minutes(self) -> float:
        """All changeovers together."""
        return sum(part.changeover_s for part in self.parts) / 60

    @property
    def used_minutes(self) -> float:
        """Parts, changeovers and clearing, in minutes."""
        return sum(part.minutes for part in self.parts) + self.changeover_minutes + self.clear_minutes
