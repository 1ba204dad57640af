from itertools import combinations, pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sessions.planning.rotation import next_game, rotate_players, rotate_teams
from sessions.planning.rotation.shuffle import shuffle_teams


def test_three_teams_of_which_two_play() -> None:
    found = rotate_teams(teams=["red", "blue", "yellow"], inside=2, bouts=6)
    assert [len(bout.outside) for bout in found.bouts] == [1] * 6
    assert (found.spread, found.bound, found.proven, found.cycle) == (0, 0, True, 3)
    outside = [bout.outside[0] for bout in found.bouts]
    assert all(a != b for a, b in pairwise(outside))


def test_uneven_bouts_say_what_would_be_even() -> None:
    found = rotate_teams(teams=3, inside=2, bouts=4)
    assert (found.spread, found.bound, found.proven) == (1, 1, True)
    assert found.reasons[-1].text == "It comes out even after 3 rounds."


def test_outside_and_rest_are_shared_too() -> None:
    found = rotate_teams(teams=4, inside=2, outside=1, bouts=12)
    counts = [sum(team in bout.outside for bout in found.bouts) for team in "ABCD"]
    assert max(counts) - min(counts) <= 1
    assert all(len(bout.resting) == 1 for bout in found.bouts)


def test_all_teams_play_by_the_circle_method() -> None:
    found = rotate_teams(teams=6, inside=6, bouts=5)
    games = [frozenset(game) for bout in found.bouts for game in bout.games]
    assert len(set(games)) == 15
    assert found.pairs_spread == 0


def test_two_grids_of_five_teams_meet_evenly() -> None:
    found = rotate_teams(teams=5, inside=4, grids=2, bouts=5)
    assert len({frozenset(game) for bout in found.bouts for game in bout.games}) == 10
    assert found.spread == found.pairs_spread == 0


def test_more_inside_than_there_are_is_answered() -> None:
    found = rotate_teams(teams=2, inside=3, bouts=4)
    assert found.bouts == ()
    assert not found.proven
    assert found.reasons[0].text == "2 teams cannot fill 3 places inside."


def every_spread_of_teams(teams: int, inside: int, bouts: int) -> tuple[int, int]:
    """The most even times inside, then pairs, of all plans there are."""
    blocks = list(combinations(range(teams), inside))
    best = (99, 99)
    for plan in product(blocks[:1], *[blocks] * (bouts - 1)):
        times = [sum(team in block for block in plan) for team in range(teams)]
        pairs = [sum(a in b and c in b for b in plan) for a, c in combinations(range(teams), 2)]
        best = min(best, (max(times) - min(times), max(pairs) - min(pairs)))
    return best


@pytest.mark.parametrize(
    ("teams", "inside", "bouts"),
    [(3, 2, 5), (4, 2, 4), (4, 2, 6), (4, 3, 2), (4, 3, 5), (5, 2, 4), (5, 3, 4), (5, 4, 5)],
)
def test_teams_against_every_plan(teams: int, inside: int, bouts: int) -> None:
    found = rotate_teams(teams=teams, inside=inside, bouts=bouts)
    assert (found.spread, found.pairs_spread) == every_spread_of_teams(teams, inside, bouts)


def test_players_wait_evenly_and_never_twice_running() -> None:
    found = rotate_players(players=14, slots={"red": 4, "blue": 4, "yellow": 4}, bouts=7)
    assert (found.spread, found.bound, found.proven, found.twice_running) == (0, 0, True, 0)
    assert set(found.waited().values()) == {1}
    for bout in found.bouts:
        assert [len(names) for names in bout.roles.values()] == [4, 4, 4]


def test_roles_come_out_even() -> None:
    found = rotate_players(players=12, slots={"inside": 8, "outside": 4}, bouts=6)
    names = {name for bout in found.bouts for _, names in bout.places for name in names}
    assert {sum(bout.role_of(name) == "inside" for bout in found.bouts) for name in names} == {4}


def test_a_keeper_is_exempt_and_limits_are_obeyed() -> None:
    names = [f"p{i}" for i in range(11)]
    found = rotate_players(
        players=names,
        slots={"keeper": 1, "red": 4, "blue": 4},
        bouts=5,
        pinned={"p0": "keeper"},
        only={"p1": ["blue"], **{name: ["red", "blue"] for name in names[2:]}},
    )
    assert {bout.role_of("p0") for bout in found.bouts} == {"keeper"}
    assert {bout.role_of("p1") for bout in found.bouts} <= {"blue", None}
    assert (found.spread, found.proven) == (0, True)


def test_a_role_that_nobody_may_take_is_named() -> None:
    found = rotate_players(
        players=["a", "b", "c"], slots={"in": 2, "out": 1}, bouts=2, only={name: ["in"] for name in "abc"}
    )
    assert found.bouts == ()
    assert found.reasons[0].text == "In round 1 nobody who may do it is left for out."


