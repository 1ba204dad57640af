"""Pairs kept together or apart, against every way there is on small evenings."""

from itertools import combinations, permutations, product
from typing import Any

import pytest

from sessions.planning.rotation import PeopleRotation, RotationLimits, TeamPlaces, rotate_people
from sessions.planning.rotation.seating import Seating, smallest_clash

Pairs = tuple[tuple[str, str], ...]
NAMES = [f"p{number}" for number in range(1, 7)]
TEAMS = [TeamPlaces("red", 2), TeamPlaces("blue", 2)]
WITH_OUTSIDE = [TeamPlaces("red", 2), TeamPlaces("blue", 1), TeamPlaces("yellow", 1, "outside")]


def seatings(teams: list[TeamPlaces], playing: tuple[str, ...]) -> set[tuple[str, ...]]:
    bibs = [each.bib for each in teams for _ in range(each.places)]
    return set(permutations(bibs, len(playing)))


def keeps(playing: tuple[str, ...], bibs: tuple[str, ...], together: Pairs, apart: Pairs) -> bool:
    of = dict(zip(playing, bibs, strict=True))
    return all(of[a] == of[b] for a, b in together if a in of and b in of) and all(
        of[a] != of[b] for a, b in apart if a in of and b in of
    )


def fewest_apart(teams: list[TeamPlaces], names: list[str], bouts: int, together: Pairs, apart: Pairs) -> Any:
    """The least spread of waiting over every plan that keeps the pairs; None where there is no such plan."""
    sets = [
        playing
        for playing in combinations(names, sum(each.places for each in teams))
        if any(keeps(playing, bibs, together, apart) for bibs in seatings(teams, playing))
    ]
    spreads = [
        max(waits) - min(waits)
        for plan in product(sets, repeat=bouts)
        for waits in [[sum(name not in playing for playing in plan) for name in names]]
    ]
    return min(spreads, default=None)


def check(found: PeopleRotation, together: Pairs, apart: Pairs) -> None:
    for bout in found.bouts:
        of = {name: team.bib for team in bout.teams for name in team.names}
        assert keeps(tuple(of), tuple(of.values()), together, apart)


def choices(names: list[str]) -> list[tuple[Pairs, Pairs]]:
    a, b, c, d = names[:4]
    return [
        (((a, b),), ()),
        ((), ((a, b), (b, c), (a, c))),
        (((a, b), (b, c)), ()),
        (((a, b),), ((a, b),)),
        (((a, b), (c, d)), ((a, c),)),
        (((a, b),), ((a, c), (b, d), (c, d))),
    ]


@pytest.mark.parametrize("teams", [TEAMS, WITH_OUTSIDE], ids=["two sides", "one outside"])
@pytest.mark.parametrize(("count", "bouts"), [(4, 2), (5, 3), (6, 2)])
@pytest.mark.parametrize("which", range(6))
def test_pairs_against_every_plan(teams: list[TeamPlaces], count: int, bouts: int, which: int) -> None:
    names = NAMES[:count]
    together, apart = choices(names)[which]
    best = fewest_apart(teams, names, bouts, together, apart)
    tonight = RotationLimits(together=together, apart=apart)
    found = rotate_people(teams=teams, players=names, bouts=bouts, bout_min=1, tonight=tonight)
    if best is None:
        assert (found.bouts, found.reasons[0].code) == ((), "pairs_impossible")
    else:
        check(found, together, apart)
        assert len(found.bouts) == bouts
        assert found.spread_min == best
        assert not found.proven or found.bound_min == best


def test_whole_teams_stay_whole_with_pairs_and_the_clash_is_the_smallest() -> None:
    teams = [TeamPlaces("red", 4), TeamPlaces("blue", 4), TeamPlaces("yellow", 4, "outside")]
    names = [f"p{number:02}" for number in range(1, 13)]
    pairs = RotationLimits(together=(("p01", "p02"), ("p02", "p03")), apart=(("p04", "p07"),))
    found = rotate_people(teams=teams, players=names, bouts=6, bout_min=3, tonight=pairs)
    assert (found.whole_teams, found.changes) == (True, 0)
    check(found, pairs.together, pairs.apart)
    clash = RotationLimits(together=(("p01", "p02"), ("p05", "p06"), ("p02", "p03")), apart=(("p01", "p03"),))
    why = rotate_people(teams=teams, players=names, bouts=6, bout_min=3, tonight=clash).reasons[0]
    assert dict(why.values) == {"bout": 1, "pairs": 3, "together": "p01 p02,p02 p03", "apart": "p01 p03"}
    with pytest.raises(ValueError, match=r"^tonight"):
        rotate_people(
            teams=teams, players=names, bouts=1, bout_min=3, tonight=RotationLimits(apart=(("p01", "p01"),))
        )


def test_a_pair_that_is_wished_both_ways_is_told_apart() -> None:
    """Only the wish that clashes is named, also where another one names the same two."""
    ab, bc = ("a", "b"), ("b", "c")
    seating = Seating((TeamPlaces("red", 2), TeamPlaces("blue", 1)), together=(ab, bc), apart=(ab,))

    def feasible(tried: Seating) -> bool:
        return not {ab, bc} <= set(tried.together)

    clash = smallest_clash(seating, feasible)
    assert clash is not None
    assert (clash.together, clash.apart) == ((ab, bc), ())
    assert smallest_clash(seating, lambda _tried: False) is None
