"""Heading in training and weekly hours of the young, against the bodies' guidance."""

import pytest

from club.actions.guidelines import FIGURES
from club.ages import Ages
from club.choices import Rule
from club.queries import holding
from sessions.planning.headers import HeaderRule, HeadingSoFar, header_reasons
from sessions.planning.plan import PlannedPart, SessionPlan
from sessions.planning.volume import MatchPlayed, MinutesLimit, WeekLimits, match_minutes, volume
from sessions.queries.guides import header_rule
from tests.published.registry import guards

# The other body's limits are of other kinds, which a club may enter for itself. Read in a second-hand copy of its text.
US_SOCCER_2015 = {
    **dict.fromkeys(range(6, 12), HeaderRule("US Soccer heading guideline 2015", none=True)),
    **dict.fromkeys(
        (12, 13), HeaderRule("US Soccer heading guideline 2015", per_week=20, minutes_per_week=30)
    ),
}


def fa_2020(under: int) -> HeaderRule | None:
    """The rule that the app works with, from the figures it is delivered with. U17 stands with U18, as in the later chart."""
    return header_rule(holding(FIGURES, Ages(under), None))  # type: ignore[arg-type]


def plan(headers: int, minutes: float = 15) -> SessionPlan:
    return SessionPlan(60, (PlannedPart("heading", minutes, 4, headers_per_player=headers),))


def codes(rule: HeaderRule | None, headers: int, so_far: HeadingSoFar | None = None) -> list[str]:
    assert rule is not None
    return [reason.code for reason in header_reasons(plan(headers), rule, so_far)]


@guards(
    "sessions.planning.headers:header_reasons",
    "sessions.queries.guides:header_rule",
    Rule.HEADERS_PER_SESSION,
    Rule.HEADING_SESSIONS_WEEK,
    Rule.HEADING_SESSIONS_MONTH,
    source="The FA, heading guidance for training in youth football, 2020",
)
def test_fa_2020() -> None:
    # FA heading guidance 2020: U7-U11 none; U12 one session a month, U13 one a week, 5 headers; U14-U16 10.
    assert codes(fa_2020(11), 1) == ["headers_none"]
    assert codes(fa_2020(11), 0) == []
    assert codes(fa_2020(12), 5) == []
    assert codes(fa_2020(12), 6) == ["headers_over"]
    assert codes(fa_2020(12), 5, HeadingSoFar(sessions_this_month=1)) == ["headers_sessions_over"]
    assert codes(fa_2020(13), 5, HeadingSoFar(sessions_this_month=1)) == []
    assert codes(fa_2020(13), 5, HeadingSoFar(sessions_this_week=1)) == ["headers_sessions_over"]
    assert codes(fa_2020(16), 10) == []
    assert codes(fa_2020(16), 11) == ["headers_over"]
    assert codes(fa_2020(16), 10, HeadingSoFar(sessions_this_week=1)) == ["headers_sessions_over"]


@guards(
    "sessions.planning.headers:header_reasons",
    "sessions.planning.headers:HeaderRule",
    source="US Soccer, heading guideline 2015 (second-hand copy)",
)
def test_us_soccer_2015() -> None:
    # US Soccer 2015: U11 and below none; U12-U13 30 min and 15-20 headers per player a week.
    assert codes(US_SOCCER_2015[11], 1) == ["headers_none"]
    assert codes(US_SOCCER_2015[13], 10, HeadingSoFar(headers_this_week=10)) == []
    assert codes(US_SOCCER_2015[13], 11, HeadingSoFar(headers_this_week=10)) == ["headers_week_over"]
    assert codes(US_SOCCER_2015[13], 5, HeadingSoFar(minutes_this_week=16)) == ["headers_minutes_over"]


@guards(
    "sessions.planning.volume:volume",
    Rule.ORGANISED_HOURS_WEEK,
    Rule.REST_DAYS_WEEK,
    source="National Athletic Trainers' Association, statement on sport specialisation, 2019 (second-hand copy)",
)
@pytest.mark.parametrize(
    ("daily_minutes", "age", "expected"),
    [
        ([90, 0, 90, 0, 90, 60, 0], 11, []),
        ([120] * 6 + [0], 11, ["hours_over_age", "rest_days_short"]),
        ([60] * 6 + [0], 11, ["rest_days_short"]),
    ],
)
def test_hours_and_rest_days(daily_minutes: list[float], age: int, expected: list[str]) -> None:
    # NATA 2019 statement: organised hours not above age in years, two rest days a week.
    rows = {each.rule: each.value for each in holding(FIGURES, Ages(age + 1), None)}
    limits = WeekLimits(rows[Rule.ORGANISED_HOURS_WEEK], int(rows[Rule.REST_DAYS_WEEK]))
    assert [reason.code for reason in volume(daily_minutes, limits).reasons] == expected


@guards(
    "sessions.planning.volume:match_minutes",
    source="The FA, handbook: maximum playing times for youth football",
)
@pytest.mark.parametrize(
    ("under", "day", "tournament_day"),
    [(8, 40, 60), (10, 60, 90), (12, 80, 120), (14, 100, 150), (16, 100, 150), (18, 120, 180)],
)
def test_match_minutes_of_a_day(under: int, day: float, tournament_day: float) -> None:
    rows = {each.rule: each for each in holding(FIGURES, Ages(under), None)}
    limits = WeekLimits(
        match_day=MinutesLimit(rows[Rule.PLAYING_MINUTES_DAY].value, "FA"),
        tournament_day=MinutesLimit(rows[Rule.PLAYING_MINUTES_TOURNAMENT].value, "FA"),
    )
    for tournament, most in ((False, day), (True, tournament_day)):
        assert match_minutes([MatchPlayed("Sat", most, tournament)], limits) == ()
        assert len(match_minutes([MatchPlayed("Sat", most / 2 + 1, tournament)] * 2, limits)) == 1


@guards(
    "sessions.planning.plan:PlannedPart",
    source="Helgerud et al. 2001, MSSE 33(11):1925–1931 (the sum is arithmetic)",
)
def test_bouts_and_rests_add_up() -> None:
    # Helgerud et al. 2001, MSSE 33(11):1925-1931: 4 x 4 min with 3 min between take 25 min.
    four = PlannedPart("intervals", 25, 8, bouts=4, bout_s=240, rest_s=180)
    ten = PlannedPart("intervals", 67, 8, bouts=10, bout_s=240, rest_s=180)
    assert (four.bouts_and_rests_s / 60, ten.bouts_and_rests_s / 60) == (25, 67)
