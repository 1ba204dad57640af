"""The same models in another solver have the same objective."""

import pytest

from tests.sessions.planning.blocks import block_milp, cover_milp
from tests.sessions.planning.blocks.block_cases import medium
from tests.sessions.planning.blocks.cover_cases import week
from tests.sessions.planning.blocks.ground_cases import month
from tests.sessions.planning.blocks.patiently import cover, mend, propose


@pytest.mark.parametrize("seed", [1, 3, 5, pytest.param(4, marks=pytest.mark.sweep)])
def test_blocks_of_three_teams(seed: int) -> None:
    asked = medium(seed)
    found = propose(asked)
    assert found.proven
    assert found.objective == block_milp.best_points(asked)


@pytest.mark.parametrize("seed", range(4))
def test_two_weeks_without_grass(seed: int) -> None:
    asked = month(seed, teams=10, weeks=2)
    measures = mend(asked).measures
    assert tuple(each.value for each in measures) == cover_milp.least_lost(asked)


@pytest.mark.parametrize("seed", range(4))
def test_five_coaches_away_for_a_week(seed: int) -> None:
    asked = week(seed, away=5)
    measures = cover(asked).measures
    assert tuple(each.value for each in measures) == cover_milp.least_cover(asked)
