"""What is told apart when rooms are looked up: keepers, goals that nobody keeps, and classes of evenings."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations_with_replacement

from drills.game.design import Design
from drills.game.evening import Evening, PlayerAges, one_year
from drills.game.fit.rules import (
    GRIDS_PER_ADULT,
    MOST_SMALL_GRIDS,
    SIDES,
    TURNS_IN_GOAL_UNDER,
    YOUNGEST_UNDER,
    Rules,
    is_under,
    rules_for,
    side_of,
)
from drills.game.pitches import MatchAreas

AS_IN_THE_TABLE: MatchAreas = {}  # no format has an area of the club's own
ENGINE_VERSION = 5  # rises with any change of what `fit` answers or rungs keep; older rows are rebuilt
MOST_KEEPERS = 3
ANY_NUMBER = 0  # stands for "however many come"

MISSING = tuple(
    "".join(digits)
    for grids in range(1, MOST_SMALL_GRIDS + 1)
    for digits in combinations_with_replacement("012", grids)
)


def keepers_bit(keepers: int | None) -> int:
    """An integer with the one bit set that stands for so many named keepers; None is "anyone may be asked"."""
    return 1 if keepers is None else 2 << keepers


EVERY_KEEPERS_BIT = sum(keepers_bit(each) for each in (None, *range(MOST_KEEPERS + 1)))


# The bounds that ages and adults set are told apart by: the group's format, how young, and adults for the youngest.
YOUNGEST, YOUNG, OLDER = YOUNGEST_UNDER, TURNS_IN_GOAL_UNDER, 99
_MOST_ADULTS = MOST_SMALL_GRIDS // GRIDS_PER_ADULT  # more make no difference
CLASSES: tuple[tuple[int | None, int, int | None], ...] = tuple(
    (side, under, adults)
    for side in (None, *SIDES)
    for under in (YOUNGEST, YOUNG, OLDER)
    for adults in ((None, *range(1, _MOST_ADULTS + 1)) if under == YOUNGEST else (None,))
)


def class_bit(ages: PlayerAges | None, adults: int | None) -> int:
    """An integer with the one bit set that stands for an evening's class: its place in `CLASSES`."""
    side = side_of(ages.a_side) if ages is not None else None
    if not is_under(ages, TURNS_IN_GOAL_UNDER) or ages is None:
        return 1 << CLASSES.index((side, OLDER, None))
    if not is_under(ages, YOUNGEST_UNDER):
        return 1 << CLASSES.index((side, YOUNG, None))
    counted = None if adults is None else min(max(1, adults), _MOST_ADULTS)
    return 1 << CLASSES.index((side, YOUNGEST, counted))


def _evening(each: tuple[int | None, int, int | None], areas: MatchAreas) -> Evening:
    side, under, adults = each
    return Evening(1, None, adults, one_year(under, side, None if side is None else areas.get(side)))


# Bits of classes by how many grids there may be, from the fewest.
Steps = dict[int, int]


def by_rules(design: Design, areas: MatchAreas = AS_IN_THE_TABLE) -> dict[Rules, Steps]:
    """The classes that come to the same bounds but for the number of grids: those are gone through once.

    `areas`: the match areas in force at a club, of the formats whose row is not the published one.
    """
    found: dict[Rules, Steps] = {}
    for number, each in enumerate(CLASSES):
        rules = _plain(design, rules_for(design, _evening(each, areas)))
        steps = found.setdefault(replace(rules, most_grids=MOST_SMALL_GRIDS), {})
        steps[rules.most_grids] = steps.get(rules.most_grids, 0) | 1 << number
    return {rules: dict(sorted(steps.items())) for rules, steps in found.items()}


def _plain(design: Design, rules: Rules) -> Rules:
    """Without bounds that nothing near the design reaches, and what has no say on ground that is open all round."""
    rules = replace(rules, shots=replace(rules.shots, behind_ends_m=0, behind_sides_m=0))
    side, area = rules.bounds.side_most, rules.area_most_m2
    largest = 2 * (design.format.players_inside or design.format.players) + design.format.players_outside + 3
    if side is not None and side >= largest:
        rules = replace(rules, bounds=replace(rules.bounds, side_most=None))
    tightest = design.tightest_area_m2(design.format) / design.counted(design.format)
    if area is not None and design.area_matters and tightest <= area:
        rules = replace(rules, area_most_m2=None)
    return rules


def keepers_that_matter(design: Design) -> tuple[int | None, ...]:
    """Where nobody keeps goal, how many keepers came changes nothing about whether the drill can be run."""
    return (None, *range(MOST_KEEPERS + 1)) if design.format.keepers else (None,)
