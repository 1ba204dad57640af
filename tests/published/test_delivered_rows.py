"""Every guideline row that the app is delivered with, against the tables as they were published: no more, no fewer, no other value."""

from collections.abc import Iterable
from datetime import date

from club.actions.guidelines import FIGURES
from club.ages import LEAST_UNDER, OLDEST
from club.choices import Rule
from drills.game.pitches import MATCH_PITCHES
from tests.published.registry import guards
from tests.published.test_figures_by_age import (
    AFTER,
    BEFORE,
    CPSU,
    FA_2026,
    FA_ADULTS,
    FA_BALLS,
    FA_FORMATS,
    FA_HEADING,
    FA_PLAYING,
    NATA,
    THREES,
)

ROWS = "club.actions.guidelines:FIGURES"
Bands = Iterable[tuple[int, int, float]]


def delivered(rule: Rule, day: date = AFTER) -> dict[tuple[int, int | None], float]:
    """What the rows say of each "under n" (and format) on a day."""
    found: dict[tuple[int, int | None], float] = {}
    for row in FIGURES:
        if row.rule == rule and row.valid.lower <= day and (row.valid.upper or date.max) > day:
            for under in range(row.under_low, row.under_high + 1):
                assert (under, row.a_side) not in found, "said twice"
                found[under, row.a_side] = row.value
    return found


def published(bands: Bands, a_side: int | None = None) -> dict[tuple[int, int | None], float]:
    """A published table by "under n", from and to."""
    return {(under, a_side): value for low, high, value in bands for under in range(low, high + 1)}


def by_years(bands: Bands) -> dict[tuple[int, int | None], float]:
    """A table that was published by age in years: who is so old plays under one more."""
    return published((low + 1, high + 1, value) for low, high, value in bands)


@guards(
    ROWS,
    Rule.HEADERS_PER_SESSION,
    Rule.HEADING_SESSIONS_MONTH,
    Rule.HEADING_SESSIONS_WEEK,
    source=f"{FA_HEADING}; {FA_ADULTS}; U18 by the later chart",
)
def test_heading() -> None:
    """U11 and younger none; U12 one session a month, U13 one a week, at most 5; U14 and older one a week, at most 10."""
    assert delivered(Rule.HEADERS_PER_SESSION) == published(
        [(LEAST_UNDER, 11, 0), (12, 13, 5), (14, OLDEST, 10)]
    )
    assert delivered(Rule.HEADING_SESSIONS_MONTH) == published([(LEAST_UNDER, 11, 0), (12, 12, 1)])
    assert delivered(Rule.HEADING_SESSIONS_WEEK) == published([(13, OLDEST, 1)])
    adults = {row.source for row in FIGURES if "head" in row.rule and row.under_low == 19}
    assert adults == {FA_ADULTS}


@guards(
    ROWS,
    Rule.PLAYING_MINUTES_HALF,
    Rule.PLAYING_MINUTES_DAY,
    Rule.PLAYING_MINUTES_TOURNAMENT,
    source=FA_PLAYING,
)
def test_playing_minutes() -> None:
    """Half, day, tournament day, which is half as much again as a day."""
    ages = [(7, 8), (9, 10), (11, 12), (13, 14), (15, 16), (17, 18)]

    def of(*values: float) -> dict[tuple[int, int | None], float]:
        return published((low, high, value) for (low, high), value in zip(ages, values, strict=True))

    assert delivered(Rule.PLAYING_MINUTES_HALF) == of(20, 25, 30, 35, 40, 45)
    day = delivered(Rule.PLAYING_MINUTES_DAY)
    assert day == of(40, 60, 80, 100, 100, 120)
    assert delivered(Rule.PLAYING_MINUTES_TOURNAMENT) == {at: 1.5 * minutes for at, minutes in day.items()}


