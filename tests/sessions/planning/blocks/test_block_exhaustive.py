"""Small blocks against every choice that there is, and the clash of those that none keeps."""

from itertools import combinations

import pytest

from sessions.planning.blocks import block_search
from tests.sessions.planning.blocks import block_oracle as oracle
from tests.sessions.planning.blocks.block_cases import small
from tests.sessions.planning.blocks.patiently import propose

SWEEP = pytest.mark.sweep


@pytest.mark.parametrize("first", [0, 10, *(pytest.param(at, marks=SWEEP) for at in range(20, 100, 10))])
def test_the_best_block_is_found_and_proven(first: int) -> None:
    for seed in range(first, first + 10):
        asked = small(seed)
        found, expected = propose(asked), oracle.best(asked)
        assert found.proven, seed
        assert found.objective == expected, seed
        if expected is None:
            assert found.clash, seed
            assert found.clash_smallest, seed
        else:
            assert found.gap == 0
            chosen = {each.slot: (each.theme, each.ready) for each in found.slots}
            assert oracle.points(asked, chosen) == expected, seed
            assert not oracle.broken(asked, chosen), seed


def test_wishes_that_clash_are_the_fewest() -> None:
    clashes = 0
    for seed in range(40):
        asked = small(seed)
        found = propose(asked)
        if not found.clash:
            continue
        clashes += 1
        ways = {frozenset(oracle.broken(asked, each)) for each in oracle.every(asked)}
        names = set(found.clash)
        assert all(names & way for way in ways), (seed, "they can hold together")
        for name in names:
            assert any(not (names - {name}) & way for way in ways), (seed, "one is needless")
        wishes = set().union(*ways)
        fewer = combinations(sorted(wishes), len(names) - 1)
        assert not any(all(set(some) & way for way in ways) for some in fewer), (seed, "fewer clash")
    assert clashes >= 5


def test_two_teams_are_the_best_as_a_pair_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """As in a block too large for one model: teams in turn, then two by two. Of two teams the one pair is all there is."""
    monkeypatch.setattr(block_search, "FEW_CHOICES", 0)
    monkeypatch.setattr(block_search, "MOST_PASSES", 1)
    paired: list[object] = []
    in_pairs = block_search.BlockSearch._in_pairs
    monkeypatch.setattr(
        block_search.BlockSearch, "_in_pairs", lambda *asked: (paired.append(asked), in_pairs(*asked))[1]
    )
    for seed in range(15):
        asked = small(seed)
        found = propose(asked)
        if found.clash:
            continue
        assert found.objective == oracle.best(asked), seed
        chosen = {each.slot: (each.theme, each.ready) for each in found.slots}
        assert oracle.points(asked, chosen) == found.objective
        assert not oracle.broken(asked, chosen)
    assert paired
