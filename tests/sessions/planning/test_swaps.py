"""At most two change bibs in a break where whole teams can rotate, and whole teams rotate before single players do."""

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from drills.game.evening import Evening
from drills.game.fit import SetUp
from drills.game.fits import fits
from drills.game.format import Format
from sessions.planning.rotation import PeopleRotation, RotationLimits, TeamPlaces, rotate_people
from sessions.planning.teams import teams_of
from tests.drills.game.test_groups import DEMO
from tests.drills.samples import outside

BIBS = ("red", "blue", "yellow", "green", "orange")


def names(count: int) -> list[str]:
    return [f"p{number:02}" for number in range(1, count + 1)]


def places(*given: tuple[str, int, str]) -> list[TeamPlaces]:
    return [TeamPlaces(*each) for each in given]


def inside(found: PeopleRotation) -> list[list[int]]:
    return [sorted(len(team.names) for team in bout.teams if team.place == "inside") for bout in found.bouts]


def test_a_whole_team_that_rests_goes_round_with_its_bibs_on() -> None:
    teams = places(("red", 4, "inside"), ("blue", 4, "inside"), ("yellow", 4, "resting"))
    found = rotate_people(teams=teams, players=names(12), bouts=6, bout_min=3)
    assert (found.whole_teams, found.changes, found.spread_min, found.proven) == (True, 0, 0, True)
    assert [len(bout.waiting) for bout in found.bouts] == [4] * 6
    assert {each.waiting_min for each in found.shares().values()} == {6.0}
    assert [team.bib for team in found.bouts[0].teams] == ["red", "blue"]


def test_a_team_with_one_too_many_lends_him_to_those_outside() -> None:
    teams = places(("red", 4, "inside"), ("blue", 4, "inside"), ("yellow", 5, "outside"))
    found = rotate_people(teams=teams, players=names(13), bouts=6, bout_min=3)
    assert found.whole_teams
    assert inside(found) == [[4, 4]] * 6
    lent = [name for bout in found.bouts for name, own, _ in bout.loans if own == "yellow"]
    assert len(lent) == len(set(lent)) == 4  # yellow is inside four times of six
    assert max(found.swaps()) <= 2


def test_who_keeps_goal_stays_there_while_the_teams_go_round() -> None:
    teams = places(("red", 4, "inside"), ("blue", 4, "inside"), ("yellow", 4, "outside"))
    found = rotate_people(
        teams=teams,
        players=names(14),
        bouts=3,
        bout_min=3,
        keepers=2,
        tonight=RotationLimits(keepers=("p03", "p09")),
    )
    assert (found.whole_teams, found.changes) == (True, 0)
    assert {bout.place_of("p03") for bout in found.bouts} == {("inside", "keeper")}
    assert set(found.names) == set(names(14))
    turns = rotate_people(teams=teams, players=names(14), bouts=3, bout_min=3, keepers=2)
    assert not turns.whole_teams  # goals that are kept by turns


def test_teams_go_on_as_they_were_when_some_of_it_is_played() -> None:
    teams = places(("red", 4, "inside"), ("blue", 4, "inside"), ("yellow", 4, "outside"))
    before = rotate_people(teams=teams, players=names(12), bouts=6, bout_min=3)
    again = rotate_people(teams=teams, players=names(12), bouts=6, bout_min=3, played=before.bouts[:2])
    assert again == before
    singles = rotate_people(
        teams=teams,
        players=names(12),
        bouts=6,
        bout_min=3,
        tonight=RotationLimits(presence={"p03": (1, 2)}, outside_only=frozenset({"p01"})),
    )
    assert not singles.whole_teams


def test_two_short_teams_against_each_other_borrow_nobody() -> None:
    teams = places(
        ("red", 5, "inside"), ("blue", 5, "inside"), ("yellow", 4, "outside"), ("green", 4, "outside")
    )
    found = rotate_people(teams=teams, players=names(18), bouts=6, bout_min=3)
    assert all(len(set(each)) == 1 for each in inside(found))
    assert [4, 4] in inside(found)
    assert max(found.swaps()) <= 2


