"""Area per player against published pitches and games. Published figures leave goalkeepers out unless said."""

import pytest

from drills.game.format import Format
from drills.game.pitches import match_pitch
from drills.game.space import area_per_player, bands_at, first_word, metres

# The FA, handbook 2016-17 (read in a second-hand copy): sizes in yards; metres and areas are arithmetic.
HANDBOOK = [
    (5, 8, 36.58, 27.43, 100.3, 125.4),
    (7, 10, 54.86, 36.58, 143.3, 167.2),
    (9, 12, 73.15, 45.72, 185.8, 209.0),
    (11, 14, 82.30, 50.29, 188.1, 206.9),
    (11, 16, 91.44, 54.86, 228.0, 250.8),
    (11, 18, 100.58, 64.01, 292.6, 321.9),
]


@pytest.mark.parametrize(("a_side", "under", "length_m", "width_m", "all_m2", "outfield_m2"), HANDBOOK)
def test_match_pitches(
    a_side: int, under: int, length_m: float, width_m: float, all_m2: float, outfield_m2: float
) -> None:
    pitch = match_pitch(a_side, under)
    assert (round(pitch.length_m, 2), round(pitch.width_m, 2)) == (length_m, width_m)
    assert round(pitch.area_per_player_m2, 1) == all_m2
    assert round(pitch.area_per_outfield_player_m2, 1) == outfield_m2


def test_the_run_off_of_three_yards_in_metres() -> None:
    # The FA, handbook 2016-17: 3 yd all round.
    assert metres(3) == pytest.approx(2.7432)


def test_a_full_pitch() -> None:
    # Laws of the Game, Law 1: 105 × 68 m lies inside the limits; 22 players. The quotient is arithmetic.
    assert round(area_per_player(105, 68, 22), 1) == 324.5


# Rampinini et al. 2007, J Sports Sci 25(6):659–666. Pitch sizes: values from memory, not verified; m² arithmetic.
RAMPININI = [
    ("3v3", [(12, 20, 40.0), (15, 25, 62.5), (18, 30, 90.0)]),
    ("4v4", [(16, 24, 48.0), (20, 30, 75.0), (24, 36, 108.0)]),
    ("5v5", [(20, 28, 56.0), (25, 35, 87.5), (30, 42, 126.0)]),
    ("6v6", [(24, 32, 64.0), (30, 40, 100.0), (36, 48, 144.0)]),
]


@pytest.mark.parametrize(("text", "pitches"), RAMPININI)
def test_small_sided_games(text: str, pitches: list[tuple[float, float, float]]) -> None:
    inside = Format.parse(text).players_inside
    assert [area_per_player(a, b, inside) for a, b, _ in pitches] == [m2 for _, _, m2 in pitches]


@pytest.mark.parametrize(("size", "m2"), [((62, 44), 272.8), ((50, 35), 175.0), ((32, 23), 73.6)])
def test_keepers_are_left_out_of_the_denominator(size: tuple[float, float], m2: float) -> None:
    # Casamichana & Castellano 2010, J Sports Sci 28(14):1615–1623: about 275, 175 and 75 m² per player in 5v5 with
    # keepers. Pitch sizes: values from memory, not verified. Over all 12 they would be 227.3, 145.8 and 61.3.
    game = Format.parse("GK+5v5+GK")
    assert area_per_player(*size, game.players_inside) == pytest.approx(m2, abs=0.05)


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
