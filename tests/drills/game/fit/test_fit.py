"""What must hold for every answer of Fit, and the turn-outs that a coach can check by head."""

import math
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.game.design import Design
from drills.game.fit import DistanceWeights, SetUp, fit
from drills.game.format import Format


def design(text: str, length_m: float, width_m: float, **facts: object) -> Design:
    return Design(Format.parse(text), length_m, width_m, **facts)  # type: ignore[arg-type]


POSSESSION = design("4v4+4", 25, 20)
RONDO = design("5v2", 10, 10, counts_everyone=True)
WAVES = design("3v2", 20, 15)
MATCH = design("GK+5v5+GK", 40, 30, kit={"moveable goals": 2, "marker cones": 4})
AMPLE = {"length_m": 120, "width_m": 90}

DESIGNS = [
    POSSESSION,
    RONDO,
    WAVES,
    MATCH,
    design("6v4+GK", 35, 30, planned_waiting=0.3),
    design("4(+2)v4(+2)", 30, 25),
    design("4v4v4", 30, 25),
    design("4v4+2in", 28, 24, sides_by_age=True),
    design("12", 40, 30, area_matters=False),
    design("14", 20, 20, anyone_can_join=True, min_players=6, kit_per_player={"balls": 1}),
    design("1v1", 12, 8),
    design("8+GK", 30, 30, planned_waiting=0.5, area_matters=False),
    design("3GK", 20, 15, area_matters=False),
]


def told(set_up: SetUp) -> tuple[str, int]:
    return set_up.numbers, set_up.waiting


# The list is the project's own specification: what a coach would do first with room to spare (common practice).
@pytest.mark.parametrize(
    ("game", "players", "numbers", "waiting"),
    [
        (POSSESSION, 9, "3v3+3", 0),
        (POSSESSION, 11, "4v4+3", 0),
        (POSSESSION, 12, "4v4+4", 0),
        (POSSESSION, 13, "4v4+5", 0),
        (POSSESSION, 15, "5v5+5", 0),
        (POSSESSION, 24, "2 × 4v4+4", 0),
        (POSSESSION, 25, "4v4+5 and 4v4+4", 0),
        (RONDO, 8, "6v2", 0),
        (WAVES, 10, "2 × 3v2", 0),
        (MATCH, 11, "GK+5v5", 0),
        (MATCH, 13, "GK+6v6", 0),
        (MATCH, 14, "GK+6v6+GK", 0),
        (design("GK+4v4+GK", 36, 28), 22, "2 × GK+5v5", 0),  # alike, not 6v6 and 5v5 with a keeper each
        (
            design("4(+2)v4(+2)", 30, 28),
            16,
            "5(+3)v5(+3)",
            0,
        ),  # as far from the design as 4(+4)v4(+4): more play
        # Half may be off in waves: six on and six off in one grid, more players in two.
        (design("3v2+GK", 30, 24, planned_waiting=0.6, area_matters=False), 12, "3v2+GK", 6),
        (design("3v2+GK", 30, 24, planned_waiting=0.6, area_matters=False), 15, "2 × 3v2+GK", 3),
        (design("3v2+GK", 30, 24, planned_waiting=0.6, area_matters=False), 18, "2 × 3v2+GK", 6),
        # Up to six grids of games of five or fewer.
        (
            design("1v1", 12, 10, planned_waiting=0.5, sides_fixed=True, neutrals_fixed=True),
            20,
            "5 × 1v1",
            10,
        ),
    ],
)
def test_first_answer_with_room_to_spare(game: Design, players: int, numbers: str, waiting: int) -> None:
    assert told(fit(game, players=players, **AMPLE)[0]) == (numbers, waiting)


def test_fifteen_came_and_thirty_by_twenty_is_free() -> None:
    best = fit(POSSESSION, players=15, adults=2, length_m=30, width_m=20)[0]
    assert told(best) == ("5v5+5", 0)
    assert (best.length_m, best.width_m, best.strip_m, best.grids) == (28, 18, 1, 1)
    assert best.area_per_player_m2 == 50.4
    terms = {name: value for name, value in best.terms.items() if value}
    assert terms == {
        "numbers": pytest.approx(math.log(10 / 8)),
        "space": pytest.approx(0.5 * math.log(62.5 / 50.4)),
        "shape": pytest.approx(0.1 * math.log(28 / 18 / 1.25)),
    }