SIZES = st.integers(2, 7)


@given(
    SIZES,
    st.lists(st.sampled_from([-1, 0]), max_size=3) | st.lists(st.sampled_from([0, 1]), max_size=3),
    st.integers(1, 12),
    st.integers(0, 2),
)
def test_two_change_bibs_at_most_and_sides_are_alike_in_every_bout(
    size: int, odd: list[int], bouts: int, keepers: int
) -> None:
    teams = places(("red", size, "inside"), ("blue", size, "inside"))
    teams += [TeamPlaces(bib, size + more, "outside") for bib, more in zip(BIBS[2:], odd, strict=False)]
    everybody = names(sum(each.places for each in teams) + keepers)
    tonight = RotationLimits(keepers=tuple(everybody[:keepers]))
    found = rotate_people(
        teams=teams, players=everybody, bouts=bouts, bout_min=3, keepers=keepers, tonight=tonight
    )
    assert found.whole_teams
    assert all(count <= 2 for count in found.swaps())
    assert found.changes == sum(found.swaps())
    for bout, sides in zip(found.bouts, inside(found), strict=True):
        assert len(set(sides[:2])) == 1
        there = Counter(name for team in bout.teams for name in team.names)
        assert there == Counter(everybody)


@given(SIZES, st.integers(1, 3), st.integers(1, 10))
def test_whole_teams_that_rest_never_change_a_bib(size: int, resting: int, bouts: int) -> None:
    teams = places(("red", size, "inside"), ("blue", size, "inside"))
    teams += [TeamPlaces(bib, size, "resting") for bib in BIBS[2 : 2 + resting]]
    everybody = names(size * (2 + resting))
    found = rotate_people(teams=teams, players=everybody, bouts=bouts, bout_min=3)
    assert (found.whole_teams, found.changes) == (True, 0)
    assert found.proven
    for bout in found.bouts:
        assert Counter([*bout.waiting, *(n for team in bout.teams for n in team.names)]) == Counter(everybody)


# --- the demo club's own set-ups ----------------------------------------------------------------------------------


def rotated(formats: list[Format], resting: int, players: int, keepers: int) -> PeopleRotation:
    grids = teams_of(formats, bouts=6, bibs=[BIBS] * len(formats), resting=resting)
    teams = [TeamPlaces(each.bib, each.players, each.place) for grid in grids for each in grid.teams]
    everybody = names(players)
    tonight = RotationLimits(keepers=tuple(everybody[:keepers]))
    return rotate_people(
        teams=teams, players=everybody, bouts=6, bout_min=3, keepers=keepers, tonight=tonight
    )


def can_rotate(setup: SetUp) -> bool:
    """Two equal sides on one grid, and helpers or players who rest that make a team of their own, give or take one."""
    fmt, sides = setup.format, [side.outfield for side in setup.format.sides]
    if setup.grids > 1 or len(sides) != 2 or sides[0] != sides[1] or any(side.outside for side in fmt.sides):
        return False
    helpers = not fmt.neutrals or abs(fmt.neutrals - sides[0]) <= (0 if setup.waiting else 1)
    return helpers and setup.waiting in (0, sides[0])


def test_demo_set_ups_whose_teams_can_rotate_do_so() -> None:
    rotating = Counter[str]()
    for slug, document in {**DEMO, "rope-walk": outside()}.items():
        for players in range(8, 19):
            for setup in fits(document, "", Evening(players, adults=2)).first:
                if not can_rotate(setup):
                    continue
                found = rotated(list(setup.grid_formats), setup.waiting, players, setup.format.keepers)
                assert found.whole_teams, (slug, players, setup.numbers)
                assert max(found.swaps()) <= 2, (slug, players, setup.numbers)
                rotating[slug] += bool(setup.format.neutrals or setup.waiting)
    assert rotating["rope-walk"] >= 6  # 3v3+2, 3v3+3, 4v4+3 … 6v6+6
