"""Teams and bibs of a set-up."""

import pytest

from drills.game.format import Format
from sessions.planning.teams import teams_of

BIBS = ("red", "blue", "yellow")


def grid_of(text: str, *, bouts: int = 3, resting: int = 0):
    return teams_of([Format.parse(text)], bouts=bouts, bibs=[BIBS], resting=resting)[0]


def test_three_teams_of_four_go_round_evenly():
    grid = grid_of("4v4+4")
    assert [(team.bib, team.players, team.place) for team in grid.teams] == [
        ("red", 4, "inside"),
        ("blue", 4, "inside"),
        ("yellow", 4, "outside"),
    ]
    outside = [bout.outside for bout in grid.rotation.bouts]
    assert outside[0] == ("yellow",)
    assert sorted(outside) == [("blue",), ("red",), ("yellow",)]


def test_a_whole_team_that_rests_goes_round_too():
    grid = grid_of("4v4", resting=4)
    assert [team.place for team in grid.teams] == ["inside", "inside", "resting"]
    assert sorted(bout.resting for bout in grid.rotation.bouts) == [("blue",), ("red",), ("yellow",)]


@pytest.mark.parametrize("text", ["4v4+5", "5v2", "GK+5v5+GK", "12"])
def test_no_table_where_whole_teams_cannot_go_round(text):
    assert grid_of(text).rotation is None


def test_every_grid_wears_its_own_bibs():
    grids = teams_of([Format.parse("4v4+4")] * 2, bouts=2, bibs=[BIBS, ("green", "white", "pink")])
    assert [[team.bib for team in grid.teams] for grid in grids] == [list(BIBS), ["green", "white", "pink"]]


def test_two_teams_of_neutrals_in_one_colour_do_not_go_round():
    grid = grid_of("4v4+8")
    assert [(team.bib, team.players) for team in grid.teams] == [("red", 4), ("blue", 4), ("yellow", 8)]
    assert grid.rotation is None


def test_a_field_that_cannot_be_is_named():
    for bibs in ((), (("red",),)):
        with pytest.raises(ValueError, match="bibs"):
            teams_of([Format.parse("4v4")], bouts=1, bibs=bibs)
