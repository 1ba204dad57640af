"""What Fit has to know of a drill: its numbers, its grid, and the facts of its plan."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from typing import Literal

from drills.game.document.choices import GoalSize
from drills.game.format import MOST_PLAYERS, Format
from drills.game.space import ALL_EDGES, Edge, ratio

WaitingKind = Literal["rest", "queue"]
InsteadOfKeeper = Literal["end zone", "small goal"]

# Never tighter than this, in m² per inside player, nor than this share of the design's area: common practice, no source.
TIGHTEST_M2 = 12.0
TIGHTEST_SHARE = 0.35
# A drill that is tighter by design keeps its own area, give or take the rounding to whole metres (ours, a judgement).
TIGHT_BY_DESIGN_SHARE = 0.9
# The share that may be off by plan: half of the pairs and waves (common practice, no source).
MOST_OFF_IN_TURN = 0.5


def players_counted(fmt: Format, *, everyone: bool) -> int:
    """The players that an area is shared by: inside, or outside too; never keepers (unless nobody else is there)."""
    return fmt.players_inside + (fmt.players_outside if everyone else 0) or fmt.players


@dataclass(frozen=True, slots=True)
class Design:
    """A drill's numbers in its grid (length × width in metres), with the plan facts that Fit must keep to.

    Kit is kind → count per grid in the club's words and leaves out bibs, which follow from the numbers. Raises ValueError naming the field.
    """

    format: Format
    length_m: float
    width_m: float
    anyone_can_join: bool = False  # numbers do not change the game (a ball each, tag)
    min_players: int | None = None  # in one grid; None: half the design's
    max_players: int | None = None  # in one grid; None: twice the design's inside the grid
    planned_waiting: float = 0.0  # share of the players who wait by design (waves, finishing: work : wait)
    waiting_kind: WaitingKind = "rest"
    counts_everyone: bool = False  # rondos: the area is shared by everyone, not by the players inside alone
    area_matters: bool = True  # False for queues, patterns, finishing: no area per player
    kit: Mapping[str, int] = field(default_factory=dict)  # per grid
    kit_per_player: Mapping[str, int] = field(default_factory=dict)  # a ball each: {"ball": 1}
    bibs: bool = True  # sides wear bibs
    adults_needed: int = 1  # the one who runs it, and servers or helpers
    instead_of_keeper: InsteadOfKeeper = "small goal"
    keeper_goal: str = "moveable goals"  # the kind of kit that a keeper stands in
    under_from: int | None = None  # the n of "under n" of the youngest age group it is for
    under_to: int | None = None
    work_s: int | None = None  # of a queue: seconds of one go
    sides_by_age: bool = False  # a game between sides: none larger than the age group's in a match
    sides_fixed: bool = False  # a duel, the places of a pattern: other numbers are another drill
    neutrals_fixed: bool = False  # a target at each end, two helpers that the rung asks for
    outside_fixed: bool = False  # own players outside, likewise
    shot_at: tuple[tuple[Edge, GoalSize], ...] = ()  # the goals by edge
    # What the groups' own ranges allow in one grid: side (from 0; -1 the neutrals), inside or outside, least, most.
    slots: tuple[tuple[int, Literal["inside", "outside"], int, int], ...] = ()
    outside_sides: tuple[Edge, ...] | None = None  # where outside players stand; None: all round

    def __post_init__(self) -> None:
        ratio(self.length_m, self.width_m)  # refuses sizes that are not positive, by name
        if not 0 <= self.planned_waiting < 1:
            raise ValueError(f"planned_waiting: a share from 0 to below 1, not {self.planned_waiting}")
        if self.least_players < 1:
            raise ValueError("min_players: must be at least 1")
        if self.max_players is not None and not self.least_players <= self.max_players <= MOST_PLAYERS:
            raise ValueError(f"max_players: must be from {self.least_players} to {MOST_PLAYERS}")
        if self.adults_needed < 0:
            raise ValueError("adults_needed: cannot be less than 0")
        if None not in (self.under_from, self.under_to) and (self.under_from or 0) > (self.under_to or 0):
            raise ValueError("under_from: must not be above under_to")
        for name, kit in (("kit", self.kit), ("kit_per_player", self.kit_per_player)):
            if any(count < 0 for count in kit.values()):
                raise ValueError(f"{name}: cannot be less than 0")

    def key(self) -> tuple[object, ...]:
        """Equal for equal designs, and hashable."""
        values = (getattr(self, each.name) for each in fields(self))
        return tuple(
            tuple(sorted(value.items())) if isinstance(value, Mapping) else value for value in values
        )

    @property
    def least_players(self) -> int:
        """The fewest players that one grid can be played with."""
        if self.min_players is not None:
            return self.min_players
        return min(self.format.players, max(2, math.ceil(self.format.players / 2)))

    @property
    def may_wait(self) -> float:
        """The share of the players who may be off by plan: half in duels, waves and patterns.

        Who stands in a line of a drill without opponents is among its numbers already.
        """
        by_plan = self.sides_fixed or (self.format.has_opponents and self.planned_waiting > 0)
        return MOST_OFF_IN_TURN if by_plan else 0.0

    @property
    def ratio(self) -> float:
        """Length ÷ width of the grid."""
        return self.length_m / self.width_m

    def counted(self, fmt: Format) -> int:
        """The players that the area is shared by: inside, or everyone in a rondo; never keepers (unless alone)."""
        return players_counted(fmt, everyone=self.counts_everyone)

    @property
    def area_per_player_m2(self) -> float | None:
        """Per player that counts; None where an area per player says nothing (queues, patterns, finishing)."""
        if not self.area_matters:
            return None
        return self.length_m * self.width_m / self.counted(self.format)

    def wished_area_m2(self, fmt: Format) -> float:
        """The area of the grid that gives these numbers the design's area per player."""
        return self._wished_for_m2(self.counted(fmt))

    def _wished_for_m2(self, counted: int) -> float:
        area_m2 = self.length_m * self.width_m
        return area_m2 * counted / self.counted(self.format) if self.area_matters else area_m2

    def tightest_area_m2(self, fmt: Format) -> float:
        """The smallest grid these numbers can be played in; a drill that is tight by design may stay as tight."""
        return self.tightest_for_m2(self.counted(fmt))

    def tightest_for_m2(self, counted: int) -> float:
        """The smallest grid for so many players that count."""
        wished = self._wished_for_m2(counted)
        least = TIGHTEST_SHARE * wished
        if self.area_matters:
            least = max(least, TIGHTEST_M2 * counted)
        return least if least <= wished else TIGHT_BY_DESIGN_SHARE * wished

    def edges_of_outside(self) -> tuple[Edge, ...]:
        """The edges that outside players stand on when there are any."""
        return ALL_EDGES if self.outside_sides is None else self.outside_sides

    def edges(self, fmt: Format) -> tuple[Edge, ...]:
        """The edges that these numbers' outside players stand on."""
        return self.edges_of_outside() if fmt.players_outside else ()