@pytest.mark.parametrize("game", DESIGNS, ids=lambda game: str(game.format))
def test_design_numbers_in_design_space_are_the_design_unchanged(game: Design) -> None:
    strip = 2 if game.format.players_outside else 0
    best = fit(
        game,
        players=game.format.players,
        length_m=game.length_m + strip,
        width_m=game.width_m + strip,
        adults=1,
    )[0]
    assert (best.format, best.grids, best.waiting, best.distance) == (game.format, 1, 0, 0)
    assert (best.length_m, best.width_m, best.kind) == (game.length_m, game.width_m, "same")
    assert [reason.key for reason in best.reasons if reason.weight == "change"] == ["as_planned"]


turn_outs = st.fixed_dictionaries(
    {
        "players": st.integers(1, 34),
        "adults": st.integers(1, 4),
        "length_m": st.integers(6, 70),
        "width_m": st.integers(6, 50),
    }
)


@settings(max_examples=80, deadline=None)
@given(st.sampled_from(DESIGNS), turn_outs)
def test_every_answer_adds_up_and_fits(game: Design, tonight: dict[str, int]) -> None:
    answers = fit(game, **tonight)
    assert [a.distance for a in answers] == sorted(a.distance for a in answers)
    assert len({(a.numbers, a.waiting, a.adult_plays) for a in answers}) == len(answers)
    free = (tonight["length_m"], tonight["width_m"])
    for answer in answers:
        assert answer.players_total == tonight["players"]
        assert sum(answer.terms.values()) == pytest.approx(answer.distance, abs=1e-9)
        assert min(fmt.players for fmt in answer.grid_formats) >= game.least_players
        assert in_the_free_space(answer, game, free) == []
        assert answer.keepers == sum(fmt.keepers for fmt in answer.grid_formats)


def in_the_free_space(answer: SetUp, game: Design, free: tuple[int, int]) -> list[str]:
    """What sticks out: the array of grids with a metre outside where players stand, and two metres between grids."""
    sides = []
    for fmt, (length, width) in zip(answer.grid_formats, answer.grid_sizes, strict=True):
        strip = 2 if fmt.players_outside else 0
        sides.append((width + strip, length + strip) if answer.turned else (length + strip, width + strip))
    assert answer.columns * answer.rows >= answer.grids
    along = answer.columns * max(x for x, _ in sides) + 2 * (answer.columns - 1)
    across = answer.rows * max(y for _, y in sides) + 2 * (answer.rows - 1)
    sticks_out = [f"{along} long"] if along > free[0] + 1e-9 else []
    return sticks_out + ([f"{across} wide"] if across > free[1] + 1e-9 else [])


@settings(max_examples=50, deadline=None)
@given(st.sampled_from(DESIGNS), turn_outs, st.integers(0, 6), st.integers(0, 6))
def test_more_space_never_makes_the_best_worse(
    game: Design, tonight: dict[str, int], longer: int, wider: int
) -> None:
    less = fit(game, **tonight)
    more = fit(
        game,
        players=tonight["players"],
        adults=tonight["adults"],
        length_m=tonight["length_m"] + longer,
        width_m=tonight["width_m"] + wider,
    )
    if less:
        assert more[0].distance <= less[0].distance + 1e-9


@settings(max_examples=40, deadline=None)
@given(st.sampled_from([MATCH, design("6v4+GK", 35, 30)]), st.integers(7, 28), st.integers(0, 4))
def test_a_keeper_stays_a_keeper(game: Design, players: int, keepers: int) -> None:
    for answer in fit(game, players=players, keepers=keepers, adults=2, **AMPLE):
        goals = game.format.keepers * answer.grids
        assert answer.keepers == min(keepers, goals)
        assert answer.serving == keepers - answer.keepers
        outfield = sum(fmt.players - fmt.keepers for fmt in answer.grid_formats)
        assert outfield + answer.waiting - answer.serving == players - keepers


