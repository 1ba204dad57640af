"""Larger libraries, where trying everything takes too long: a second solver reaches the same objective."""

import pytest

from sessions.planning.assemble import assemble
from tests.sessions.planning.assemble.libraries import PARTS, library, request


@pytest.mark.parametrize("seed", range(2))
def test_the_same_objective_as_a_second_solver(seed: int) -> None:
    from tests.sessions.planning.assemble import milp  # slow to import: only by the worker that comes here

    offers = library(seed, 90, sizes=4)
    asked = request(parts=PARTS[1:], minutes=60, load_au=240)
    proposal = assemble(asked, offers, seconds=20, alternatives=0)
    assert proposal.proven
    assert proposal.objective == pytest.approx(milp.best_points(asked, offers), abs=0.01)
