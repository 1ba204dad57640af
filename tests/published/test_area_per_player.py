"""Area per player against published pitches and games. Published figures leave goalkeepers out unless said."""

import pytest

from drills.game.document.choices import GoalSize
from drills.game.evening import PlayerAges
from drills.game.format import Format
from drills.game.margins import RUN_OFF_WISHED_M
from drills.game.pitches import (
    LARGEST_OF_THREE_M2,
    goal_of,
    match_area_per_player_m2,
    match_pitch,
    usual_a_side,
)
from drills.game.places import GOAL_WIDTHS_M
from drills.game.space import LONGEST_M, area_per_player, metres
from drills.game.validate import LONGEST_GRID_M, WIDEST_GRID_M
from tests.published.registry import guards

FA_HANDBOOK = "The FA, handbook 2016-17 (second-hand copy); metres and areas are arithmetic"
FA_2026 = "The FA, youth formats from season 2026-27 (second-hand)"
THREES = "England Football Learning, How to play and manage 3v3 games, 2025"
LAW_1 = "Laws of the Game, Law 1"
PITCHES = "drills.game.pitches:MATCH_PITCHES"
AREA = "drills.game.space:area_per_player"

# Players a side and under n; metres of the pitch; m² for each player, keepers among them, and without them; goal in feet.
HANDBOOK = [
    (5, 8, 36.58, 27.43, 100.3, 125.4, (12, 6)),
    (7, 10, 54.86, 36.58, 143.3, 167.2, (12, 6)),
    (9, 12, 73.15, 45.72, 185.8, 209.0, (16, 7)),
    (11, 14, 82.30, 50.29, 188.1, 206.9, (21, 7)),
    (11, 16, 91.44, 54.86, 228.0, 250.8, (24, 8)),
    (11, 18, 100.58, 64.01, 292.6, 321.9, (24, 8)),
]


@guards(PITCHES, "drills.game.pitches:match_area_per_player_m2", source=FA_HANDBOOK)
@pytest.mark.parametrize(
    ("a_side", "under", "length_m", "width_m", "all_m2", "outfield_m2"), [row[:-1] for row in HANDBOOK]
)
def test_match_pitches(
    a_side: int, under: int, length_m: float, width_m: float, all_m2: float, outfield_m2: float
) -> None:
    pitch = match_pitch(a_side, under)
    assert (round(pitch.length_m, 2), round(pitch.width_m, 2)) == (length_m, width_m)
    assert round(pitch.area_per_player_m2, 1) == all_m2
    assert round(pitch.area_per_outfield_player_m2, 1) == outfield_m2
    if a_side < 11 or under == 14:  # among 11 a side Fit goes by the youngest
        assert round(match_area_per_player_m2(a_side), 1) == all_m2


@guards("drills.game.pitches:goal_of", PITCHES, source=FA_HANDBOOK)
@pytest.mark.parametrize(("a_side", "under", "goal"), [(row[0], row[1], row[-1]) for row in HANDBOOK])
def test_goals_of_a_match(a_side: int, under: int, goal: tuple[float, float]) -> None:
    frame = goal_of(PlayerAges(under, under, under - 1, a_side))
    assert (frame.wide_ft, frame.high_ft) == goal


@guards(PITCHES, "drills.game.pitches:LARGEST_OF_THREE_M2", "drills.game.pitches:goal_of", source=THREES)
def test_three_a_side() -> None:
    """15 × 10 m, at most 20 × 15 m; goals of 4 × 2.5 ft; no goalkeepers."""
    pitch, goal = match_pitch(3), goal_of(PlayerAges(7, 7, 6, 3))
    assert (pitch.length_m, pitch.width_m, pitch.keepers, LARGEST_OF_THREE_M2) == (15, 10, 0, 20 * 15)
    assert (goal.wide_ft, goal.high_ft) == (4, 2.5)


@guards("drills.game.pitches:usual_a_side", "drills.game.pitches:_USUAL_A_SIDE", source=FA_2026)
def test_the_usual_format_of_an_age() -> None:
    """U7 3v3, U8–9 5v5, U10–11 7v7, U12–13 9v9, U14 and older 11v11."""
    assert [usual_a_side(under) for under in range(7, 16)] == [3, 5, 5, 7, 7, 9, 9, 11, 11]


