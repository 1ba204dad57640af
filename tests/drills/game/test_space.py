import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.game.format import Format
from drills.game.pitches import match_pitch
from drills.game.space import (
    SHAPE_MOST,
    SHAPE_WEIGHT,
    area_per_player,
    bands_at,
    first_word,
    grid_off,
    metres,
    nearest_grid,
    paces,
    same_feel,
    yards,
)


def test_area_per_player_is_area_shared_out() -> None:
    assert area_per_player(25, 20, 8) == 62.5


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ((0, 20, 8), "length_m"),
        ((25, -1, 8), "width_m"),
        ((25, 20, 0), "players"),
        ((math.nan, 20, 8), "length_m"),
    ],
)
def test_impossible_sizes_name_the_field(values: tuple[float, float, int], field: str) -> None:
    with pytest.raises(ValueError, match=field):
        area_per_player(*values)


def test_a_yard_is_exact() -> None:
    assert metres(100) == 91.44
    assert yards(91.44) == 100


def test_paces_are_whole_and_nearest() -> None:
    assert paces(25, 1.0) == 25
    assert paces(25, 0.8) == 31
    assert paces(20, 0.75) == 27
    with pytest.raises(ValueError, match="pace_m"):
        paces(25, 0)


@pytest.mark.parametrize(
    ("for_players", "length_m", "width_m"),
    [(8, 25, 20), (10, 28, 22), (6, 22, 17), (12, 30, 25), (16, 36, 28)],
)
def test_the_same_feel_for_other_numbers(for_players: int, length_m: float, width_m: float) -> None:
    grid = same_feel(25, 20, 8, for_players)
    assert (grid.length_m, grid.width_m) == (length_m, width_m)
    assert area_per_player(grid.length_m, grid.width_m, for_players) == pytest.approx(62.5, rel=0.03)


def test_a_squeezed_grid_uses_the_room_there_is() -> None:
    grid = nearest_grid(625, 1.25, 28, 18)
    assert grid is not None
    assert (grid.length_m, grid.width_m) == (28, 18)


def test_a_corridor_is_not_the_same_game() -> None:
    corridor = nearest_grid(500, 1.25, 60, 5)
    assert corridor is not None
    assert (corridor.length_m, corridor.width_m) == (15, 5)
    assert nearest_grid(500, 1.25, 60, 0.9) is None


def brute_force(area_m2: float, ratio: float, most_length: int, most_width: int) -> float | None:
    offs = [
        area_off + SHAPE_WEIGHT * shape_off
        for length in range(1, most_length + 1)
        for width in range(1, most_width + 1)
        for area_off, shape_off in [grid_off(length, width, area_m2, ratio)]
        if shape_off <= math.log(SHAPE_MOST)
    ]
    return min(offs, default=None)


@settings(max_examples=60, deadline=None)
@given(st.integers(12, 1500), st.floats(0.4, 3.0), st.integers(1, 60), st.integers(1, 60))
def test_the_nearest_grid_is_the_nearest_of_all(
    area_m2: int, ratio: float, most_length: int, most_width: int
) -> None:
    grid = nearest_grid(float(area_m2), ratio, most_length, most_width)
    nearest = brute_force(float(area_m2), ratio, most_length, most_width)
    if nearest is None:
        assert grid is None
    else:
        assert grid is not None
        assert grid.off == pytest.approx(nearest)
        assert (grid.length_m <= most_length, grid.width_m <= most_width) == (True, True)


@given(st.integers(12, 1500), st.floats(0.4, 3.0), st.integers(2, 60), st.integers(2, 60))
def test_more_room_never_gives_a_worse_grid(area_m2: int, ratio: float, length: int, width: int) -> None:
    small = nearest_grid(float(area_m2), ratio, length, width)
    large = nearest_grid(float(area_m2), ratio, length + 1, width)
    assert small is None or (large is not None and large.off <= small.off + 1e-12)


def test_a_first_word_needs_a_positive_match_area() -> None:
    with pytest.raises(ValueError, match="match_area_per_outfield_player_m2"):
        first_word(60, 0)


def test_bands_keep_games_with_and_without_keepers_apart() -> None:
    keys = {(band.key, band.with_keepers) for band in bands_at(187, with_keepers=True)}
    assert keys == {
        ("total distance as in a match", True),
        ("metabolic power as in a match", True),
    }
    assert {band.population for band in bands_at(187, with_keepers=True)} == {
        "adults, elite; mean ± one standard deviation"
    }
    assert bands_at(20, with_keepers=False) == ()


@pytest.mark.parametrize(
    ("size", "m2", "word"),
    [((25, 20), 62.5, "tight"), ((30, 25), 93.75, "medium"), ((35, 30), 131.25, "wide")],
)
def test_three_sizes_of_a_possession_game_for_u12(size: tuple[float, float], m2: float, word: str) -> None:
    # The three sizes and the words' limits (35 % and 60 %) are common practice, no source; U12 match area 209 m²
    # per outfield player follows from The FA, handbook 2016-17.
    area = area_per_player(*size, Format.parse("4v4+4").players_inside)
    assert area == m2
    assert first_word(area, match_pitch(9).area_per_outfield_player_m2) == word


def test_published_bands() -> None:
    # Fradua et al. 2013, J Sports Sci 31(6):573–581: 65–110 m² for tactical games.
    assert bands_at(65, with_keepers=False)[0].key == "tactical games"
    assert "tactical games" not in [b.key for b in bands_at(64.9, with_keepers=False)]
    # Riboli et al. 2020, PLoS ONE 15(9):e0229194: 187 ± 53 m² with keepers, 115 ± 35 without.
    for with_keepers, low, high in [(True, 134, 240), (False, 80, 150)]:
        for inside, outside in [(low, low - 0.1), (high, high + 0.1)]:
            assert "total distance as in a match" in [
                b.key for b in bands_at(inside, with_keepers=with_keepers)
            ]
            assert "total distance as in a match" not in [
                b.key for b in bands_at(outside, with_keepers=with_keepers)
            ]