def test_tight_limits_are_found_however_many_wait() -> None:
    names = [f"p{i:02}" for i in range(20)]
    found = rotate_players(
        players=names,
        slots={"in": 8, "server": 2},
        bouts=4,
        only={**{name: ["in"] for name in names[:18]}, "p18": ["server"], "p19": ["server"]},
    )
    assert [bout.roles["server"] for bout in found.bouts] == [("p18", "p19")] * 4
    # the two servers can never be spared, so waiting is not even and cannot be
    assert found.spread > 0


def test_too_few_players_are_answered() -> None:
    found = rotate_players(players=7, slots={"red": 4, "blue": 4}, bouts=3)
    assert found.bouts == ()
    assert found.reasons[0].text == "7 players are there in round 1; the places need 8."


def test_bouts_already_played_stay_when_somebody_leaves() -> None:
    slots = {"red": 4, "blue": 4}
    before = rotate_players(players=11, slots=slots, bouts=6)
    after = rotate_players(
        players=11, slots=slots, bouts=6, played=before.bouts[:2], presence={"1": (1, 2), "2": (1, 6)}
    )
    assert after.bouts[:2] == before.bouts[:2]
    assert all("1" in bout.away for bout in after.bouts[2:])
    assert all(len(bout.waiting) == 2 for bout in after.bouts[2:])
    assert after.spread < 1.5


def test_a_late_comer_waits_by_his_share() -> None:
    found = rotate_players(players=12, slots={"in": 8}, bouts=6, presence={"12": (4, 6)})
    assert found.waited()["12"] <= 1
    assert found.proven


def every_spread_of_players(players: int, places: int, bouts: int) -> int:
    waits = list(combinations(range(players), players - places))
    return min(
        max(counts) - min(counts)
        for plan in product(waits, repeat=bouts)
        for counts in [[sum(p in who for who in plan) for p in range(players)]]
    )


@pytest.mark.parametrize(
    ("players", "places", "bouts"), [(4, 3, 3), (5, 3, 3), (5, 4, 4), (6, 4, 3), (5, 2, 3)]
)
def test_players_against_every_plan(players: int, places: int, bouts: int) -> None:
    found = rotate_players(players=players, slots={"in": places}, bouts=bouts)
    assert found.spread == found.bound == every_spread_of_players(players, places, bouts)
    assert found.proven


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 5), st.integers(0, 4), st.integers(0, 4), st.integers(1, 7))
def test_any_numbers_are_even_and_whole(red: int, blue: int, waiting: int, bouts: int) -> None:
    players = red + blue + waiting
    found = rotate_players(players=players, slots={"red": red, "blue": blue}, bouts=bouts)
    for bout in found.bouts:
        names = [name for _, names in bout.places for name in names] + list(bout.waiting)
        assert sorted(names) == sorted(str(i + 1) for i in range(players))
    assert found.spread == (1 if bouts * waiting % players else 0)
    assert found.proven
    assert found == rotate_players(players=players, slots={"red": red, "blue": blue}, bouts=bouts)


def test_winner_stays_until_the_cap() -> None:
    first = next_game(("A", "B"), ["C", "D"], "A", cap=2)
    assert (first.playing, first.waiting, first.stayed) == (("A", "C"), ("D", "B"), 2)
    second = next_game(first.playing, first.waiting, "A", stayed=first.stayed, cap=2)
    assert (second.playing, second.waiting, second.stayed) == (("D", "B"), ("C", "A"), 1)
    lone = next_game(("A", "B"), ["C"], "A", stayed=2, cap=2)
    assert (lone.playing, lone.waiting) == (("B", "C"), ("A",))
    draw = next_game(("A", "B"), ["C", "D"], None)
    assert draw.playing == ("C", "D")


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: rotate_teams(teams=0, inside=1, bouts=1), "teams"),
        (lambda: rotate_teams(teams=3, inside=2, bouts=0), "bouts"),
        (lambda: rotate_teams(teams=5, inside=3, grids=2, bouts=1), "grids"),
        (lambda: rotate_players(players=["a", "a"], slots={"in": 1}, bouts=1), "players"),
        (lambda: rotate_players(players=3, slots={"in": -1}, bouts=1), "slots in"),
        (lambda: rotate_players(players=3, slots={"in": 1}, bouts=1, pinned={"9": "in"}), "pinned"),
        (lambda: rotate_players(players=3, slots={"in": 1}, bouts=1, pinned={"1": "out"}), "slots"),
    ],
)
def test_impossible_input_names_its_field(call, field: str) -> None:
    with pytest.raises(ValueError, match=f"^{field}"):
        call()


def test_ten_players_shuffled_repeat_less_than_fixed_teams() -> None:
    found = shuffle_teams(players=10, bouts=6)
    assert found.together_spread < 6
    with pytest.raises(ValueError, match="players"):
        shuffle_teams(players=7, bouts=3)
