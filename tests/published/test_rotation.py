"""Rotations against the circle method and balanced designs."""

from itertools import combinations

import pytest

from sessions.planning.rotation import rotate_teams
from sessions.planning.rotation.teams import circle
from tests.published.registry import guards


@guards(
    "sessions.planning.rotation.teams:circle",
    source="Circle method of round robins: n(n−1)/2 games in n−1 rounds, n for odd n (arithmetic)",
)
@pytest.mark.parametrize(
    ("teams", "rounds", "games"), [(3, 3, 3), (4, 3, 6), (5, 5, 10), (6, 5, 15), (7, 7, 21), (8, 7, 28)]
)
def test_circle_method(teams: int, rounds: int, games: int) -> None:
    # Round robin by the circle method: n(n-1)/2 games in n-1 rounds, n for odd n.
    found = circle(teams)
    assert len(found) == rounds
    met = [frozenset(game) for games_of in found for game in games_of]
    assert len(met) == len(set(met)) == games
    for games_of in found:
        playing = [team for game in games_of for team in game]
        assert len(playing) == len(set(playing)) == teams - teams % 2


@guards(
    "sessions.planning.rotation.teams:rotate_teams",
    source="Balanced incomplete block designs: b = λv(v−1)/(k(k−1)), r = λ(v−1)/(k−1) (arithmetic)",
)
@pytest.mark.parametrize(
    ("teams", "inside", "together", "bouts", "each"),
    [
        (3, 2, 1, 3, 2),
        (4, 2, 1, 6, 3),
        (4, 3, 2, 4, 3),
        (5, 2, 1, 10, 4),
        (5, 4, 3, 5, 4),
        (6, 3, 2, 10, 5),
        (7, 3, 1, 7, 3),
        (9, 3, 1, 12, 4),
    ],
)
def test_balanced_designs(teams: int, inside: int, together: int, bouts: int, each: int) -> None:
    # Balanced incomplete block designs: b = λv(v-1)/(k(k-1)), r = λ(v-1)/(k-1).
    found = rotate_teams(teams=teams, inside=inside, bouts=bouts)
    names = {team for bout in found.bouts for team in bout.inside}
    assert len(names) == teams
    assert {sum(name in bout.inside for bout in found.bouts) for name in names} == {each}
    pairs = {
        sum(a in bout.inside and b in bout.inside for bout in found.bouts) for a, b in combinations(names, 2)
    }
    assert pairs == {together}
    assert (found.spread, found.pairs_spread, found.proven, found.pairs_proven) == (0, 0, True, True)


@guards(
    "sessions.planning.rotation.teams:rotate_teams",
    source="Balanced incomplete block designs: b = λv(v−1)/(k(k−1)), r = λ(v−1)/(k−1) ; (8,3,1) and (6,3,1) do not exist (arithmetic)",
)
@pytest.mark.parametrize(("teams", "inside", "counts"), [(8, 3, (9, 10)), (6, 3, (5,))])
def test_designs_that_do_not_exist_are_not_claimed(teams: int, inside: int, counts: tuple[int, ...]) -> None:
    # (8,3,1) and (6,3,1) are impossible: some pairs stay apart or come together twice.
    for bouts in counts:
        found = rotate_teams(teams=teams, inside=inside, bouts=bouts)
        met = {
            sum(a in b.inside and c in b.inside for b in found.bouts)
            for a, c in combinations([chr(65 + i) for i in range(teams)], 2)
        }
        assert met != {1}
        assert found.spread == (bouts * inside % teams != 0)