def test_keepers_none_one_two_three() -> None:
    firsts = [fit(MATCH, players=12 + (k == 3), keepers=k, **AMPLE)[0] for k in (0, 1, 2, 3)]
    assert [told(first) for first in firsts] == [
        ("6v6", 0),
        ("GK+5v5+1", 0),
        ("GK+5v5+GK", 0),
        ("GK+5v5+GK", 1),
    ]
    assert [first.kit.get("moveable goals", 0) for first in firsts] == [0, 1, 2, 2]
    assert [first.serving for first in firsts] == [0, 0, 0, 1]
    assert [first.waiting_beyond for first in firsts] == [0, 0, 0, 0]


def test_kit_bounds_the_answers() -> None:
    there = {"bibs": 9, "moveable goals": 2, "marker cones": 40}
    answers = fit(MATCH, players=24, kit=there, adults=2, **AMPLE)
    assert [kind for a in answers for kind in a.kit if a.kit[kind] > there.get(kind, 99)] == []
    # Two keepers' goals are all there are: with 24 players and nine bibs nobody plays with four goals.
    assert {a.kit.get("moveable goals", 0) for a in answers} <= {0, 1, 2}
    everything = fit(MATCH, players=24, adults=2, **AMPLE)[0]
    assert everything.kit == {"moveable goals": 4, "marker cones": 8, "bibs": 10}


def test_a_ball_each_is_counted_per_player() -> None:
    fun = design("14", 20, 20, anyone_can_join=True, min_players=6, kit_per_player={"balls": 1})
    assert fit(fun, players=17, **AMPLE)[0].kit == {"balls": 17}
    short = fit(fun, players=17, kit={"balls": 15}, **AMPLE)[0]
    assert told(short) == ("15", 2)


def test_nothing_is_tighter_than_the_least_area() -> None:
    answers = fit(POSSESSION, players=12, length_m=17, width_m=14)
    assert min(a.area_per_player_m2 or 0 for a in answers) >= 0.35 * 62.5
    tiny = fit(design("4v4", 12, 10), players=8, length_m=10, width_m=10)
    # 15 m² each by design: never under 12.
    assert min(a.area_per_player_m2 or 0 for a in tiny) >= 12
    rondo = fit(design("5v2", 8, 8), players=7, length_m=8, width_m=8)
    assert rondo[0].distance == 0  # a drill that is tighter than that by design stays as it is
    (key,) = {told(a) for a in fit(design("5v2", 8, 8), players=8, length_m=9, width_m=8)} & {("5v3", 0)}
    assert key == ("5v3", 0)  # 72 m² for the wished 73 is the rounding to whole metres


def test_a_turned_grid_is_said() -> None:
    game = design("4v4", 30, 18)
    best = fit(game, players=8, length_m=20, width_m=32)[0]
    assert (best.length_m, best.width_m, best.turned) == (30, 18, True)


def test_a_weight_may_be_nothing_and_never_less() -> None:
    nobody_minds_waiting = DistanceWeights(waiting=0.0)
    waves = design("3v2+GK", 25, 20, planned_waiting=0.4, area_matters=False)
    assert fit(waves, players=12, weights=nobody_minds_waiting, **AMPLE)[0].distance == 0
    with pytest.raises(ValueError, match="waiting"):
        DistanceWeights(waiting=-1)


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"players": 0}, "players"),
        ({"players": 61}, "players"),
        ({"keepers": 13}, "keepers"),
        ({"adults": -1}, "adults"),
        ({"length_m": 0}, "length_m"),
        ({"width_m": math.nan}, "width_m"),
        ({"kit": {"marker cones": -1}}, "kit"),
    ],
)
def test_impossible_input_names_the_field(given: dict[str, object], field: str) -> None:
    asked = {"players": 12, "length_m": 30, "width_m": 20} | given
    with pytest.raises(ValueError, match=field):
        fit(POSSESSION, **asked)  # type: ignore[arg-type]


def test_forty_players_are_answered_quickly() -> None:
    # The aim is 30 ms on a quiet machine. Processor time, so that a busy one does not matter; the bound leaves room
    # for a slow one and still fails for a search gone wild.
    fit(POSSESSION, players=39, adults=3, **AMPLE)
    start = time.process_time()
    fit(POSSESSION, players=40, adults=3, **AMPLE)
    assert time.process_time() - start < 0.15
