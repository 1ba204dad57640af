"""Speeds of ball and players that the lanes rest on, against figures from outside."""

from drills.drawing.checks.motion import PASS_TOP_SPEED, top_speed
from drills.drawing.pace import ADULT_PACE, pace_for


def test_adult_pace_is_that_of_the_pass_interception_model():
    # Spearman et al. 2017, MIT Sloan conference: ball 15 m/s, reaction 0.7 s, defender 5 m/s.
    # Value from memory, not verified.
    assert (ADULT_PACE.ball_speed, ADULT_PACE.reaction_s, ADULT_PACE.defender_speed) == (15.0, 0.7, 5.0)


def test_a_youth_pass_is_within_the_published_span():
    # Short passes of the young, 5–12 m/s: value from memory, not verified.
    assert all(5 <= pace_for(under).ball_speed <= 12 for under in range(5, 15))


def test_no_pass_is_faster_than_a_hard_inside_foot_pass():
    # 22.6 m/s, reported as a ceiling beside mean game speeds of 8–9.2 m/s: Wallace & Norton 2014, JSAMS 17(2):223–228.
    assert all(pace_for(under).ball_speed <= 22.6 for under in (None, *range(5, 40)))


def test_defenders_run_slower_than_the_top_sprint_of_their_age():
    # Highly trained boys, U13 to U17, mean top sprint m/s: Al Haddad et al. 2015, IJSPP 10:888–896.
    sprints = {13: 7.00, 14: 7.67, 15: 8.00, 16: 8.25, 17: 8.53}
    assert all(pace_for(under).defender_speed < sprint for under, sprint in sprints.items())


def test_the_fastest_run_that_may_be_drawn_is_the_mean_and_three_deviations_of_the_age():
    # Highly trained boys, U13 to U17, top sprint, mean + 3 SD in m/s: Al Haddad et al. 2015, IJSPP 10:888–896.
    published = {13: 8.17, 14: 9.25, 15: 9.50, 16: 9.67, 17: 9.53}
    assert {under: top_speed(under) for under in published} == published


def test_under_twelves_run_no_faster_than_seven():
    # Cap for U7–U12: value from memory, not verified.
    assert {top_speed(under) for under in range(6, 13)} == {7.0}


def test_no_pass_may_be_drawn_faster_than_a_hard_one():
    # Hard inside-foot pass, 22.6 m/s: reported as a ceiling, Wallace & Norton 2014, JSAMS 17(2):223–228.
    assert PASS_TOP_SPEED == 22.6
