import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drills.drawing.lanes import lane_margin_s, open_options
from drills.drawing.pace import ADULT_PACE, Pace, pace_for
from drills.game.scene import Run, Scene, SceneBall, ScenePlayer, Step
from tests.drills.drawing.paces import margin

metres = st.floats(-40, 40, allow_nan=False)
points = st.tuples(metres, metres)
paces = st.builds(Pace, st.floats(3, 25), st.floats(0, 1.5), st.floats(0, 9), st.floats(0, 2))


def sampled(ball, target, defender, pace, samples=4000):
    """The same question answered by looking at many points of the lane, one by one."""
    length = math.dist(ball, target)
    best = math.inf
    for n in range(1, samples + 1):
        s = length * n / samples
        x = ball[0] + (target[0] - ball[0]) * n / samples
        y = ball[1] + (target[1] - ball[1]) * n / samples
        beyond = max(0.0, math.dist((x, y), defender) - pace.reach_m)
        late = pace.reaction_s + (beyond / pace.defender_speed if beyond else 0.0)
        best = min(best, late - s / pace.ball_speed)
    return best


@settings(max_examples=60, deadline=None)
@given(points, points, points, paces)
def test_closed_form_agrees_with_dense_sampling(ball, target, defender, pace):
    assume(math.dist(ball, target) > 0.5 and pace.defender_speed > 0.5)
    step = math.dist(ball, target) / 4000
    # Between two samples either time can change by no more than this.
    slack = step * (1 / pace.ball_speed + 1 / pace.defender_speed) + 1e-9
    exact, seen = margin(ball, target, defender, pace), sampled(ball, target, defender, pace)
    assert exact <= seen + 1e-9
    assert exact >= seen - slack


@settings(max_examples=60, deadline=None)
@given(points, points, points, paces, st.floats(0, 30))
def test_a_defender_moved_straight_away_never_lowers_the_margin(ball, target, defender, pace, back):
    length = math.dist(ball, target)
    assume(length > 0.5)
    ux, uy = (target[0] - ball[0]) / length, (target[1] - ball[1]) / length
    along = (defender[0] - ball[0]) * ux + (defender[1] - ball[1]) * uy
    near = min(max(along, 0.0), length)
    foot = (ball[0] + ux * near, ball[1] + uy * near)
    off = math.dist(foot, defender)
    assume(off > 0.01)
    away = (
        defender[0] + (defender[0] - foot[0]) / off * back,
        defender[1] + (defender[1] - foot[1]) / off * back,
    )
    assert margin(ball, target, away, pace) >= margin(ball, target, defender, pace) - 1e-6


@settings(max_examples=60, deadline=None)
@given(points, points, points, paces, st.floats(0, 7), points)
def test_turning_mirroring_and_shifting_change_nothing(ball, target, defender, pace, angle, shift):
    assume(math.dist(ball, target) > 0.5 and pace.defender_speed > 0.1)

    def turned(point):
        x, y = point[0], -point[1]
        c, s = math.cos(angle), math.sin(angle)
        return x * c - y * s + shift[0], x * s + y * c + shift[1]

    before = margin(ball, target, defender, pace)
    assert margin(turned(ball), turned(target), turned(defender), pace) == pytest.approx(before, abs=1e-6)


def test_a_defender_on_the_line_is_late_only_by_the_reaction():
    # In reach of the line 5 m ahead: the ball leaves the far end of the reach at (5 + 1)/10 s.
    assert margin((0, 0), (10, 0), (5, 0), Pace(10, 0.7, 5, 1)) == pytest.approx(0.1)


def test_a_slower_ball_than_the_defender_is_caught_at_its_end():
    # Ball 4 m/s over 8 m: 2 s. Defender 5 m/s from (8, 12), reach 2: 0.5 + 10/5 = 2.5 s.
    assert margin((0, 0), (8, 0), (8, 12), Pace(4, 0.5, 5, 2)) == pytest.approx(0.5)


