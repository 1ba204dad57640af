"""A set-up that was kept holds until something on the evening is worse than it asks for; each such thing is said, alone."""

import random
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache

import pytest

from drills.game.design import Design
from drills.game.evening import STANDS, Evening, FixedGoal, Piece, PlayerAges
from drills.game.fit import SetUp, why_not_on
from drills.game.fits import fits, fits_design, holds
from drills.game.format import Format
from drills.game.space import ALL_EDGES
from tests.bibrack.demo.documents import SLUGS, demo_document

EVENINGS, BLOCKS = 400, 8
STOCK = {"bibs": 30, "balls": 24, "marker cones": 60, "mini goals": 8, "moveable goals": 4, "poles": 20}
CAGE = Piece("Mill: Left", 40.0, 30.0, "fence", "fence", "fence", "fence")


def an_evening(chance: random.Random) -> Evening:
    """Anything that a club may have, with one piece of ground or two; some things nobody said."""
    pieces = tuple(_piece(chance, f"Mill: {name}") for name in "AB"[: chance.randint(0, 2)])
    under, players = chance.choice((None, 7, 8, 10, 12, 14, 17)), chance.randint(5, 24)
    ages = None
    if under is not None:
        ages = PlayerAges(
            under, under + chance.randint(0, 1), under - 1, chance.choice((None, 3, 4, 5, 7, 9, 11))
        )
    return Evening(
        players,
        keepers=chance.choice((None, None, 0, 1, 2, 3)),
        adults=chance.choice((None, 1, 2, 3)),
        ages=ages,
        pieces=pieces,
        kit={kind: chance.randint(count // 2, count) for kind, count in STOCK.items()}
        if chance.random() < 0.5
        else {},
        chosen=chance.random() < 0.5,
    )


def _piece(chance: random.Random, key: str) -> Piece:
    edges = chance.choices(STANDS, k=len(ALL_EDGES))
    return Piece(key, float(chance.randint(15, 60)), float(chance.randint(10, 40)), *edges)


@cache
def rungs(slug: str) -> tuple[str, ...]:
    return ("", *(each.key for each in demo_document(slug).variations))


def answers(seed: int, most: int = EVENINGS // BLOCKS) -> Iterator[tuple[str, str, Evening, SetUp]]:
    chance = random.Random(seed)
    for _ in range(most):
        tonight, slug = an_evening(chance), chance.choice(SLUGS)
        rung = chance.choice(rungs(slug))
        for setup in fits(demo_document(slug), rung, tonight):
            yield slug, rung, tonight, setup


def reasons(slug: str, rung: str, setup: SetUp, tonight: Evening) -> list[str]:
    return [each.key for each in holds(demo_document(slug), rung, setup, tonight).reasons]


@pytest.mark.parametrize("seed", range(BLOCKS))
def test_what_fit_answers_holds_for_its_own_evening(seed: int) -> None:
    found = list(answers(seed))
    assert len(found) > EVENINGS // BLOCKS
    for slug, rung, tonight, setup in found:
        assert holds(demo_document(slug), rung, setup, tonight), (slug, rung, tonight, setup.numbers)
        assert reasons(slug, rung, setup, tonight) == []


@pytest.mark.parametrize("seed", range(4))
def test_where_an_old_set_up_holds_fit_finds_something_too_and_better_evenings_change_nothing(
    seed: int,
) -> None:
    """Fit is the oracle: whatever holds breaks none of its rules, so it can't come away with nothing."""
    chance, held, broken = random.Random(seed), 0, 0
    for slug, rung, tonight, setup in answers(seed, 30):
        other = replace(an_evening(chance), players=tonight.players, keepers=tonight.keepers)
        if chance.random() < 0.5:
            other = replace(other, pieces=tonight.pieces)
        if not holds(demo_document(slug), rung, setup, other):
            broken += 1
            continue
        held += 1
        assert fits(demo_document(slug), rung, other), (slug, rung, other, setup.numbers)
        assert reasons(slug, rung, setup, _better(tonight)) == []
    assert min(held, broken) > 20


def _better(tonight: Evening) -> Evening:
    """One adult more, more kit of each kind and another piece of ground beside."""
    return replace(
        tonight,
        adults=None if tonight.adults is None else tonight.adults + 1,
        kit={kind: count + 3 for kind, count in tonight.kit.items()},
        pieces=(*tonight.pieces, replace(CAGE, key="Barn: all")) if tonight.pieces else (),
    )


# --- each thing that is worse, alone ------------------------------------------------------------------------------

YOUNG = PlayerAges(9, 9, 8, 5)
OPEN = Piece("Mill: Left", 60.0, 40.0)


def first(slug: str, tonight: Evening, wanted: Callable[[SetUp], bool] = lambda setup: True) -> SetUp:
    return next(each for each in fits(demo_document(slug), "", tonight) if wanted(each))


def smaller(**changes: object) -> Callable[[Evening], Evening]:
    return lambda tonight: tonight.on(replace(tonight.pieces[0], **changes))


GAME = Evening(10, adults=2, ages=PlayerAges(12, 12, 11, 9), pieces=(CAGE,), kit=STOCK, chosen=True)
WORSE: list[tuple[str, Callable[[Evening], Evening]]] = [
    ("other_numbers", lambda tonight: replace(tonight, players=11)),
    ("other_numbers", lambda tonight: replace(tonight, players=9)),
    ("ground_too_small", smaller(length_m=20.0, width_m=12.0)),
    ("ground_too_small", smaller(length_m=12.0)),
    ("ground_too_small", smaller(width_m=8.0)),
    ("other_ground", smaller(key="Barn: all")),
    ("other_ground_typed", smaller(key="")),
    ("too_little_kit", lambda tonight: replace(tonight, kit={**STOCK, "bibs": 0})),
    ("grid_over_match", lambda tonight: replace(tonight, ages=PlayerAges(12, 12, 11, 3))),
    ("too_young", lambda tonight: replace(tonight, ages=PlayerAges(6, 6, 5), chosen=False)),
]


@pytest.mark.parametrize(("key", "worse"), WORSE)
def test_each_thing_that_is_worse_is_said(key: str, worse: Callable[[Evening], Evening]) -> None:
    """Quiet Sevens: two sides on one grid, in bibs."""
    setup = first("quiet-sevens", GAME, lambda each: each.grids == 1)
    assert reasons("quiet-sevens", "", setup, GAME) == []
    assert key in reasons("quiet-sevens", "", setup, worse(GAME))


def test_a_fence_that_is_nearer_is_said_with_its_metres() -> None:
    tonight = replace(GAME, pieces=(OPEN,))
    setup = first("quiet-sevens", tonight, lambda each: each.grids == 1)
    length, width = setup.grid_sizes[0]
    assert setup.run_off_m == 3
    # As large as the grid with 2 m on either side: open ground will do, a fence is nearer than it was.
    tight = replace(OPEN, length_m=length + 4, width_m=width + 4)
    assert reasons("quiet-sevens", "", setup, tonight.on(tight)) == []
    fenced = replace(tight, left="fence", right="fence", bottom="fence", top="fence")
    found = holds(demo_document("quiet-sevens"), "", setup, tonight.on(fenced))
    assert [each.text for each in found.reasons] == [
        "Only 2 m to the edge of your space, and it was set up with 3 m."
    ]
    goals = tuple(FixedGoal(edge, 0.5, "mini") for edge in ("left", "right"))  # type: ignore[arg-type]
    assert reasons("quiet-sevens", "", setup, tonight.on(replace(tight, goals=goals))) == ["edge_nearer"]
    touching = replace(fenced, length_m=length + 1)
    assert reasons("quiet-sevens", "", setup, tonight.on(touching)) == ["ground_too_small"]


def test_too_little_ground_is_said_with_what_would_do() -> None:
    setup = first("quiet-sevens", GAME, lambda each: each.grids == 1)
    length, width = setup.grid_sizes[0]
    found = holds(demo_document("quiet-sevens"), "", setup, GAME.on(replace(CAGE, width_m=9.0)))
    said = next(each for each in found.reasons if each.key == "ground_too_small")
    needed = replace(CAGE, length_m=said.params["length"], width_m=said.params["width"])
    keys = reasons("quiet-sevens", "", setup, GAME.on(needed))
    assert "ground_too_small" not in keys
    less = replace(needed, width_m=needed.width_m - 1)
    assert "ground_too_small" in reasons("quiet-sevens", "", setup, GAME.on(less))
    assert (said.params["free_length"], said.params["free_width"]) == (40.0, 9.0)
    assert needed.area_m2 > length * width


def test_adults_who_are_gone_are_missed_only_where_they_were_needed() -> None:
    tonight = Evening(12, adults=3, ages=YOUNG, pieces=(OPEN,), chosen=True)
    for slug in SLUGS:
        for setup in fits(demo_document(slug), "", tonight):
            for adults in (1, 2, 3, 4):
                keys = reasons(slug, "", setup, replace(tonight, adults=adults))
                assert ("adults_gone" in keys) == (setup.grids > 2 * adults), (slug, setup.numbers, adults)
                if setup.adult_plays and adults == 1:
                    assert "adult_cannot_play" in keys


def test_an_adult_who_plays_is_missed() -> None:
    design = Design(Format.parse("5v5+2"), 30, 20)
    tonight = Evening(11, adults=2, pieces=(OPEN,))
    setup = next(each for each in fits_design(design, tonight) if each.adult_plays)
    assert why_not_on(design, setup, tonight) == ()
    found = why_not_on(design, setup, replace(tonight, adults=1))
    assert [each.text for each in found] == [
        "An adult plays along, and tonight has one adult: nobody is left to coach."
    ]


def test_sides_that_are_larger_than_in_their_matches_are_said() -> None:
    tonight = replace(GAME, players=16, pieces=(OPEN,))
    setup = first("quiet-sevens", tonight, lambda each: each.format.sides[0].players == 8)
    younger = replace(tonight, ages=PlayerAges(12, 12, 11, 5))
    assert "sides_over_age" in reasons("quiet-sevens", "", setup, younger)


def test_keepers_who_are_gone_are_said_where_there_are_goals() -> None:
    tonight = Evening(12, keepers=2, adults=2, ages=PlayerAges(14, 14, 13, 9), pieces=(OPEN,), chosen=True)
    setup = first("quiet-sevens", tonight, lambda each: each.keepers == 2 and each.grids == 1)
    assert reasons("quiet-sevens", "", setup, replace(tonight, keepers=1)) == ["other_keepers"]
    assert reasons("quiet-sevens", "", setup, replace(tonight, keepers=None)) == []


def test_a_drill_that_was_changed_is_said() -> None:
    setup = first("quiet-sevens", GAME, lambda each: each.grids == 1)
    other = next(slug for slug in SLUGS if "not_the_drills" in reasons(slug, "", setup, GAME))
    assert other != "quiet-sevens"


def test_where_nobody_says_on_what_ground_any_will_do_and_what_was_typed_lies_where_there_is_room() -> None:
    setup = first("quiet-sevens", GAME, lambda each: each.grids == 1)
    assert reasons("quiet-sevens", "", setup, GAME.on()) == []
    typed = GAME.on(Piece("", 40.0, 30.0))
    setup = first("quiet-sevens", typed, lambda each: each.grids == 1)
    assert reasons("quiet-sevens", "", setup, GAME.on(replace(OPEN, key="Barn: all"))) == []
    assert reasons("quiet-sevens", "", setup, GAME.on(Piece("Barn: all", 20.0, 15.0))) == ["ground_too_small"]
