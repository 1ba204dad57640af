"""What tonight's ages and adults allow, and what a kind of drill asks for: the bounds of every candidate.

All figures are common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from drills.game.design import Design
from drills.game.evening import Evening, PlayerAges
from drills.game.fit.arrays import Shots
from drills.game.fit.candidates import NumberBounds
from drills.game.margins import behind_goal_m
from drills.game.pitches import match_area_per_player_m2
from drills.game.space import Edge

# How many grids one adult can see, how long a wait may be, who goes in goal: common practice, no source.
MOST_GRIDS = 3
MOST_SMALL_GRIDS, SMALL_GAME = 6, 5  # so many grids of games of five players or fewer
YOUNGEST_UNDER = 10
SIDES = (3, 4, 5, 7, 9, 11)  # of matches, as the rows of the library tell them apart
GRIDS_PER_ADULT = 2  # of the youngest, side by side with the adult between them
TURNS_IN_GOAL_UNDER = 12
# No wait longer than this between two goes.
LONGEST_WAIT_YOUNG_S, LONGEST_WAIT_S = 30, 45
YOUNG_UNDER = 12
# Where nothing takes all who came: so many may be off in turn, never more.
MOST_OFF = 0.25


@dataclass(frozen=True, slots=True)
class Rules:
    """The bounds for one design on one evening. Shares are of everyone who came."""

    most_grids: int
    waiting: float  # the share that may be off by plan
    off: float  # the share that may be off where nobody off is not possible; never less than `waiting`
    turns_in_goal: bool
    area_most_m2: float | None  # of a grid, per player in it
    bounds: NumberBounds
    shots: Shots

    def most_waiting(self, players: int) -> int:
        """How many of so many players may be off by plan: their share, rounded down."""
        return math.floor(self.waiting * players + 1e-9)

    def most_off(self, players: int) -> int:
        """How many of so many players may be off where no set-up takes more of them in: their share, rounded down."""
        return math.floor(self.off * players + 1e-9)


def rules_for(design: Design, tonight: Evening) -> Rules:
    """The bounds of this design for tonight's ages and adults.

    In a queue whose goes take `work_s` the share that may wait is bounded, so that nobody waits longer than
    `LONGEST_WAIT_S` between two goes (`LONGEST_WAIT_YOUNG_S` up to U12).
    """
    ages = tonight.ages
    waiting = design.may_wait
    if waiting and design.work_s:
        longest = LONGEST_WAIT_YOUNG_S if is_under(ages, YOUNG_UNDER) else LONGEST_WAIT_S
        waiting = min(waiting, longest / (longest + design.work_s))
    side = None if ages is None or not design.sides_by_age else side_of(ages.a_side)
    return Rules(
        most_grids=_most_grids(design, tonight),
        waiting=waiting,
        off=max(waiting, MOST_OFF),
        turns_in_goal=_has_goals_to_keep(design) and is_under(ages, TURNS_IN_GOAL_UNDER),
        area_most_m2=None if ages is None or side is None else _match_area_m2(ages, side),
        bounds=NumberBounds(
            anyone=design.anyone_can_join,
            sides_fixed=design.sides_fixed,
            neutrals_fixed=design.neutrals_fixed,
            outside_fixed=design.outside_fixed,
            slots=design.slots,
            side_most=None if side is None else max(side, *(each.players for each in design.format.sides)),
        ),
        shots=shots_of(design, ages),
    )


def _match_area_m2(ages: PlayerAges, side: int) -> float:
    """By the row in force at the club; by the published table where no club is known, or where its row says the same."""
    return match_area_per_player_m2(side) if ages.match_m2_each is None else ages.match_m2_each


def _has_goals_to_keep(design: Design) -> bool:
    """Not where keepers train among themselves."""
    return design.format.keepers > 0 and design.format.players_inside > 0


def side_of(a_side: int | None) -> int | None:
    """The smallest of `SIDES` with at least so many a side; None where it is not known, or larger than any."""
    return None if a_side is None else next((side for side in SIDES if side >= a_side), None)


def is_under(ages: PlayerAges | None, under: int) -> bool:
    """Whether tonight's youngest are "under so many years"; False where no ages are known."""
    return ages is not None and ages.under_low <= under


def _most_grids(design: Design, tonight: Evening) -> int:
    most = MOST_SMALL_GRIDS if design.format.players <= SMALL_GAME else MOST_GRIDS
    if is_under(tonight.ages, YOUNGEST_UNDER):
        most = min(most, GRIDS_PER_ADULT * max(1, tonight.adults_for(design.adults_needed)))
    return most


def shots_of(design: Design, ages: PlayerAges | None) -> Shots:
    """Which edges of a grid are shot at, with the metres to keep clear behind them.

    Towards other groups they follow tonight's oldest players, between grids of the drill they are the same for all ages.
    """
    oldest = None if ages is None else ages.under_high or 99
    edges: set[Edge] = {edge for edge, _ in design.shot_at}
    ends: set[Edge] = edges & {"left", "right"}
    sides = edges - ends
    return Shots(
        len(ends),
        len(sides),
        *(_behind(design, edges, oldest) for edges in (ends, sides)),
        *(_behind(design, edges, None) for edges in (ends, sides)),
    )


def _behind(design: Design, edges: set[Edge], under: int | None) -> int:
    return max((behind_goal_m(size, under) for edge, size in design.shot_at if edge in edges), default=0)