def test_a_standing_defender_cuts_only_what_comes_within_reach():
    standing = Pace(10, 0.5, 0, 1)
    assert margin((0, 0), (10, 0), (5, 1.5), standing) == math.inf
    assert margin((0, 0), (10, 0), (5, 0.6), standing) == pytest.approx(0.5 - 0.58)


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"ball_speed": 0}, "ball_speed"),
        ({"reaction_s": -0.1}, "reaction_s"),
        ({"defender_speed": -1}, "defender_speed"),
        ({"reach_m": math.nan}, "reach_m"),
    ],
)
def test_impossible_figures_are_refused_by_name(change, name):
    figures = {"ball_speed": 10, "reaction_s": 0.7, "defender_speed": 5, "reach_m": 1} | change
    with pytest.raises(ValueError, match=f"^{name}:"):
        lane_margin_s((0, 0), (5, 0), (3, 3), **figures)


def test_a_pass_to_where_the_ball_is_is_refused():
    with pytest.raises(ValueError, match=r"^target:"):
        margin((1, 1), (1, 1), (3, 3), ADULT_PACE)


def player(key, x, y, side="A", **more):
    return ScenePlayer(key=key, x_m=x, y_m=y, side=side, **more)


def two_mates_one_defender(**more):
    return Scene(
        length_m=20,
        width_m=20,
        players=(
            player("a1", 2, 10),
            player("a2", 18, 10),
            player("a3", 2, 18),
            player("n1", 10, -1, "neutral", place="outside"),
            player("b1", 10, 10.5, "B"),
            player("b2", 2, 14, "B", place="outside"),
        ),
        balls=(SceneBall(key="ball", at="a1"),),
        **more,
    )


def test_lanes_of_the_player_on_the_ball_safest_first():
    lanes = open_options(two_mates_one_defender(), pace=Pace(10, 0.7, 5, 0.8))
    assert [(lane.receiver, lane.open) for lane in lanes] == [("a3", True), ("n1", True), ("a2", False)]
    shut = lanes[-1]
    assert shut.cut_by == "b1"
    assert 10 < shut.cut_at[0] < 12
    assert shut.cut_at[1] == pytest.approx(10)


def test_a_receivers_own_margin_says_who_closes_down():
    lanes = {
        lane.receiver: lane for lane in open_options(two_mates_one_defender(), pace=Pace(10, 0.7, 5, 0.8))
    }
    # b1 to a2: sqrt(8² + 0.5²) − 0.8 m at 5 m/s after 0.7 s; the ball takes 1.6 s.
    expected = 0.7 + (math.hypot(8, 0.5) - 0.8) / 5 - 1.6
    assert lanes["a2"].receiver_margin_s == pytest.approx(expected)
    assert lanes["a2"].closed_by == "b1"
    assert lanes["a2"].pressed
    assert not lanes["a3"].pressed


def test_lanes_follow_the_runs_of_a_step():
    step = Step(
        key="s1",
        start_s=0,
        end_s=2,
        moves=(Run(who="b1", to_x_m=10, to_y_m=19, start_s=0, end_s=2),),
    )
    scene = two_mates_one_defender(steps=(step,))
    after = {lane.receiver: lane for lane in open_options(scene, pace=Pace(10, 0.7, 5, 0.8), time_s=2)}
    assert after["a2"].open


def test_nobody_on_the_ball_has_no_lanes():
    scene = Scene(
        length_m=20, width_m=20, players=(player("a1", 2, 2),), balls=(SceneBall(key="ball", x_m=9, y_m=9),)
    )
    assert open_options(scene) == ()


def test_younger_players_pass_slower_and_react_later():
    ages = [pace_for(age) for age in (7, 9, 11, 13, 15, None)]
    assert [each.ball_speed for each in ages] == sorted(each.ball_speed for each in ages)
    assert [each.reaction_s for each in ages] == sorted((each.reaction_s for each in ages), reverse=True)
    assert ages[-1] == ADULT_PACE
