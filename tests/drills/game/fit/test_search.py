"""The search against brute force."""

import math

import pytest

from drills.game.design import Design
from drills.game.fit import fit
from drills.game.fit.answer import MOST_ANSWERS
from drills.game.format import Format
from tests.drills.game.fit.oracle import Oracle


def design(text: str, length_m: float, width_m: float) -> Design:
    return Design(Format.parse(text), length_m, width_m)


GAMES = [design("4v4+4", 25, 20), design("5v2", 10, 10), design("3v2", 20, 14), design("4v4+1in", 24, 18)]
# Free spaces from roomy to hopeless.
SPACES = [(40, 22), (30, 20), (17, 13), (10, 9)]


@pytest.mark.parametrize("game", GAMES, ids=lambda game: str(game.format))
@pytest.mark.parametrize("space", SPACES, ids=str)
def test_the_best_answer_is_the_best_there_is(game: Design, space: tuple[int, int]) -> None:
    oracle = Oracle(game, *space)
    for players in range(2 + SPACES.index(space), 31, 4):
        answers = fit(game, players=players, length_m=space[0], width_m=space[1])
        nearest = oracle.nearest(players) if players >= game.least_players else math.inf
        best = answers[0].distance if answers else math.inf
        assert best == pytest.approx(nearest, abs=1e-6), players


@pytest.mark.parametrize("game", GAMES, ids=lambda game: str(game.format))
@pytest.mark.parametrize("players", [5, 9, 12, 14])
def test_single_grids_are_ranked_as_brute_force_ranks_them(game: Design, players: int) -> None:
    answers = fit(game, players=players, length_m=32, width_m=22)
    single = [answer.distance for answer in answers if answer.grids == 1]
    all_of_them = Oracle(game, 32, 22).single_grid(players) if players >= game.least_players else []
    assert single == pytest.approx(all_of_them[: len(single)], abs=1e-6)
    # Nothing is left out while there is room in the list.
    assert len(answers) == MOST_ANSWERS or len(single) == len(all_of_them)


def test_a_plain_game_may_put_its_own_players_outside() -> None:
    game, oracle = design("4v4", 24, 18), Oracle(design("4v4", 24, 18), 40, 24)
    for players in range(4, 20, 2):
        answers = fit(game, players=players, length_m=40, width_m=24)
        assert answers[0].distance == pytest.approx(oracle.nearest(players), abs=1e-6), players
    own_outside = [
        s for s in fit(game, players=12, length_m=40, width_m=24) if str(s.format) == "4(+2)v4(+2)"
    ]
    assert own_outside[0].terms["overload"] == pytest.approx(math.log(1.5))
