"""Speeds of ball and players that the lanes rest on, against figures from outside."""

from drills.drawing.checks.motion import PASS_TOP_SPEED, top_speed
from drills.drawing.pace import ADULT_PACE, pace_for
from tests.published.registry import guards

SPRINTS = "Al Haddad et al. 2015, IJSPP 10:888–896: highly trained boys, U13 to U17"
SIDE_FOOT = "A side-foot kick, 21.4 ± 1.5 m/s at most (second-hand; the study was not traced)"
GAME_SPEED = "Wallace & Norton 2014, JSAMS 17(2):223–228: mean speed of the ball in games 8–9.2 m/s"


@guards(
    "drills.drawing.pace:ADULT_PACE",
    source="Spearman 2018, “Beyond expected goals”, MIT Sloan conference (values from memory, not verified)",
)
def test_adult_pace_is_that_of_the_pass_interception_model() -> None:
    """Ball 15 m/s, reaction 0.7 s, defender 5 m/s."""
    assert (ADULT_PACE.ball_speed, ADULT_PACE.reaction_s, ADULT_PACE.defender_speed) == (15.0, 0.7, 5.0)


@guards(
    "drills.drawing.pace:_PACES",
    source="Short passes of the young, 5–12 m/s (value from memory, not verified)",
)
def test_a_youth_pass_is_within_the_published_span() -> None:
    assert all(5 <= pace_for(under).ball_speed <= 12 for under in range(5, 15))


@guards("drills.drawing.pace:pace_for", source=SIDE_FOOT)
def test_no_pass_is_faster_than_a_hard_side_foot_pass() -> None:
    assert all(pace_for(under).ball_speed <= 21.4 for under in (None, *range(5, 40)))


@guards("drills.drawing.pace:_PACES", source=GAME_SPEED)
def test_the_pass_of_an_older_team_is_no_slower_than_the_ball_in_games() -> None:
    assert all(pace_for(under).ball_speed >= 8 for under in (None, *range(9, 40)))


@guards("drills.drawing.pace:_PACES", source=f"{SPRINTS}, mean")
def test_defenders_run_slower_than_the_top_sprint_of_their_age() -> None:
    sprints = {13: 7.00, 14: 7.67, 15: 8.00, 16: 8.25, 17: 8.53}
    assert all(pace_for(under).defender_speed < sprint for under, sprint in sprints.items())


@guards("drills.drawing.checks.motion:TOP_SPEEDS", source=f"{SPRINTS}, mean + 3 SD")
def test_the_fastest_run_that_may_be_drawn_is_the_mean_and_three_deviations_of_the_age() -> None:
    published = {13: 8.17, 14: 9.25, 15: 9.50, 16: 9.67, 17: 9.53}
    assert {under: top_speed(under) for under in published} == published


@guards(
    "drills.drawing.checks.motion:CHILD_TOP_SPEED",
    source="Cap for U7–U12, 7 m/s (value from memory, not verified)",
)
def test_under_twelves_run_no_faster_than_seven() -> None:
    assert {top_speed(under) for under in range(6, 13)} == {7.0}


@guards("drills.drawing.checks.motion:PASS_TOP_SPEED", source=SIDE_FOOT)
def test_no_pass_may_be_drawn_faster_than_a_hard_one() -> None:
    assert PASS_TOP_SPEED == 21.4
