"""What is used again, where, and what comes out."""

from __future__ import annotations

from dataclasses import dataclass, field

from drills.game.document import DrillDocument
from drills.game.evening import Evening, PlayerAges
from drills.game.fit import SetUp
from sessions.planning.numbers import at_least
from sessions.planning.reasons import PlanningReason


@dataclass(frozen=True, slots=True)
class PlayedStation:
    """What was played at a station: the numbers of all grids as coaches write them, each grid's length and width in metres."""

    numbers: str
    sizes_m: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class StationToReuse:
    """A station as it stands in the session that is used again; its part's minutes and bouts come with it.

    `played` is its accepted set-up; None: the drill as its rung has it. `newer`: the drill has changed since it was put in;
    `lost_rung` names the rung that it was played on and does not have any more; `gone`: it is not in the library any more.
    `cycle` rounds take every group of its part to every station; 1 where groups do not change.
    """

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
    part_title: str = ""
    played: PlayedStation | None = None
    place: str = ""
    has_adult: bool = False
    newer: bool = False
    lost_rung: str = ""
    gone: bool = False
    cycle: int = 1


@dataclass(frozen=True, slots=True)
class Target:
    """Where it goes: who comes there and on what ground, minutes with clearing, and the limits that hold there.

    Pieces of ground are free at the same time; a station is played on one of them, never across two. `headers` is the most
    that one player may head (None: no rule). `was` are the ages of the group that it comes from; None: of the same group.
    `elsewhere`: another group's evening, where neither the adults nor the places of the session are at hand. Raises
    ValueError naming the field.
    """

    evening: Evening
    minutes: float
    clear_minutes: float = 5.0
    load_au: float | None = None
    hardest_cr10: float | None = None
    headers: int | None = None
    in_hall: bool = False
    keep_minutes: bool = False
    was: PlayerAges | None = None
    elsewhere: bool = False

    def __post_init__(self) -> None:
        at_least("minutes", self.minutes, 1)


@dataclass(frozen=True, slots=True)
class Fitted:
    """A station fitted anew, to this evening on the piece of ground that was chosen. `is_out` where nothing of its drill
    can be played there. `place` is where it stands now, empty where nobody has said.
    """

    key: str
    variation_key: str
    setup: SetUp | None
    is_out: bool
    evening: Evening | None = None
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
    changes: tuple[PlanningReason, ...] = field(default=())
