import pytest

from drills.game.design import Design
from drills.game.format import Format


def design(text: str, length_m: float = 25, width_m: float = 20, **facts: object) -> Design:
    return Design(Format.parse(text), length_m, width_m, **facts)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "least"), [("4v4+4", 6), ("5v2", 4), ("3v2", 3), ("1v1", 2), ("1", 1), ("12", 6)]
)
def test_half_the_players_are_the_least_unless_said(text: str, least: int) -> None:
    assert design(text).least_players == least
    assert design("4v4+4", min_players=9).least_players == 9


def test_a_game_counts_those_inside_and_a_rondo_everyone() -> None:
    assert design("4v4+4").area_per_player_m2 == 62.5
    assert design("4v2+2", 12, 12, counts_everyone=True).area_per_player_m2 == 18
    assert design("4v2+2", 12, 12).area_per_player_m2 == 24
    assert design("GK+5v5+GK", 40, 30).area_per_player_m2 == 120


def test_queues_and_patterns_have_no_area_per_player() -> None:
    pattern = design("12", 40, 30, area_matters=False)
    assert pattern.area_per_player_m2 is None
    assert pattern.wished_area_m2(Format.parse("8")) == 1200


def test_outside_players_stand_all_round_unless_said() -> None:
    assert design("4v4+4").edges(Format.parse("5v5+5")) == ("left", "right", "top", "bottom")
    assert design("4v4+4", outside_sides=("top", "bottom")).edges(Format.parse("5v5+5")) == ("top", "bottom")
    assert design("4v4+4").edges(Format.parse("6v6")) == ()


@pytest.mark.parametrize(
    ("facts", "field"),
    [
        ({"length_m": 0}, "length_m"),
        ({"planned_waiting": 1.0}, "planned_waiting"),
        ({"min_players": 0}, "min_players"),
        ({"min_players": 8, "max_players": 7}, "max_players"),
        ({"adults_needed": -1}, "adults_needed"),
        ({"under_from": 12, "under_to": 9}, "under_from"),
        ({"kit": {"cone": -1}}, "kit"),
        ({"kit_per_player": {"ball": -1}}, "kit_per_player"),
    ],
)
def test_impossible_facts_name_the_field(facts: dict[str, object], field: str) -> None:
    with pytest.raises(ValueError, match=field):
        design("4v4+4", **facts)  # type: ignore[arg-type]