@guards(ROWS, Rule.PLAYERS_A_SIDE, source=f"{FA_FORMATS}; {FA_2026}")
def test_players_a_side() -> None:
    before = [(7, 8, 5), (9, 10, 7), (11, 12, 9), (13, OLDEST, 11)]
    after = [(7, 7, 3), (8, 9, 5), (10, 11, 7), (12, 13, 9), (14, OLDEST, 11)]
    assert delivered(Rule.PLAYERS_A_SIDE, BEFORE) == published(before)
    assert delivered(Rule.PLAYERS_A_SIDE, AFTER) == published(after)


# Players a side, from and to under n, length and width in yards.
YARDS = [
    (5, LEAST_UNDER, OLDEST, 40, 30),
    (7, LEAST_UNDER, OLDEST, 60, 40),
    (9, LEAST_UNDER, OLDEST, 80, 50),
    (11, 13, 14, 90, 55),
    (11, 15, 16, 100, 60),
    (11, 17, OLDEST, 110, 70),
]


@guards(ROWS, Rule.MATCH_LENGTH_M, Rule.MATCH_WIDTH_M, source=f"{FA_FORMATS}, in yards; {THREES}")
def test_pitches() -> None:
    for rule, which in ((Rule.MATCH_LENGTH_M, 3), (Rule.MATCH_WIDTH_M, 4)):
        old = {
            at: round(value * 0.9144, 2)
            for row in YARDS
            for at, value in published([(row[1], row[2], row[which])], row[0]).items()
        }
        new = published([(LEAST_UNDER, OLDEST, (15, 10)[which - 3])], 3)
        assert delivered(rule, BEFORE) == old
        assert delivered(rule, AFTER) == old | new


@guards(ROWS, Rule.MATCH_LENGTH_MOST_M, Rule.MATCH_WIDTH_MOST_M, source=THREES)
def test_largest_pitches() -> None:
    for rule, most in ((Rule.MATCH_LENGTH_MOST_M, 20), (Rule.MATCH_WIDTH_MOST_M, 15)):
        assert delivered(rule, AFTER) == published([(LEAST_UNDER, OLDEST, most)], 3)
        assert delivered(rule, BEFORE) == {}


@guards(
    "drills.game.pitches:MATCH_PITCHES",
    Rule.MATCH_LENGTH_M,
    Rule.MATCH_WIDTH_M,
    source=f"{FA_FORMATS}; {THREES}",
)
def test_what_fit_takes_for_a_match_pitch_is_what_the_rows_say() -> None:
    length, width = delivered(Rule.MATCH_LENGTH_M), delivered(Rule.MATCH_WIDTH_M)
    for pitch in MATCH_PITCHES:
        at = (pitch.oldest_u or OLDEST, pitch.a_side)
        assert (round(pitch.length_m, 2), round(pitch.width_m, 2)) == (length[at], width[at])


@guards(ROWS, Rule.BALL_SIZE, source=FA_BALLS)
def test_balls() -> None:
    assert delivered(Rule.BALL_SIZE) == published([(6, 10, 3), (11, 14, 4), (15, OLDEST, 5)])


@guards(ROWS, Rule.ORGANISED_HOURS_WEEK, Rule.REST_DAYS_WEEK, source=NATA)
def test_hours_and_rest() -> None:
    assert delivered(Rule.ORGANISED_HOURS_WEEK) == by_years((age, age, age) for age in range(3, 19))
    assert delivered(Rule.REST_DAYS_WEEK) == by_years([(3, 18, 2)])


@guards(ROWS, Rule.CHILDREN_PER_ADULT, Rule.LEAST_ADULTS, source=f"{CPSU}; age 3 from memory, not verified")
def test_adults() -> None:
    ratios = [(3, 3, 4), (4, 8, 6), (9, 12, 8), (13, 18, 10)]
    assert delivered(Rule.CHILDREN_PER_ADULT) == by_years(ratios)
    assert delivered(Rule.LEAST_ADULTS) == by_years([(3, 18, 2)])
    (told,) = [row.note for row in FIGURES if row.rule == Rule.CHILDREN_PER_ADULT and row.value == 4]
    assert told.startswith("Value from memory, not verified")
