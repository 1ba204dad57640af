"""A week in words: shares, the verdict, the heading that is left, and what stands beside a session."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sessions.planning.catalogue.shares import SHARES
from sessions.planning.headers import HeaderRule, HeadingSoFar
from sessions.planning.shares import share_words
from sessions.planning.week import OutsideGame, WeekAllowance, beside, heading_left, is_over, verdict


@pytest.mark.parametrize(
    ("part", "whole", "words"),
    [
        (218, 1220, "nearly a fifth"),  # 1,438 of 1,220
        (1, 3, "a third"),
        (36, 100, "just over a third"),
        (1, 2, "half"),
        (3, 100, "a little"),
        (95, 100, "nearly all"),
        (100, 100, "all"),
        (7, 3, "all"),
    ],
)
def test_a_share_is_the_nearest_plain_fraction(part: float, whole: float, words: str) -> None:
    assert share_words(part, whole) == words


@given(st.floats(0.0601, 0.9999), st.floats(1, 5000))
def test_a_share_never_strays_from_its_words(share: float, whole: float) -> None:
    words = share_words(share * whole, whole)
    row = next(row for row in SHARES if words in row[1:])
    assert abs(row[0] - share) <= min(abs(each[0] - share) for each in SHARES) + 1e-9
    if words.startswith("nearly"):
        assert share < row[0]
    if words.startswith("just over"):
        assert share > row[0]


def test_a_week_over_its_load_says_by_which_share() -> None:
    limits = WeekAllowance(load_au=1220, minutes=300)
    found = verdict(1438, 240, limits, [1000] * 6)
    assert found.text == "Heavy week: nearly a fifth over (figures in the detail)."
    assert verdict(2440, 240, limits, []).code == "week_over_double"
    assert not is_over(1220, 300, limits)


def test_a_week_is_heavy_usual_or_light_for_this_team() -> None:
    said = [verdict(au, 120, WeekAllowance(), [300, 400, 500]).code for au in (600, 400, 200)]
    assert said == ["week_heavier", "week_usual", "week_lighter"]
    assert verdict(400, 120, WeekAllowance(), [300]).text.endswith("2 more weeks will tell.")
    assert verdict(0, 0, WeekAllowance(), [300] * 3).code == "week_empty"


def test_the_youngest_go_by_minutes_and_hear_of_no_load() -> None:
    over = verdict(None, 170, WeekAllowance(None, 120), [100] * 3)
    assert over.text == "Heavy week: 170 min, 50 more than the 120 min this age group plans."
    assert [each.text for each in over.clears] == ["50 min off a session, or a session left out, would do."]
    assert verdict(None, 100, WeekAllowance(None, 120), [60, 60, 60]).code == "week_heavier"


# The FA, heading guidance 2020 (read second-hand): U12 one session a month, at most 5; U13 one a week; U7–U11 none.
U12 = HeaderRule("The FA 2020", per_session=5, sessions_per_month=1)
U13 = HeaderRule("The FA 2020", per_session=5, sessions_per_week=1)


@pytest.mark.parametrize(
    ("rule", "so_far", "texts"),
    [
        (None, HeadingSoFar(), []),
        (HeaderRule("The FA 2020", none=True, per_session=0), HeadingSoFar(), ["No heading in training at this age."]),
        (U12, HeadingSoFar(), ["1 session with heading left this month, 5 headers per player at most."]),
        (U12, HeadingSoFar(sessions_this_month=1), ["No session with heading left this month."]),
        (U13, HeadingSoFar(sessions_this_month=3), ["1 session with heading left this week, 5 headers per player at most."]),
        (U13, HeadingSoFar(sessions_this_week=2), ["No session with heading left this week."]),
        # US Soccer 2015 (read second-hand): U12–U13 at most 15 to 20 headers a player and week
        (HeaderRule("US Soccer 2015", per_week=15), HeadingSoFar(headers_this_week=12), ["3 headers per player left this week."]),
    ],
)  # fmt: skip
def test_what_is_left_of_heading(rule: HeaderRule | None, so_far: HeadingSoFar, texts: list[str]) -> None:
    assert [each.text for each in heading_left(rule, so_far)] == texts


def test_what_stands_beside_a_session() -> None:
    day = date(2026, 11, 30)
    cup = OutsideGame(day - timedelta(days=1), "tournament", "Cup")
    league = OutsideGame(day + timedelta(days=1), "match", "League")
    found = beside(day, [league, cup])
    assert (found and found.when, found and found.title) == ("after", "Cup")
    assert beside(day, [league]) is not None
    assert beside(day, [OutsideGame(day + timedelta(days=2), "match", "Later")]) is None
