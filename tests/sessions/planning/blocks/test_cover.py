"""A coach is away: small evenings against every way, the order in which a club does it, and adults that are always enough."""

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sessions.planning.blocks import (
    CoachAway,
    CoverFound,
    CoverPerson,
    CoverRequest,
    CoverSession,
)
from sessions.planning.supervision import AdultRule
from tests.sessions.planning.blocks import cover_oracle as oracle
from tests.sessions.planning.blocks.cover_cases import small, week
from tests.sessions.planning.blocks.patiently import cover

RULE = AdultRule(8, 1, "club")
ALL_EVENING = ((0, 1000, 1300),)
KIM, LOU, MAX, JO = (CoverPerson(each) for each in ("Kim", "Lou", "Max", "Jo"))
EVENING = CoverSession("a", "A", 9, 0, 1080, 1170, 8, "Kim", ("Kim", "Lou"), RULE, 24)
OTHER = CoverSession("b", "B", 10, 0, 1080, 1170, 8, "Max", ("Max",), RULE, 24)


def away(*people: CoverPerson, sessions: tuple[CoverSession, ...] = (EVENING, OTHER)) -> CoverRequest:
    """Kim is away; the others as they are given."""
    given_ = {each.key: each for each in people}
    all_ = tuple(given_.get(each.key, each) for each in (KIM, LOU, MAX, JO))
    return CoverRequest(sessions, all_, (CoachAway("Kim", 0, 0),))


def answered(request: CoverRequest, found: CoverFound, accepted: set[str] | None = None):
    """What is done with each session, and who is asked beside, with some of the changes or all."""
    ways = {s.key: ("stays", s.lead, "", s.starts, s.ends) for s in request.sessions}
    asked: dict[str, tuple[str, ...]] = {}
    for each in found.changes:
        if accepted is not None and each.key not in accepted:
            continue
        if each.code == "adult":
            asked[each.session] = (*asked.get(each.session, ()), each.person)
        else:
            ways[each.session] = (each.code, each.person, each.host, each.starts, each.ends)
    return ways, asked


@pytest.mark.parametrize("first", range(0, 60, 15))
def test_the_best_cover_is_found_and_proven(first: int) -> None:
    for seed in range(first, first + 15):
        asked = small(seed)
        found = cover(asked)
        assert found.proven or not found.changes, seed
        ways, extra = answered(asked, found)
        assert oracle.holds(asked, ways, extra), seed
        measured = tuple(each.value for each in found.measures)
        assert measured == oracle.costs(asked, ways, extra) == oracle.best(asked), seed


def check_accepted(seed: int) -> None:
    """With any of the changes, each with what it needs; what is hit and not accepted is left out."""
    asked = small(seed)
    found = cover(asked)
    needs = {each.key: set(each.needs) for each in found.changes}
    for size in range(len(needs) + 1):
        for accepted in map(set, combinations(needs, size)):
            if not all(needs[each] <= accepted for each in accepted):
                continue
            ways, extra = answered(asked, found, accepted)
            for s in asked.sessions:
                hit = len(oracle.present(asked, s)) < len(s.staff)
                if hit and s.key not in accepted and all(way[2] != s.key for way in ways.values()):
                    ways[s.key] = ("off", "", "", s.starts, s.ends)
            assert oracle.holds(asked, ways, extra), (seed, accepted)


@settings(max_examples=30, deadline=None)
@given(st.integers(100, 9999))
def test_adults_are_enough_with_any_changes_accepted(seed: int) -> None:
    check_accepted(seed)


@pytest.mark.sweep
@pytest.mark.parametrize("first", range(10_000, 12000, 250))
def test_adults_are_enough_with_any_changes_accepted_of_many(first: int) -> None:
    for seed in range(first, first + 250):
        check_accepted(seed)


