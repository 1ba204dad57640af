"""The corners of everybody's way say the same as the moment asked for by itself."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drills.drawing.checks import check
from drills.drawing.pose import pose_at
from drills.drawing.tracks import Knot, at, ball_tracks, player_tracks
from drills.game.scene import BallPath, Run, RunWithBall, SceneBall, Step
from tests.drills.drawing.scenes import four_a_side, six_steps, three_steps
from tests.drills.drawing.test_any_scene import scenes

NEAR_M = 1e-6


def furthest_m(scene, time_s):
    """The largest distance between a track and the pose."""
    tracks = player_tracks(scene)
    pose = pose_at(scene, time_s)
    apart = [math.dist(at(tracks[key], time_s), spot) for key, spot in pose.players.items()]
    for key, track in ball_tracks(scene, tracks).items():
        apart.append(math.dist(at(track, time_s), (pose.balls[key].x_m, pose.balls[key].y_m)))
    return max(apart, default=0.0)


@pytest.mark.parametrize("steps", [three_steps(), six_steps()])
def test_tracks_are_the_poses_at_every_tenth_of_a_second(steps):
    scene = four_a_side(steps)
    # A hair after each tenth: at a jump itself a pose is still where it jumps from, a track where it jumps to.
    assert max(furthest_m(scene, tenth / 10 + 1e-9) for tenth in range(140)) < NEAR_M


@settings(max_examples=60, deadline=None)
@given(scenes(), st.floats(0, 12))
def test_tracks_are_the_poses_of_any_scene_in_which_nobody_is_in_two_places(scene, time_s):
    assume(not any(each.key == "two-places" for each in check(scene)))
    starts = [move.start_s for step in scene.steps for move in step.moves]
    assume(all(abs(time_s - start) > 1e-6 for start in starts))
    assert furthest_m(scene, time_s) < NEAR_M


def test_whoever_stays_has_one_knot_and_nobody_runs_before_the_start():
    tracks = player_tracks(four_a_side())
    assert tracks["b1"] == (Knot(0.0, 9, 10),)
    assert tracks["a2"] == (Knot(0.0, 11, 16), Knot(2, 11, 16), Knot(4, 17, 18))


def test_a_ball_is_held_then_flies_then_is_held_and_goes_along():
    scene = four_a_side()
    track = ball_tracks(scene, player_tracks(scene))["ball"]
    assert track[:4] == (
        Knot(0, 4, 10, held=True),
        Knot(1, 11, 16, held=True),
        Knot(2, 11, 16, held=True),
        Knot(4, 17, 18, held=True),
    )
    assert track[-1] == Knot(7, 30, 10)


def test_a_loose_ball_jumps_to_who_takes_it_up():
    steps = (
        Step(
            key="s1",
            start_s=0,
            end_s=2,
            moves=(RunWithBall(who="a1", ball="ball", to_x_m=8, to_y_m=10, start_s=1, end_s=2),),
        ),
    )
    scene = four_a_side(steps)
    loose = scene.__class__(
        length_m=30,
        width_m=20,
        players=scene.players,
        balls=(SceneBall(key="ball", x_m=5, y_m=10),),
        steps=steps,
    )
    track = ball_tracks(loose, player_tracks(loose))["ball"]
    assert [(each.time_s, each.x_m, each.held) for each in track] == [
        (0, 5, False),
        (1, 5, False),
        (1, 4, True),
        (2, 8, True),
    ]
    assert at(track, 1.0) == (4, 10)


def test_a_flight_is_cut_short_where_the_next_move_begins():
    moves = (
        BallPath(ball="ball", to="a2", start_s=0, end_s=2),
        BallPath(ball="ball", to="a4", start_s=1, end_s=2),
        Run(who="b1", to_x_m=10, to_y_m=10, start_s=0, end_s=1),
    )
    scene = four_a_side((Step(key="s1", start_s=0, end_s=2, moves=moves),))
    track = ball_tracks(scene, player_tracks(scene))["ball"]
    assert at(track, 1.0) == (7.5, 13.0)
    assert track[-1] == Knot(2, 19, 11, held=True)
