"""A pitch is lost: small evenings against all that could be done, each change alone, and what a club would expect."""

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sessions.planning.blocks import (
    ClubGround,
    GroundMended,
    GroundSession,
    LostGround,
    LostRequest,
)
from tests.sessions.planning.blocks import ground_oracle as oracle
from tests.sessions.planning.blocks.ground_cases import month, small
from tests.sessions.planning.blocks.patiently import mend

EVENING = GroundSession("a", "A", 0, 1080, 1170, 14, "grass", 2, 1, ("Kim",))
COURT = ClubGround("court", 2)
OTHERS = {"without", "moved", "minutes", "changes"}


def lost(*sessions: GroundSession, grounds: tuple[ClubGround, ...] = (COURT,)) -> LostRequest:
    return LostRequest((ClubGround("grass", 3), *grounds), sessions, (LostGround("grass", 0, 0),))


def answered(request: LostRequest, mended: GroundMended, accepted: set[str] | None = None) -> dict:
    """Where each session is with some of the changes, or with all."""
    spots = {s.key: ("stays", s.ground, s.day, s.starts, s.ends, s.thirds) for s in request.sessions}
    for each in mended.changes:
        if accepted is None or each.session in accepted:
            code = "goes" if each.code in ("free", "shares") else each.code
            spots[each.session] = (code, each.ground, each.day, each.starts, each.ends, each.thirds)
    return spots


@pytest.mark.parametrize("first", range(0, 40, 10))
def test_the_best_changes_are_found_and_proven(first: int) -> None:
    for seed in range(first, first + 10):
        asked = small(seed)
        if seed % 3 == 0:
            asked = replace(asked, order=("without", "minutes", "changes", "moved"))
        mended = mend(asked)
        assert mended.proven or not mended.measures, seed
        spots = answered(asked, mended)
        assert oracle.there_is_room(asked, spots), seed
        found = tuple(each.value for each in mended.measures) or (0, 0, 0, 0)
        assert found == oracle.costs(asked, spots) == oracle.best(asked), seed


def check_accepted(seed: int) -> None:
    """With any of them accepted, each after what it needs, there is room on all ground where nothing is lost."""
    asked = small(seed)
    mended = mend(asked)
    needs = {each.session: set(each.needs) for each in mended.changes}
    intact = replace(asked, lost=())
    for size in range(len(needs) + 1):
        for accepted in map(set, combinations(needs, size)):
            if all(needs[each] <= accepted for each in accepted):
                assert oracle.there_is_room(intact, answered(asked, mended, accepted)), (seed, accepted)


@settings(max_examples=25, deadline=None)
@given(st.integers(100, 9999))
def test_changes_can_be_accepted_one_by_one(seed: int) -> None:
    check_accepted(seed)


@pytest.mark.sweep
@pytest.mark.parametrize("first", range(10_000, 11000, 250))
def test_changes_can_be_accepted_one_by_one_of_many(first: int) -> None:
    for seed in range(first, first + 250):
        check_accepted(seed)


@settings(max_examples=15, deadline=None)
@given(st.integers(100, 9999))
def test_more_ground_never_makes_it_worse(seed: int) -> None:
    asked = small(seed)
    more = replace(asked, grounds=(*asked.grounds, ClubGround("field", 2)))
    before, after = mend(asked), mend(more)
    assert [each.value for each in after.measures] <= [each.value for each in before.measures]


def test_free_ground_first() -> None:
    (change,) = mend(lost(EVENING)).changes
    assert (change.code, change.ground, change.thirds, change.needs) == ("free", "court", 1, ())


def test_another_team_gives_a_third() -> None:
    host = replace(EVENING, key="b", team="B", ground="court", people=("Lou",))
    gives, shares = sorted(mend(lost(EVENING, host)).changes, key=lambda each: each.code)
    assert (gives.session, gives.code, gives.thirds) == ("b", "gives", 1)
    assert (shares.session, shares.code, shares.needs) == ("a", "shares", ("b",))


def test_two_halves_one_after_the_other_where_there_is_room_for_one() -> None:
    host = replace(EVENING, key="b", team="B", ground="court", people=("Lou",), least_thirds=2)
    mended = mend(lost(EVENING, host))
    assert {each.code for each in mended.changes} == {"half"}
    spans = sorted((each.starts, each.ends) for each in mended.changes)
    assert spans == [(1080, 1125), (1125, 1170)]
    assert next(each.needs for each in mended.changes if each.session == "a") == ("b",)


def test_the_time_moves_last_and_only_then_it_is_off() -> None:
    host = replace(EVENING, key="b", team="B", ground="court", people=("Lou",), least_thirds=2)
    movable = replace(EVENING, moves=((1, 1080),))
    assert {each.code for each in mend(lost(movable, host)).changes} == {"half"}
    alone = replace(host, may_share=False)
    assert [each.code for each in mend(lost(movable, alone)).changes] == ["moved"]
    assert [each.code for each in mend(lost(EVENING, alone)).changes] == ["off"]


def test_the_smaller_team_is_off_where_one_has_to_be() -> None:
    large = replace(EVENING, key="b", team="B", people=("Lou",), players=20, least_thirds=2)
    small_ = replace(EVENING, least_thirds=2, grounds=frozenset())
    mended = mend(lost(small_, large))
    assert {each.session: each.code for each in mended.changes} == {"a": "off", "b": "free"}


def test_what_is_booked_twice_is_no_room_for_a_third() -> None:
    """The court is booked for both at once until one ends; after that there is no more than it has."""
    both = replace(EVENING, ground="court", thirds=2, least_thirds=2, may_share=False)
    early = replace(both, key="b", team="B", starts=1020, ends=1095, people=("Lou",), may_share=True)
    late = replace(both, key="c", team="C", starts=1080, ends=1170, people=("Max",))
    asked = lost(replace(EVENING, starts=1020, ends=1110), early, late)
    mended = mend(asked)
    assert [each.code for each in mended.changes] == ["off"]
    assert oracle.there_is_room(asked, answered(asked, mended))


def test_a_month_repeats_and_keeps_to_the_ground() -> None:
    asked = month(1, teams=8, weeks=2)
    mended, again = mend(asked), mend(asked)
    assert replace(mended, seconds=0) == replace(again, seconds=0)
    assert mended.proven
    assert {each.name for each in mended.measures} == OTHERS
    assert oracle.there_is_room(asked, answered(asked, mended))


def test_impossible_requests_are_refused_by_field() -> None:
    with pytest.raises(ValueError, match="thirds"):
        replace(EVENING, thirds=1, least_thirds=2)
    with pytest.raises(ValueError, match="sessions"):
        lost(replace(EVENING, ground="nowhere"))
    with pytest.raises(ValueError, match="order"):
        replace(lost(EVENING), order=("without",))
