"""The same models in another solver have the same objective."""

import pytest

from sessions.planning.blocks import propose_block
from tests.sessions.planning.blocks import block_milp
from tests.sessions.planning.blocks.block_cases import medium


@pytest.mark.parametrize("seed", (1, 3, 4, 5))
def test_blocks_of_three_teams(seed: int) -> None:
    asked = medium(seed)
    found = propose_block(asked, seconds=60)
    assert found.proven
    assert found.objective == block_milp.best_points(asked)
