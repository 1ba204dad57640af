"""Shuffled equal teams: in how many rounds everybody is as often with as against everybody (arithmetic)."""

from itertools import combinations

import pytest

from sessions.planning.rotation.shuffle import shuffle_teams


@pytest.mark.parametrize(
    ("players", "bouts", "together", "opposed"), [(4, 3, 1, 2), (6, 10, 4, 6), (8, 7, 3, 4), (12, 11, 5, 6)]
)
def test_shuffled_equal_teams(players: int, bouts: int, together: int, opposed: int) -> None:
    found = shuffle_teams(players=players, bouts=bouts)
    assert found.proven
    names = [str(number + 1) for number in range(players)]
    for a, b in combinations(names, 2):
        same = sum(any(a in team and b in team for team in bout) for bout in found.bouts)
        assert (same, bouts - same) == (together, opposed)
    assert {len(team) for bout in found.bouts for team in bout} == {players // 2}
