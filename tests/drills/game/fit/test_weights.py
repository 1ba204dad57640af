"""Every term of a distance stands in the one table, with its weight and what it counts."""

from dataclasses import fields

from drills.game.fit import fit_on, terms
from drills.game.fit.weights import DEFAULT_WEIGHTS, DistanceWeights
from tests.drills.game.fit.evenings import evening
from tests.drills.game.fit.test_fit import DESIGNS


def test_the_table_is_the_weights() -> None:
    assert [(each.name, each.weight) for each in terms()] == [
        (each.name, getattr(DEFAULT_WEIGHTS, each.name)) for each in fields(DistanceWeights)
    ]
    assert all(each.counts.endswith(".") for each in terms())


def test_no_answer_has_another_term() -> None:
    """The shape of the grid is told apart from its area, and is weighed with it."""
    named = {each.name for each in terms()} | {"shape"}
    for game in DESIGNS:
        for answer in fit_on(game, evening(13, 40, 30, under=11, keepers=None)):
            assert set(answer.terms) == named
