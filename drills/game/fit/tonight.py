"""What there is tonight: players, adults, room, kit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from drills.game.format import MOST_PLAYERS
from drills.game.space import FreeSpace


@dataclass(frozen=True, slots=True)
class Tonight:
    """The turn-out. Raises ValueError naming the field for impossible input."""

    players: int  # everyone, keepers among them
    free: FreeSpace
    keepers: int | None = None  # who keep goal and nothing else; None: anyone may be asked to
    adults: int = 1
    kit: Mapping[str, int] | None = None  # None: enough of everything
    age: int | None = None  # "under so many years"; None: not said

    def __post_init__(self) -> None:
        if not 1 <= self.players <= MOST_PLAYERS:
            raise ValueError(f"players: must be from 1 to {MOST_PLAYERS}, not {self.players}")
        if self.keepers is not None and not 0 <= self.keepers <= self.players:
            raise ValueError(f"keepers: must be from 0 to the {self.players} players, not {self.keepers}")
        if self.adults < 0:
            raise ValueError("adults: cannot be less than 0")
        if self.kit is not None and any(count < 0 for count in self.kit.values()):
            raise ValueError("kit: cannot be less than 0")
