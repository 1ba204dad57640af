"""Everybody of one night: teams that go round, loans for uneven threes, single players, minutes and bounds."""

from itertools import combinations, product

import pytest

from sessions.planning.rotation import RotationLimits, TeamPlaces, rotate_people

RED, BLUE, YELLOW = TeamPlaces("red", 4), TeamPlaces("blue", 4), TeamPlaces("yellow", 4, "outside")


def names(count: int) -> list[str]:
    return [f"p{number:02}" for number in range(1, count + 1)]


def test_three_teams_go_round_together() -> None:
    found = rotate_people(teams=[RED, BLUE, YELLOW], players=names(12), bouts=6, bout_min=3)
    assert (found.whole_teams, found.spread_min, found.proven, found.changes, found.cycle) == (
        True,
        0,
        True,
        0,
        3,
    )
    assert [each.place for each in found.bouts[0].teams] == ["inside", "inside", "outside"]
    assert {(each.inside_min, each.outside_min, each.share) for each in found.shares().values()} == {
        (12, 6, 1.0)
    }


def test_uneven_threes_borrow_whoever_was_lent_least() -> None:
    teams = [TeamPlaces("red", 5), TeamPlaces("blue", 5), TeamPlaces("yellow", 4, "outside")]
    found = rotate_people(teams=teams, players=names(14), bouts=6, bout_min=4)
    for bout in found.bouts:
        assert sorted(len(each.names) for each in bout.teams if each.place == "inside") == [5, 5]
        assert [len(each.names) for each in bout.teams if each.place == "outside"] == [4]
    lent = [name for bout in found.bouts for name, _, _ in bout.loans]
    assert len(lent) == len(set(lent)) == 4  # yellow is inside four times of six
    assert (found.spread_min, found.bound_min) == (4, 4)
    assert found.proven


def test_a_late_comer_and_a_leaver_make_single_turns() -> None:
    found = rotate_people(
        teams=[RED, BLUE],
        players=names(11),
        bouts=6,
        bout_min=4,
        tonight=RotationLimits(presence={"p01": (3, 6), "p02": (1, 4)}),
    )
    assert not found.whole_teams
    assert [each.place_of("p01")[0] for each in found.bouts[:2]] == ["away", "away"]
    assert found.proven
    assert found.spread_min == found.bound_min
    assert all(len(each.names) == 4 for bout in found.bouts for each in bout.teams)


def test_limits_of_tonight_are_kept() -> None:
    found = rotate_people(
        teams=[RED, BLUE, YELLOW],
        players=names(14),
        bouts=6,
        bout_min=4,
        keepers=1,
        tonight=RotationLimits(keepers=("p14",), outside_only=frozenset({"p01"}), most_min={"p02": 9}),
    )
    assert {bout.place_of("p14") for bout in found.bouts} == {("inside", "keeper")}
    assert {bout.place_of("p01")[0] for bout in found.bouts} <= {"outside", "waiting"}
    assert [bout.place_of("p02")[0] for bout in found.bouts][2:] == ["away"] * 4


def test_bouts_already_played_stay_when_somebody_leaves() -> None:
    before = rotate_people(teams=[RED, BLUE], players=names(10), bouts=6, bout_min=4)
    after = rotate_people(
        teams=[RED, BLUE],
        players=names(10),
        bouts=6,
        bout_min=4,
        tonight=RotationLimits(presence={"p03": (1, 2)}),
        played=before.bouts[:2],
    )
    assert after.bouts[:2] == before.bouts[:2]
    assert all("p03" in bout.away for bout in after.bouts[2:])


def test_bibs_are_kept_where_there_is_room() -> None:
    found = rotate_people(teams=[RED, BLUE], players=names(9), bouts=9, bout_min=2)
    assert (found.spread_min, found.proven) == (0, True)
    assert found.changes <= 9  # at least one joins the other bib when its own is full


def every_spread(players: int, places: int, bouts: int) -> int:
    waits = list(combinations(range(players), players - places))
    return min(
        max(counts) - min(counts)
        for plan in product(waits, repeat=bouts)
        for counts in [[sum(p in who for who in plan) for p in range(players)]]
    )


@pytest.mark.parametrize(("players", "bouts"), [(5, 3), (6, 3), (5, 4)])
def test_spread_in_minutes_against_every_plan(players: int, bouts: int) -> None:
    teams = [TeamPlaces("red", 2), TeamPlaces("blue", 2)]
    found = rotate_people(teams=teams, players=names(players), bouts=bouts, bout_min=2.5)
    assert found.spread_min == found.bound_min == 2.5 * every_spread(players, 4, bouts)
    assert found.proven


def test_too_few_are_answered_and_strangers_refused() -> None:
    found = rotate_people(teams=[RED, BLUE], players=names(7), bouts=2, bout_min=3)
    assert (found.bouts, found.proven) == ((), False)
    assert found.reasons[0].text == "7 players are there in round 1; the places need 8."
    with pytest.raises(ValueError, match=r"^tonight"):
        rotate_people(
            teams=[RED], players=names(4), bouts=1, bout_min=3, tonight=RotationLimits(keepers=("nobody",))
        )
    with pytest.raises(ValueError, match=r"^place"):
        TeamPlaces("red", 4, "bench")
