"""What holds for any block: what is fixed stays, nothing is taken twice, more never makes it worse, clashes are named."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sessions.planning.blocks import (
    BlockRequest,
    BlockSlot,
    BlockTarget,
    BlockTeam,
    BlockTheme,
    ClashingWish,
)
from sessions.planning.blocks.block_search import TEAMS_AT_ONCE
from tests.sessions.planning.blocks import block_oracle as oracle
from tests.sessions.planning.blocks.block_cases import block, medium, small
from tests.sessions.planning.blocks.patiently import propose

WEEKLY = tuple(BlockSlot(f"a{at}", "a", 7 * at, 1080, 1170, "main", 1, 45) for at in range(4))
THEMES = (BlockTheme("pass"), BlockTheme("press"))


def weekly(**changes: object) -> BlockRequest:
    asked = BlockRequest((BlockTeam("a", "u9"),), WEEKLY, THEMES)
    return replace(asked, **changes)  # type: ignore[arg-type]


@settings(max_examples=25, deadline=None)
@given(st.integers(1000, 9999))
def test_what_is_fixed_stays_and_nothing_is_taken_twice(seed: int) -> None:
    asked = small(seed)
    found = propose(asked)
    if found.clash:
        return
    chosen = {each.slot: (each.theme, each.ready) for each in found.slots}
    assert not oracle.broken(asked, chosen)
    for slot, given_ in zip(asked.slots, found.slots, strict=True):
        assert slot.fixed_theme in (None, given_.theme)
        assert given_.changed == bool(slot.stands and slot.stands != (given_.theme, given_.ready))


@settings(max_examples=12, deadline=None)
@given(st.integers(1000, 9999))
def test_more_ground_and_kit_never_make_it_worse(seed: int) -> None:
    asked = small(seed)
    more = replace(asked, pitches={"main": 9}, kit={"goals": 9})
    before, after = propose(asked), propose(more)
    if before.objective is not None:
        assert after.objective is not None
        assert after.objective >= before.objective


def test_three_running_clash_with_what_is_fixed() -> None:
    slots = tuple(replace(each, fixed_theme="pass") if at < 3 else each for at, each in enumerate(WEEKLY))
    found = propose(weekly(slots=slots))
    fixed = {ClashingWish("fixed", (f"a{at}",)) for at in range(3)}
    assert set(found.clash) == fixed | {ClashingWish("running", ("a",))}
    assert found.clash_smallest
    assert found.proven
    assert not found.slots


def test_a_target_that_cannot_be_reached_is_named_alone() -> None:
    asked = weekly(targets=(BlockTarget("u9", "pass", 900, must=True),))
    assert propose(asked).clash == (ClashingWish("target", ("a", "pass", "minutes")),)


def test_a_theme_comes_back_after_a_week_or_two() -> None:
    """Two themes, two sessions of each: alternating or in pairs, both are spaced; nothing is taught alone."""
    asked = weekly(targets=tuple(BlockTarget("u9", each.key, 2, "sessions") for each in THEMES))
    found = propose(asked)
    assert found.causes.get("comes_back", 0) == 0
    assert {(each.target.theme, each.got) for each in found.counts} == {("pass", 2), ("press", 2)}


@pytest.mark.parametrize(("match", "free"), [(8, "a2"), (15, "a1")])
def test_a_light_theme_is_taught_before_a_match(match: int, free: str) -> None:
    """One hard session between light ones, never three of which run: second or third, and not the day before the match."""
    themes = (BlockTheme("pass", 4.0), BlockTheme("press", 7.0))
    targets = (BlockTarget("u9", "press", 1, "sessions"),)
    found = propose(weekly(teams=(BlockTeam("a", "u9", (match,)),), themes=themes, targets=targets))
    assert [each.slot for each in found.slots if each.theme == "press"] == [free]


def test_what_stands_stays_where_fewest_changes_are_asked_for() -> None:
    stands = ("pass", "press", "pass", "press")
    slots = tuple(replace(each, stands=(theme, "")) for each, theme in zip(WEEKLY, stands, strict=True))
    targets = (BlockTarget("u9", "pass", 2, "sessions"), BlockTarget("u9", "press", 2, "sessions"))
    assert propose(weekly(slots=slots, targets=targets, fewest_changes=True)).changes == 0


def test_what_nothing_can_be_given_is_named() -> None:
    asked = weekly(themes=(BlockTheme("pass", ages=frozenset({"u17"})),))
    found = propose(asked)
    assert found.clash == (ClashingWish("nothing", ("a0",)),)
    assert found.clash_smallest
    assert not found.slots


def test_answers_repeat() -> None:
    asked = medium(1)
    first, again = propose(asked), propose(asked)
    assert first.proven
    assert replace(first, seconds=0) == replace(again, seconds=0)


def test_a_search_is_over_when_its_watcher_says_so() -> None:
    heard = []

    def stop(points: float | None, bound: float | None) -> bool:
        heard.append((points, bound))
        return False

    stopped = propose(block(1), watch=stop)
    assert 1 <= len(heard) <= 1 + TEAMS_AT_ONCE  # those that asked at the same moment
    assert not stopped.clash
    assert not stopped.proven


def test_impossible_requests_are_refused_by_field() -> None:
    with pytest.raises(ValueError, match="slots"):
        weekly(slots=(replace(WEEKLY[0], team="nobody"),))
    with pytest.raises(ValueError, match="ends"):
        replace(WEEKLY[0], ends=WEEKLY[0].starts)
    with pytest.raises(ValueError, match="targets"):
        weekly(targets=(BlockTarget("u9", "no theme", 3),))
    with pytest.raises(ValueError, match="fixed_theme"):
        weekly(slots=(replace(WEEKLY[0], fixed_theme="no theme"),))
