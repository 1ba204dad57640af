"""What is answered when the time is over: what is known by then, and no more is said of it. No test waits for a clock."""

import random
import sys
from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sessions.planning.blocks import (
    BlockRequest,
    BlockSlot,
    BlockTarget,
    BlockTeam,
    BlockTheme,
    propose_block,
    solving,
)
from sessions.planning.blocks.clashing import smallest_clash
from tests.sessions.planning.blocks import (
    block_oracle,
    cover_cases,
    cover_oracle,
    ground_cases,
    ground_oracle,
    test_cover,
    test_ground,
)
from tests.sessions.planning.blocks.patiently import cover, mend, propose

COUNT = 7


class Looks:
    """Answers which wishes hold together, from all that clash; raises TimeoutError when asked once too often."""

    def __init__(self, clashes: Sequence[frozenset[int]], seed: int, most: int = sys.maxsize) -> None:
        self.clashes, self.left, self.chance, self.asked = clashes, most, random.Random(seed), 0

    def __call__(self, asked: Sequence[int]) -> tuple[bool, Sequence[int]]:
        if self.asked == self.left:
            raise TimeoutError
        self.asked += 1
        if self.is_clash(asked):
            clash = self.chance.choice([each for each in self.clashes if each <= set(asked)])
            return False, [each for each in asked if each in clash or self.chance.random() < 0.5]
        more = [each for each in range(COUNT) if each not in asked and self.chance.random() < 0.5]
        return True, [*asked, *(more if not self.is_clash([*asked, *more]) else [])]

    def is_clash(self, asked: Sequence[int]) -> bool:
        return any(each <= set(asked) for each in self.clashes)


@given(
    st.lists(st.frozensets(st.integers(0, COUNT - 1), min_size=1), min_size=1, max_size=6), st.integers(0, 99)
)
def test_the_least_known_clash_is_answered_whenever_the_time_is_over(
    clashes: list[frozenset[int]], seed: int
) -> None:
    looks = Looks(clashes, seed)
    found, smallest = smallest_clash(COUNT, looks)
    assert smallest
    assert looks.is_clash(found)
    assert len(found) == min(map(len, clashes))
    with pytest.raises(TimeoutError):
        smallest_clash(COUNT, Looks(clashes, seed, 0))
    before = COUNT
    for most in range(1, looks.asked):
        known, sure = smallest_clash(COUNT, Looks(clashes, seed, most))
        assert not sure
        assert len(found) <= len(known) <= before
        assert looks.is_clash(known)
        before = len(known)


def test_without_a_clash_nothing_is_named() -> None:
    assert smallest_clash(COUNT, Looks([], 0)) == ((), True)


def test_a_clash_that_is_known_is_answered_without_a_look() -> None:
    assert smallest_clash(COUNT, Looks([frozenset({1, 4})], 0, 0), known=(1, 4)) == ((1, 4), False)


def test_wishes_that_are_known_to_clash_are_named_when_the_time_is_over(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A look that is not answered in time is not the end: another team's may be. What is named cannot hold together."""
    slots = tuple(
        BlockSlot(f"{team}{at}", team, 7 * at, 1080, 1170, "main", 1, 45, fixed_theme="pass")
        for team in "ab"
        for at in range(3)
    )
    teams, themes = tuple(BlockTeam(each, "u9") for each in "ab"), (BlockTheme("pass"), BlockTheme("press"))
    asked = BlockRequest(teams, slots, themes, (BlockTarget("u9", "press", 60, must=True),))
    ways = [block_oracle.broken(asked, each) for each in block_oracle.every(asked)]
    module = sys.modules[propose_block.__module__]
    look, asked_so_far = module._look, []
    over = {"from": 0, "to": 0}

    def in_time(*given_: object) -> tuple[bool, Sequence[int]]:
        asked_so_far.append(given_)
        if over["from"] <= len(asked_so_far) <= over["to"]:
            raise TimeoutError
        return look(*given_)

    monkeypatch.setattr(module, "_look", in_time)
    whole = propose(asked)
    assert whole.clash_smallest
    all_looks = len(asked_so_far)
    for first, last in [(1, 1), *((at, all_looks) for at in (1, 2, 3, all_looks // 2, all_looks))]:
        asked_so_far.clear()
        over.update({"from": first, "to": last})
        found = propose(asked)
        assert found.proven
        assert not found.slots
        assert bool(found.clash) == ((first, last) != (1, all_looks))
        assert not found.clash or all(way & set(found.clash) for way in ways)
        assert len(found.clash) >= len(whole.clash) or not found.clash


class Answers:
    """Asks the solver so many times; after that the time is over."""

    def __init__(self, most: int) -> None:
        self.left = most

    def __call__(self, cp: object, clock: solving.Clock, **limits: float) -> solving.Solved:
        self.left -= 1
        if self.left < 0:
            return solving.Solved(None, found=False, impossible=False, proven=False, bound=0.0)
        return ask(cp, clock, **limits)


ask = solving.ask


@pytest.mark.parametrize("answers", range(4))
def test_lost_ground_is_mended_as_far_as_there_was_time(
    monkeypatch: pytest.MonkeyPatch, answers: int
) -> None:
    """What was not made as small as it can be is counted, and not said to be proven unless it is nothing."""
    for seed in range(8):
        asked = ground_cases.small(seed)
        if not any(map(asked.is_hit, asked.sessions)):
            continue
        asked = replace(asked, sessions=tuple(replace(each, day=0) for each in asked.sessions))
        monkeypatch.setattr(solving, "ask", Answers(answers))
        found = mend(asked)
        if not answers:
            assert found == replace(found, changes=(), measures=())
            continue
        spots = test_ground.answered(asked, found)
        assert ground_oracle.there_is_room(asked, spots)
        costs = ground_oracle.costs(asked, spots)
        assert tuple(each.value for each in found.measures) == costs
        assert costs[:answers] == ground_oracle.best(asked)[:answers]
        for each in found.measures[answers:]:
            assert each.proven == (each.value == 0)
            assert each.bound == 0


@pytest.mark.parametrize("answers", range(5))
def test_cover_is_found_as_far_as_there_was_time(monkeypatch: pytest.MonkeyPatch, answers: int) -> None:
    for seed in range(8):
        asked = cover_cases.small(seed)
        if not any(map(asked.is_hit, asked.sessions)):
            continue
        monkeypatch.setattr(solving, "ask", Answers(answers))
        found = cover(asked)
        if not answers:
            assert found == replace(found, changes=(), measures=())
            continue
        given_ = test_cover.answered(asked, found)
        assert cover_oracle.holds(asked, *given_)
        costs = cover_oracle.costs(asked, *given_)
        assert tuple(each.value for each in found.measures) == costs
        assert costs[:answers] == cover_oracle.best(asked)[:answers]


def test_a_clock_is_over_when_its_seconds_are_or_its_watcher_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    now, told = [100.0], []
    monkeypatch.setattr(solving, "monotonic", lambda: now[0])
    clock = solving.Clock(10, lambda value, bound: told.append((value, bound)) or len(told) < 2)
    now[0] = 104.0
    assert (clock.left_s, clock.spent_s) == (6.0, 4.0)
    clock.tell(3, 1)
    assert clock.left_s == 6.0
    clock.tell(2, 1)
    clock.tell(1, 1)
    assert (clock.left_s, told) == (0.0, [(3, 1), (2, 1)])
    later = solving.Clock(10)
    now[0] = 200.0
    assert later.left_s == 0.0
