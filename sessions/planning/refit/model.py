"""What is taken along, to where, and what comes out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from drills.game.document import DrillDocument
from drills.game.evening import Piece
from drills.game.fit import SetUp
from sessions.planning.numbers import at_least, whole
from sessions.planning.reasons import Reason


@dataclass(frozen=True, slots=True)
class Carried:
    """A station as it stands in the session that is taken along; its part's minutes and bouts come with it."""

    key: str
    part: str
    title: str
    document: DrillDocument | None
    variation_key: str
    minutes: int
    bouts: int
    bout_s: int
    rest_s: int
    changeover_s: int
    cr10: float


@dataclass(frozen=True, slots=True)
class Target:
    """Where it goes: numbers, free ground, minutes with clearing, and the limits that hold there.

    `beside` is other ground that is free at the same time; a station is played on one piece, never across two.
    `headers` is the most that one player may head (None: no rule), `ages` the n of "under n" of the group's youngest and oldest.
    """

    players: int
    piece: Piece
    minutes: float
    clear_minutes: float = 5.0
    adults: int = 1
    kit: Mapping[str, int] | None = None
    load_au: float | None = None
    hardest_cr10: float | None = None
    headers: int | None = None
    ages: tuple[int, int | None] | None = None
    in_hall: bool = False
    keep_minutes: bool = False
    beside: tuple[Piece, ...] = ()

    def __post_init__(self) -> None:
        whole("players", self.players, 1)
        whole("adults", self.adults, 0)
        at_least("minutes", self.minutes, 1)

    @property
    def grounds(self) -> tuple[Piece, ...]:
        """All the pieces of ground, the first first."""
        return (self.piece, *self.beside)


@dataclass(frozen=True, slots=True)
class Fitted:
    """A station fitted anew, for so many players and adults on this ground. `is_out` where nothing of its drill can be
    played there. `place` names the ground where there are several pieces.
    """

    key: str
    variation_key: str
    setup: SetUp | None
    is_out: bool
    players: int = 0
    adults: int = 1
    ground: Piece | None = None
    place: str = ""


@dataclass(frozen=True, slots=True)
class Refit:
    """A part's new minutes and bouts, its stations, and the session's list of changes with it."""

    part: str
    minutes: int
    bouts: int
    bout_s: int
    rest_s: int
    cr10: float
    stations: tuple[Fitted, ...]
    changes: tuple[Reason, ...] = field(default=())
