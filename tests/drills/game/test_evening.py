import math
from typing import Any

import pytest

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
