"""Evenings that experienced coaches have judged (common practice, no source): what they would do, as check values for Fit.

Sizes may differ by 2 m, numbers and who is off may not. Where a size differs by more it stands in `ARGUED`, with why.
"""

from dataclasses import dataclass

import pytest

from drills.game.document import DrillDocument
from drills.game.evening import Evening, Piece, PlayerAges
from drills.game.fits import fits
from tests.bibrack.demo.documents import demo_document
from tests.drills.samples import outside

# Players a side in matches of season 2026-27 (The FA, youth formats from season 2026-27).
A_SIDE = {7: 3, 10: 7, 11: 7, 12: 9, 13: 9, 14: 11}


def cage(length_m: float, width_m: float) -> Piece:
    return Piece("cage", length_m, width_m, "fence", "fence", "fence", "fence")


def half_a_cage(length_m: float, width_m: float) -> Piece:
    return Piece("half", length_m, width_m, "fence", "fence", "fence", "group")


def grass(length_m: float, width_m: float) -> Piece:
    return Piece("grass", length_m, width_m)


@dataclass(frozen=True)
class Judged:
    """An evening and what a coach does: the numbers of the first answer, who is off, and the size of the grids."""

    under: int
    players: int
    ground: Piece
    drill: str
    numbers: str
    off: int
    size_m: tuple[int, int] | None
    keepers: int | None = None
    adults: int = 2


HELPERS_OUTSIDE = "helpers outside"  # no drill of the demo: four a side and a helper on each side


def document_of(name: str) -> DrillDocument:
    if name != HELPERS_OUTSIDE:
        return demo_document(name)
    return outside(
        grids=[{"key": "usual", "length_m": 30, "width_m": 24, "purpose": "as the coaches judged it"}]
    )


JUDGED = [
    Judged(11, 14, cage(40, 30), "left-door-right-door", "4 × 1v1", 6, (12, 10)),
    Judged(11, 13, cage(40, 30), "three-gates-one-secret", "4 × 1v1", 5, (12, 10)),
    Judged(14, 17, cage(60, 40), "two-stay-three-fly", "2 × 3v2+GK", 5, None, keepers=2),
    Judged(12, 11, cage(40, 30), "stepping-stones", "6 and 5", 0, (22, 10)),
    Judged(14, 11, grass(60, 40), "out-in-through", "8", 3, None),
    Judged(12, 13, half_a_cage(30, 20), HELPERS_OUTSIDE, "4v4+5", 0, (26, 15)),
    Judged(12, 7, cage(40, 30), HELPERS_OUTSIDE, "3v3+1", 0, None),
    # Seven against six: the goal without a keeper is kept by turns, by one of the six.
    Judged(10, 13, grass(60, 40), "quiet-sevens", "GK+6v6", 0, None, keepers=1),
    Judged(13, 11, cage(40, 30), "echo", "GK+5v5", 0, (34, 24), keepers=1),
    Judged(7, 9, grass(20, 15), "hens-and-foxes", "9", 0, (16, 12), adults=1),
    Judged(12, 8, grass(60, 40), "split-the-pair", "6v2", 0, None),
    Judged(12, 11, grass(60, 40), "split-the-pair", "4v2 and 4v1", 0, None),
]
# The drill's own grid is larger than what a coach would pace there, and there is room for it: Fit keeps to the drill.
ARGUED = {"left-door-right-door": (15, 11), "three-gates-one-secret": (16, 12), "stepping-stones": (30, 12)}


def evening(judged: Judged) -> Evening:
    under = judged.under
    ages = PlayerAges(under, under, under - 1, A_SIDE[under])
    return Evening(judged.players, judged.keepers, judged.adults, ages, (judged.ground,))


@pytest.mark.parametrize("judged", JUDGED, ids=lambda each: f"U{each.under}, {each.players}, {each.drill}")
def test_the_first_answer_is_what_a_coach_would_do(judged: Judged) -> None:
    best = fits(document_of(judged.drill), "", evening(judged))[0]
    assert (best.numbers, best.waiting) == (judged.numbers, judged.off)
    if judged.size_m is None:
        return
    length, width = sorted((best.length_m, best.width_m), reverse=True)
    if judged.drill in ARGUED:
        assert (length, width) == ARGUED[judged.drill]
    else:
        assert abs(length - judged.size_m[0]) <= 2
        assert abs(width - judged.size_m[1]) <= 2


def test_one_adult_with_nine_of_the_youngest_asks_a_parent_to_stay() -> None:
    hens = next(each for each in JUDGED if each.drill == "hens-and-foxes")
    best = fits(demo_document(hens.drill), "", evening(hens))[0]
    assert "ask_parent" in [reason.key for reason in best.reasons]


def test_fourteen_year_olds_play_a_drill_that_begins_at_u9() -> None:
    """Rules for the youngest follow tonight's players, not the ages that a drill is written for."""
    ages = PlayerAges(14, 14, 13, 11)
    tonight = Evening(16, adults=1, ages=ages, pieces=(grass(60, 40),))
    assert fits(demo_document("one-goes-one-guards"), "", tonight)[0].numbers.endswith("2v2")
