import pytest

from drills.drawing.pose import ball_at, ends_of, pose_at
from tests.drills.drawing.scenes import four_a_side, three_steps


def test_everybody_stands_at_their_start_at_nought():
    pose = pose_at(four_a_side(), 0)
    assert pose.players["a4"] == (19, 11)
    assert (pose.balls["ball"].holder, pose.balls["ball"].x_m, pose.balls["ball"].y_m) == ("a1", 4, 10)


def test_half_way_through_a_run():
    assert pose_at(four_a_side(), 1).players["a4"] == pytest.approx((20.5, 13))


def test_a_ball_on_its_way_is_with_nobody():
    ball = ball_at(four_a_side(), "ball", 0.5)
    assert (ball.flying, ball.holder) == (True, None)
    assert (ball.x_m, ball.y_m) == pytest.approx((7.5, 13))


def test_the_ball_goes_along_with_whoever_carries_it():
    ball = ball_at(four_a_side(), "ball", 3)
    assert ball.holder == "a2"
    assert (ball.x_m, ball.y_m) == pytest.approx((14, 17))


def test_a_pass_to_somebody_on_the_run_meets_them_where_they_are():
    last = three_steps()[2].moves[0]
    assert ends_of(four_a_side(), last) == ((17, 18), (24, 5))


def test_a_shot_ends_in_the_goal_and_with_nobody():
    ball = ball_at(four_a_side(), "ball", 7)
    assert (ball.x_m, ball.y_m, ball.holder) == (30, 10, None)


def test_the_side_that_had_the_ball_last_keeps_it_in_name():
    assert pose_at(four_a_side(), 0).side == "A"
    assert pose_at(four_a_side(), 7).side == "A"


def test_unknown_keys_are_refused():
    with pytest.raises(ValueError, match="'b9'"):
        ball_at(four_a_side(), "b9", 0)