@guards("drills.game.places.described:GOAL_WIDTHS_M", "drills.game.pitches:goal_of", source=LAW_1)
def test_a_full_goal() -> None:
    """7.32 × 2.44 m, which is 24 × 8 ft; an age group's own, where nobody said which, is that of nine a side (16 ft)."""
    goal = goal_of(PlayerAges(19, None, 18))
    assert (goal.wide_m, goal.high_m) == (7.32, 2.44)
    assert GOAL_WIDTHS_M[GoalSize.FULL] == goal.wide_m
    assert GOAL_WIDTHS_M[GoalSize.AGE_GROUP] == goal_of(PlayerAges(12, 12, 11, 9)).wide_m


@guards(
    "drills.game.margins:RUN_OFF_WISHED_M",
    source="The FA, handbook 2016-17 (second-hand copy): 3 yd all round",
)
def test_the_run_off_that_is_wished_is_no_less_than_three_yards() -> None:
    assert metres(3) == pytest.approx(2.7432)
    assert metres(3) <= RUN_OFF_WISHED_M


@guards(
    "drills.game.validate:LONGEST_GRID_M",
    "drills.game.validate:WIDEST_GRID_M",
    "drills.game.space:LONGEST_M",
    source=LAW_1,
)
def test_no_grid_is_larger_than_a_pitch_may_be() -> None:
    """Touchline at most 120 m, goal line at most 90 m; ground with the run-off of both ends is no longer than 130 m."""
    assert (LONGEST_GRID_M, WIDEST_GRID_M) == (120, 90)
    assert LONGEST_GRID_M + 2 * metres(3) <= LONGEST_M


@guards("drills.game.space:METRES_PER_YARD", source="International yard, 1959: 0.9144 m exactly")
def test_a_yard() -> None:
    assert metres(100) == pytest.approx(91.44)


@guards(AREA, source=f"{LAW_1}; the quotient is arithmetic")
def test_a_full_pitch() -> None:
    """105 × 68 m lies inside the limits; 22 players."""
    assert round(area_per_player(105, 68, 22), 1) == 324.5


# Rampinini et al. 2007, J Sports Sci 25(6):659–666. Pitch sizes: values from memory, not verified; m² arithmetic.
RAMPININI = [
    ("3v3", [(12, 20, 40.0), (15, 25, 62.5), (18, 30, 90.0)]),
    ("4v4", [(16, 24, 48.0), (20, 30, 75.0), (24, 36, 108.0)]),
    ("5v5", [(20, 28, 56.0), (25, 35, 87.5), (30, 42, 126.0)]),
    ("6v6", [(24, 32, 64.0), (30, 40, 100.0), (36, 48, 144.0)]),
]


@guards(
    AREA,
    "drills.game.format:Format",
    source="Rampinini et al. 2007, J Sports Sci 25(6):659–666 (pitch sizes from memory, not verified; m² arithmetic)",
)
@pytest.mark.parametrize(("text", "pitches"), RAMPININI)
def test_small_sided_games(text: str, pitches: list[tuple[float, float, float]]) -> None:
    inside = Format.parse(text).players_inside
    assert [area_per_player(a, b, inside) for a, b, _ in pitches] == [m2 for _, _, m2 in pitches]


@guards(
    AREA,
    "drills.game.format:Format",
    source="Casamichana & Castellano 2010, J Sports Sci 28(14):1615–1623 (pitch sizes from memory, not verified)",
)
@pytest.mark.parametrize(("size", "m2"), [((62, 44), 272.8), ((50, 35), 175.0), ((32, 23), 73.6)])
def test_keepers_are_left_out_of_the_denominator(size: tuple[float, float], m2: float) -> None:
    # Casamichana & Castellano 2010, J Sports Sci 28(14):1615–1623: about 275, 175 and 75 m² per player in 5v5 with
    # keepers. Pitch sizes: values from memory, not verified. Over all 12 they would be 227.3, 145.8 and 61.3.
    game = Format.parse("GK+5v5+GK")
    assert area_per_player(*size, game.players_inside) == pytest.approx(m2, abs=0.05)
