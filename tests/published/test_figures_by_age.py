"""Published figures by age group: each is kept by "under n", whatever it was published for, and the strictest holds."""

from datetime import date

import pytest

from club.actions.guidelines import FIGURES, Figure
from club.ages import Ages
from club.choices import OF_A_PITCH, Rule
from club.queries import holding
from club.validators import players_a_side
from tests.published.registry import guards

HOLDING = "club.queries.figures:holding"
CPSU = "NSPCC Child Protection in Sport Unit, supervision ratios"
NATA = "National Athletic Trainers' Association, statement on sport specialisation, 2019 (second-hand copy)"
FA_HEADING = "The FA, heading guidance for training in youth football, 2020"
FA_ADULTS = "The FA, heading guidance for the adult amateur game, 2021"
FA_PLAYING = "The FA, handbook: maximum playing times for youth football (second-hand copy)"
FA_BALLS = "The FA, ball sizes from June 2020 (second-hand copy)"
FA_FORMATS = "The FA, handbook 2016-17 (second-hand copy)"
FA_2026 = "The FA, youth formats from season 2026-27"
THREES = "England Football Learning, How to play and manage 3v3 games, 2025"

BEFORE, AFTER = date(2025, 9, 1), date(2026, 9, 1)


def held(ages: Ages, match_format: str = "", day: date = AFTER) -> dict[Rule, Figure]:
    on = [each for each in FIGURES if each.valid.lower <= day and (each.valid.upper or date.max) > day]
    return {each.rule: each for each in holding(on, ages, players_a_side(match_format))}


def values(rule: Rule, unders: range, day: date = AFTER) -> list[float | None]:
    found = [held(Ages(under), day=day).get(rule) for under in unders]
    return [None if each is None else each.value for each in found]


@guards(HOLDING, Rule.CHILDREN_PER_ADULT, source=CPSU)
def test_children_for_an_adult() -> None:
    """NSPCC, CPSU, by age in years: 4–8 1:6, 9–12 1:8, 13–18 1:10. A U9 is 8 on the reference date, a U10 is 9."""
    assert values(Rule.CHILDREN_PER_ADULT, range(5, 21)) == [6] * 5 + [8] * 4 + [10] * 6 + [None]
    assert held(Ages(12))[Rule.CHILDREN_PER_ADULT].note == "Published for age 9 to 12 in years"


@guards(HOLDING, Rule.ORGANISED_HOURS_WEEK, Rule.REST_DAYS_WEEK, source=NATA)
def test_hours_a_week_are_the_age_that_is_certain() -> None:
    """NATA 2019: weekly organised hours not above the age in years; at least two days of rest."""
    assert values(Rule.ORGANISED_HOURS_WEEK, range(7, 20)) == list(range(6, 19))
    assert held(Ages(12, years=2))[Rule.ORGANISED_HOURS_WEEK].value == 10
    assert values(Rule.REST_DAYS_WEEK, range(5, 20)) == [2] * 15


@guards(
    HOLDING, Rule.HEADERS_PER_SESSION, Rule.PLAYING_MINUTES_DAY, source=f"{FA_HEADING}; {FA_PLAYING}; {CPSU}"
)
def test_the_strictest_of_the_year_groups_holds_for_cautions() -> None:
    """The FA, heading 2020: U11 none, U12 one session a month and 5, U13 one a week and 5; playing minutes by age."""
    assert held(Ages(12, years=2))[Rule.HEADERS_PER_SESSION].value == 0
    assert held(Ages(13, years=2))[Rule.HEADERS_PER_SESSION].value == 5
    both = held(Ages(13, years=2))
    assert (both[Rule.HEADING_SESSIONS_MONTH].value, both[Rule.HEADING_SESSIONS_WEEK].value) == (1, 1)
    assert held(Ages(13, years=2))[Rule.PLAYING_MINUTES_DAY].value == 80
    assert held(Ages(10, years=2))[Rule.CHILDREN_PER_ADULT].value == 6


@guards(HOLDING, Rule.BALL_SIZE, source=FA_BALLS)
def test_the_ball_goes_by_the_oldest() -> None:
    """The FA, ball sizes from June 2020: U6–U10 3, U11–U14 4, U15 and older 5."""
    assert values(Rule.BALL_SIZE, range(6, 17)) == [3] * 5 + [4] * 4 + [5] * 2
    assert held(Ages(11, years=2))[Rule.BALL_SIZE].value == 4


@guards(HOLDING, Rule.HEADERS_PER_SESSION, Rule.HEADING_SESSIONS_WEEK, source=FA_ADULTS)
def test_adults_have_the_amateur_games_heading_and_nobody_to_look_after_them() -> None:
    """The FA, guidance for the amateur game, 2021: one session a week, ten headers."""
    adults = held(Ages(None), "11v11")
    assert (adults[Rule.HEADERS_PER_SESSION].value, adults[Rule.HEADING_SESSIONS_WEEK].value) == (10, 1)
    assert not {Rule.CHILDREN_PER_ADULT, Rule.LEAST_ADULTS} & adults.keys()
    assert adults[Rule.MATCH_LENGTH_M].value == 100.58


@guards(HOLDING, Rule.PLAYERS_A_SIDE, source=f"{FA_FORMATS}; {FA_2026}")
def test_players_a_side_by_season() -> None:
    """The FA, handbook 2016-17, and its youth formats from 2026-27."""
    assert values(Rule.PLAYERS_A_SIDE, range(7, 15), BEFORE) == [5, 5, 7, 7, 9, 9, 11, 11]
    assert values(Rule.PLAYERS_A_SIDE, range(7, 15), AFTER) == [3, 5, 5, 7, 7, 9, 9, 11]


# The FA, handbook 2016-17 (yards, metres are arithmetic), and 3v3 from 2026-27, in metres.
@guards(HOLDING, Rule.MATCH_LENGTH_M, Rule.MATCH_WIDTH_M, source=f"{FA_FORMATS}; {THREES}")
@pytest.mark.parametrize(
    ("under", "match_format", "size"),
    [
        (7, "3v3", (15, 10)),
        (9, "5v5", (36.58, 27.43)),
        (11, "7v7", (54.86, 36.58)),
        (11, "9v9", (73.15, 45.72)),
        (12, "9v9", (73.15, 45.72)),
        (14, "11v11", (82.30, 50.29)),
        (16, "11v11", (91.44, 54.86)),
        (18, "11v11", (100.58, 64.01)),
    ],
)
def test_a_pitch_follows_the_format_that_is_played(
    under: int, match_format: str, size: tuple[float, float]
) -> None:
    rows = held(Ages(under), match_format)
    assert (rows[Rule.MATCH_LENGTH_M].value, rows[Rule.MATCH_WIDTH_M].value) == size


@guards(HOLDING, Rule.MATCH_LENGTH_MOST_M, Rule.MATCH_WIDTH_MOST_M, source=THREES)
def test_three_a_side_have_a_largest_pitch_from_2026() -> None:
    rows = held(Ages(7), "3v3")
    assert (rows[Rule.MATCH_LENGTH_MOST_M].value, rows[Rule.MATCH_WIDTH_MOST_M].value) == (20, 15)
    assert not set(OF_A_PITCH) & held(Ages(7), "3v3", BEFORE).keys()
    assert not set(OF_A_PITCH) & held(Ages(8), "8v8").keys()
