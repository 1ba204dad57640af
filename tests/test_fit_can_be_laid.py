"""Fit and the lay-out share their margins: every set-up that Fit offers first has a place on its piece of ground."""

import random
from collections.abc import Iterator
from functools import cache

import pytest

from drills.game.evening import STANDS, Evening, Piece, PlayerAges
from drills.game.fit import SetUp
from drills.game.fits import fits
from drills.game.space import ALL_EDGES
from drills.game.variations import played
from sessions.planning.layout import GridToLay, grids_of, lay_out_evening
from tests.bibrack.demo.documents import SLUGS, demo_document

EVENINGS, BLOCKS = 300, 10


@cache
def rungs(slug: str) -> tuple[str, ...]:
    return ("", *(each.key for each in demo_document(slug).variations))


def an_evening(chance: random.Random) -> Evening:
    """Made-up ground with anything at its edges, and players of one or two year groups, or of an age nobody said."""
    sides = float(chance.randint(15, 60)), float(chance.randint(10, 40))
    left, right, bottom, top = chance.choices(STANDS, k=len(ALL_EDGES))
    piece = Piece("here", *sides, left, right, bottom, top)
    under = chance.choice((None, 7, 9, 10, 11, 14, 17))
    ages = None if under is None else PlayerAges(under, under + chance.randint(0, 1), under - 1)
    return Evening(chance.randint(5, 24), adults=chance.randint(1, 3), ages=ages, pieces=(piece,))


def grids_to_lay(slug: str, rung: str, setup: SetUp, ages: PlayerAges | None) -> list[GridToLay]:
    sizes = [(str(fmt), *size) for fmt, size in zip(setup.grid_formats, setup.grid_sizes, strict=True)]
    return grids_of(
        played(demo_document(slug), rung),
        sizes,
        key="1",
        waiting=setup.waiting > 0,
        under=None if ages is None else ages.under_high,
    )


def first_answers(seed: int) -> Iterator[tuple[str, str, Evening, SetUp]]:
    chance = random.Random(seed)
    for _ in range(EVENINGS // BLOCKS):
        tonight = an_evening(chance)
        slug = chance.choice(SLUGS)
        for rung in rungs(slug):
            for setup in fits(demo_document(slug), rung, tonight).first:
                yield slug, rung, tonight, setup


@pytest.mark.parametrize("seed", range(BLOCKS))
def test_what_fit_offers_is_laid(seed: int) -> None:
    answers = list(first_answers(seed))
    assert len(answers) > EVENINGS // BLOCKS
    refused = [
        (slug, rung, tonight.players, tonight.ages, setup.numbers, setup.grid_sizes, tonight.pieces[0])
        for slug, rung, tonight, setup in answers
        if not _is_laid(grids_to_lay(slug, rung, setup, tonight.ages), setup, tonight.pieces[0])
    ]
    assert refused == []


def _is_laid(grids: list[GridToLay], setup: SetUp, piece: Piece) -> bool:
    """With the run-off that Fit promised at least, and the ground behind goals clear towards other groups too."""
    found = lay_out_evening([grids], [piece])[0].layout
    kept = found.margins.behind_groups and found.margins.least_m >= setup.run_off_m
    return bool(found.placed) and kept
