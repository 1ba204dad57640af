"""Fit on ground with fences and neighbours, against every whole-metre grid at every place."""

import math
import random
from itertools import product

import pytest

from drills.game.design import Design
from drills.game.document.choices import GoalSize
from drills.game.evening import Evening, FixedGoal, Piece, Stands
from drills.game.fit import fit_on
from drills.game.format import Format
from drills.game.margins import behind_goal_m

GAME = Design(Format.parse("4v4"), 24, 18, sides_fixed=True, neutrals_fixed=True, outside_fixed=True)
SHOT_AT_ONE_END = Design(
    Format.parse("3v2+GK"), 20, 15, sides_fixed=True, neutrals_fixed=True, shot_at=(("right", GoalSize.MINI),)
)
BOTH_ENDS = Design(
    Format.parse("GK+4v4+GK"),
    24,
    18,
    sides_fixed=True,
    neutrals_fixed=True,
    outside_fixed=True,
    shot_at=(("left", GoalSize.FULL), ("right", GoalSize.FULL)),
)
STANDS: tuple[Stands, ...] = ("fence", "group", "open")


def brute_force(design: Design, piece: Piece) -> float:
    """The nearest distance of one grid with the design's own numbers: every size, turn and place in half metres."""
    best, between, area = math.inf, 3 if design.shot_at else 2, design.length_m * design.width_m
    tightest = max(12 * design.counted(design.format), 0.35 * area)
    for x, y in product(range(4, int(piece.length_m) + 1), range(4, int(piece.width_m) + 1)):
        for turned, flipped in product((False, True), repeat=2):
            length, width = (y, x) if turned else (x, y)
            shape = abs(math.log(length / width / design.ratio))
            if shape > math.log(2.5) + 1e-9 or length * width < tightest:
                continue
            shot = shot_edges(design, turned=turned, flipped=flipped)
            along = run_off(piece.length_m - x, (piece.left, piece.right), shot[:2], between)
            across = run_off(piece.width_m - y, (piece.bottom, piece.top), shot[2:], between)
            if along is None or across is None:
                continue
            margin = 0.02 * ((3 - along) ** 2 + (3 - across) ** 2)
            own = (length, width) == (design.length_m, design.width_m)
            off = 0.0 if own else 0.5 * abs(math.log(length * width / area)) + 0.1 * shape
            best = min(best, off + margin)
    return best


def shot_edges(design: Design, *, turned: bool, flipped: bool) -> tuple[int, int, int, int]:
    """The metres to keep clear behind left, right, bottom and top of the ground, as the grid lies."""
    behind = {edge: behind_goal_m(size, None) for edge, size in design.shot_at}
    ends = [behind.get("left", 0), behind.get("right", 0)]
    if flipped:
        ends.reverse()
    return (0, 0, *ends) if turned else (*ends, 0, 0)


def run_off(spare: float, stands: tuple[Stands, Stands], shot: tuple[int, ...], between: int) -> int | None:
    """The widest whole metres of run-off, up to 3, that both ends of a line can have; None where not even the least."""
    for metres in (3, 2, 1):
        needed = 0
        for each, behind in zip(stands, shot, strict=True):
            if each == "fence":
                needed += metres
            elif each == "group":
                needed += max(metres, between, behind)
        if needed <= spare:
            return metres if "fence" in stands or ("group" in stands and metres >= between) else 3
    return None


@pytest.mark.parametrize("design", [GAME, SHOT_AT_ONE_END, BOTH_ENDS], ids=lambda design: str(design.format))
def test_one_grid_lies_where_brute_force_lays_it(design: Design) -> None:
    dice, answered = random.Random(str(design.format)), set()
    for _ in range(40):
        edges = [dice.choice(STANDS) for _ in range(4)]
        piece = Piece("", dice.randint(9, 34), dice.randint(9, 26), *edges)
        players = design.format.players
        one = [
            each
            for each in fit_on(design, Evening(players, pieces=(piece,)), most=500)
            if each.format == design.format and each.grids == 1
        ]
        nearest = min((each.distance for each in one), default=math.inf)
        assert nearest == pytest.approx(brute_force(design, piece), abs=1e-6), piece
        answered.add(nearest < math.inf)
    assert answered == {True, False}


def test_a_fixed_goal_is_as_hard_as_a_fence() -> None:
    goal = FixedGoal("left", 0.5, GoalSize.FULL)
    for piece, width in ((Piece("", 24, 18), 24), (Piece("", 24, 18, goals=(goal,)), 22)):
        assert fit_on(GAME, Evening(8, pieces=(piece,)))[0].length_m == width


def test_grids_that_are_shot_at_lie_side_by_side() -> None:
    """End to end they would stand behind each other's goals; side by side 3 m are enough."""
    best = fit_on(BOTH_ENDS, Evening(20, pieces=(Piece("", 60, 50),)))[0]
    assert (best.grids, best.columns, best.rows) == (2, 1, 2)
    assert best.extent_m == (24, 39)
