import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.game.document.choices import GoalSize
from drills.game.evening import FixedGoal, Piece
from drills.game.space import ALL_EDGES


def test_typed_lengths_mean_open_edges() -> None:
    piece = Piece("tonight", 40, 30)
    assert piece.edges("open") == ALL_EDGES
    assert piece.edges("fence") == piece.edges("group") == ()
    assert piece.goals == ()


def test_each_edge_says_what_stands_there() -> None:
    piece = Piece("cage", 40, 30, left="fence", right="group", top="fence")
    assert [piece.at(edge) for edge in ("left", "right", "bottom", "top")] == [
        "fence",
        "group",
        "open",
        "fence",
    ]
    assert piece.edges("fence") == ("left", "top")


def test_ends_are_as_long_as_the_width_and_sides_as_the_length() -> None:
    piece = Piece("cage", 40, 30)
    assert [piece.edge_m(edge) for edge in ("left", "right", "bottom", "top")] == [30, 30, 40, 40]
    assert piece.area_m2 == 1200


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"length_m": 0}, "length_m"),
        ({"length_m": math.inf}, "length_m"),
        ({"width_m": -1}, "width_m"),
        ({"width_m": math.nan}, "width_m"),
        ({"left": "hedge"}, "left"),
        ({"right": ""}, "right"),
        ({"bottom": "Fence"}, "bottom"),
        ({"top": None}, "top"),
    ],
)
def test_an_impossible_piece_names_its_field(values: dict[str, Any], field: str) -> None:
    with pytest.raises(ValueError, match=f"^{field}:"):
        Piece(**{"key": "cage", "length_m": 40, "width_m": 30, **values})


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"edge": "free"}, "edge"),
        ({"along": -0.01}, "along"),
        ({"along": 1.01}, "along"),
        ({"along": math.nan}, "along"),
        ({"size": "huge"}, "size"),
    ],
)
def test_an_impossible_goal_names_its_field(values: dict[str, Any], field: str) -> None:
    with pytest.raises(ValueError, match=f"^{field}:"):
        FixedGoal(**{"edge": "left", "along": 0.5, "size": GoalSize.FULL, **values})


def test_equal_pieces_are_one_key_of_a_cache() -> None:
    goal = FixedGoal("left", 0.5, GoalSize.AGE_GROUP)
    one, other = (Piece("cage", 40, 30, left="fence", goals=(goal,)) for _ in range(2))
    assert {one: 1}[other] == 1


def test_a_piece_is_cut_across_its_longer_side_with_a_group_beyond_each_cut() -> None:
    goals = (
        FixedGoal("left", 0.3, GoalSize.FULL),
        FixedGoal("right", 0.5, GoalSize.MINI),
        FixedGoal("top", 0.75, GoalSize.SMALL),
    )
    whole = Piece("cage", 60, 30, left="fence", right="fence", bottom="open", top="fence", goals=goals)
    first, middle, last = whole.cut(3)
    assert first == Piece("cage", 20, 30, left="fence", right="group", top="fence", goals=goals[:1])
    assert middle == Piece("cage", 20, 30, left="group", right="group", top="fence")
    assert last.goals == (goals[1], FixedGoal("top", 0.25, GoalSize.SMALL))
    assert whole.cut(1) == (whole,)
    with pytest.raises(ValueError, match=r"^parts:"):
        whole.cut(0)


def test_a_wide_piece_is_cut_across_its_width() -> None:
    near, far = Piece("field", 50, 80, bottom="fence", goals=(FixedGoal("left", 0.5, GoalSize.FULL),)).cut(2)
    assert (near.length_m, near.width_m, near.bottom, near.top) == (50, 40, "fence", "group")
    assert (far.width_m, far.bottom, far.top, far.left) == (40, "group", "open", "open")
    # A goal right on the cut stands at the corner of the share before it.
    assert (near.goals, far.goals) == ((FixedGoal("left", 1.0, GoalSize.FULL),), ())


@given(
    st.sampled_from(ALL_EDGES),
    st.floats(0, 1),
    st.integers(1, 6),
    st.tuples(st.floats(1, 130), st.floats(1, 130)),
)
def test_no_ground_and_no_goal_is_lost_by_cutting(
    edge: Any, along: float, parts: int, sides: tuple[float, float]
) -> None:
    whole = Piece("field", *sides, goals=(FixedGoal(edge, along, GoalSize.FULL),))
    shares = whole.cut(parts)
    assert sum(each.area_m2 for each in shares) == pytest.approx(whole.area_m2)
    ((number, goal),) = [(n, goal) for n, each in enumerate(shares) for goal in each.goals]
    moved = shares[0].edge_m(edge) != whole.edge_m(edge)
    share_m = shares[0].edge_m(edge)
    stands_m = goal.along * share_m + (number * share_m if moved else 0)
    assert stands_m == pytest.approx(along * whole.edge_m(edge), abs=1e-6)