@settings(max_examples=15, deadline=None)
@given(st.integers(100, 9999))
def test_one_more_helper_never_makes_it_worse(seed: int) -> None:
    asked = small(seed)
    helper = CoverPerson("one more", may_lead=True, free=((0, 900, 1400),))
    more = replace(asked, people=(*asked.people, helper))
    before, after = cover(asked), cover(more)
    assert [each.value for each in after.measures] <= [each.value for each in before.measures]


def codes(request: CoverRequest) -> list[str]:
    return [each.code for each in cover(request).changes]


def test_in_the_order_in_which_a_club_does_it() -> None:
    leads, joins = replace(LOU, may_lead=True), (EVENING, OTHER)
    neighbour = replace(JO, may_lead=True, free=ALL_EVENING)
    later = replace(JO, may_lead=True, free=((0, 1110, 1300),))
    alone = (EVENING,)
    assert codes(away(leads, neighbour, sessions=joins)) == ["assistant"]
    assert codes(away(neighbour, sessions=joins)) == ["joins"]
    assert codes(away(neighbour, sessions=alone)) == ["neighbour"]
    assert codes(away(later, sessions=alone)) == ["shorter"]
    assert codes(away(sessions=alone)) == ["off"]


def test_an_assistant_alone_with_too_many_needs_an_adult_beside() -> None:
    many = replace(EVENING, players=16, most_players=None)
    found = cover(away(replace(LOU, may_lead=True), replace(JO, free=ALL_EVENING), sessions=(many,)))
    adult, leads = found.changes
    assert (adult.code, adult.person) == ("adult", "Jo")
    assert (leads.code, leads.person, leads.needs) == ("assistant", "Lou", (adult.key,))


def test_nobody_joins_a_team_of_another_age_or_without_room() -> None:
    assert codes(away(sessions=(EVENING, replace(OTHER, under=14)))) == ["off"]
    assert codes(away(sessions=(EVENING, replace(OTHER, most_players=15)))) == ["off"]
    assert codes(away(sessions=(EVENING, replace(OTHER, starts=1110)))) == ["off"]


def test_who_brings_the_adults_joins_first_or_all_join_together() -> None:
    """Two teams join; one of them has no adult left and would be too many without the other's."""
    guests = (
        replace(EVENING, key="a", players=2, staff=("Kim", "Lou")),
        replace(EVENING, key="c", team="C", players=9, staff=("Kim",), starts=1085),
    )
    host = replace(OTHER, players=2, rule=AdultRule(8, 1, "club"))
    found = cover(away(sessions=(*guests, host)))
    needs = {each.session: each.needs for each in found.changes}
    assert {each.code for each in found.changes} == {"joins"}
    assert needs == {"a": ("c",), "c": ("a",)}


def test_a_lead_is_accepted_with_the_team_that_brings_the_second_adult() -> None:
    """A neighbour leads a team that needs two adults; the other adult comes with the team that joins."""
    leads = replace(JO, may_lead=True, free=ALL_EVENING)
    hit = replace(EVENING, staff=("Kim",), rule=AdultRule(None, 2, "club"), players=8)
    joins = replace(OTHER, staff=("Kim", "Max"), lead="Kim", players=4, most_players=6)
    found = cover(away(leads, sessions=(hit, joins)))
    assert {each.session: (each.code, each.needs) for each in found.changes} == {
        "a": ("neighbour", ("b",)),
        "b": ("joins", ("a",)),
    }


def test_a_week_repeats() -> None:
    asked = week(1)
    found, again = cover(asked), cover(asked)
    assert replace(found, seconds=0) == replace(again, seconds=0)
    assert found.proven
    assert oracle.holds(asked, *answered(asked, found))


def test_impossible_requests_are_refused_by_field() -> None:
    with pytest.raises(ValueError, match="lead"):
        replace(EVENING, lead="Max")
    with pytest.raises(ValueError, match="people"):
        CoverRequest((EVENING,), (KIM,), ())
    with pytest.raises(ValueError, match="least_share"):
        replace(away(), least_share=1.5)
