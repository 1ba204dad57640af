"""What a drill's players, goals and waiting line take of the ground around its grids."""

from typing import Any

import pytest

from drills.game.document import DrillDocument
from drills.game.variations import played
from sessions.planning.layout import GridToLay, grids_of
from tests.bibrack.demo.documents import SLUGS, demo_document


def goals_at(edge: str, size: str) -> DrillDocument:
    """A demo drill that shoots at one goal of this size."""
    for slug in SLUGS:
        document = demo_document(slug)
        if [(each.edge, each.size) for each in document.goals] == [(edge, size)]:
            return document
    raise LookupError(f"no demo drill with one {size} goal at the {edge}")


def laid(document: DrillDocument, sizes: Any = (("4v4", 20.0, 15.0),), **given: Any) -> list[GridToLay]:
    return grids_of(document, sizes, **{"key": "2", "waiting": False, "under": None, **given})


@pytest.mark.parametrize(
    ("size", "under", "metres"),
    [("age group", None, 15), ("age group", 10, 5), ("age group", 11, 15), ("small", 17, 5)],
)
def test_what_is_clear_behind_a_goal_goes_by_its_size_and_the_age(
    size: str, under: int | None, metres: float
) -> None:
    assert laid(goals_at("right", size), under=under)[0].shot_at == (("right", metres),)


def test_of_several_goals_at_an_edge_the_largest_counts_and_mini_goals_are_shot_at_too() -> None:
    found = {grid.shot_at for slug in SLUGS for grid in laid(demo_document(slug))}
    assert (("left", 5.0), ("right", 15.0)) in found
    assert () in found


def test_a_line_waits_at_the_first_edge_without_a_goal() -> None:
    assert laid(goals_at("right", "age group"), waiting=True)[0].waits_m == (("left", 3.0),)
    both = next(
        each for each in map(demo_document, SLUGS) if {goal.edge for goal in each.goals} == {"left", "right"}
    )
    assert laid(both, waiting=True)[0].waits_m == (("bottom", 3.0),)
    assert laid(both)[0].waits_m == ()


def test_outside_players_take_a_metre_at_their_edges_and_only_where_there_are_some() -> None:
    document = next(
        played(document, each.key)
        for document in map(demo_document, SLUGS)
        for each in document.variations
        if not document.goals
    )
    grid, other = laid(document, (("4v4+4", 20.0, 15.0), ("4v4", 20.0, 15.0)))
    assert {depth for _, depth in grid.strips_m} == {1.0}
    assert (grid.key, other.key, other.strips_m) == ("2.1", "2.2", ())
