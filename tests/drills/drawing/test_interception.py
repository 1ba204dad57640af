"""Lunge, run and body against many points looked at one by one; and situations that a coach agrees on."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drills.drawing.interception import arrival, by_lunge, by_run, seen
from drills.drawing.lanes import lane_margin_s, open_options
from drills.drawing.pace import ADULT_PACE, Pace, pace_for
from drills.game.scene import Scene, SceneBall, ScenePlayer
from tests.drills.drawing.paces import margin

AGES = (7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 18, None)
metres = st.floats(-15, 15, allow_nan=False)
points = st.tuples(metres, metres)
near_lanes = st.tuples(st.floats(-3, 12), st.floats(-3, 3))
paces = st.builds(
    Pace,
    st.floats(3, 25),
    st.floats(0, 1.5),
    st.floats(0.5, 9),
    st.floats(0, 2),
    st.floats(0, 2.5),
    st.floats(0, 0.8),
)


def sampled(length, defender, pace, samples=4000):
    """The least of either way's time minus the ball's along a lane from (0, 0) to (length, 0); the ends of the disc too."""
    x, y = defender
    edges = [x + side * math.sqrt(max(0.0, pace.lunge_m**2 - y**2)) for side in (-1, 1)]
    best = math.inf
    for s in (*(length * n / samples for n in range(1, samples + 1)), *(e for e in edges if 0 < e <= length)):
        away = math.dist((s, 0.0), defender)
        run = pace.reaction_s + max(0.0, away - pace.reach_m) / pace.defender_speed
        lunge = pace.lunge_s if away <= pace.lunge_m + 1e-9 else math.inf
        best = min(best, min(run, lunge) - s / pace.ball_speed)
    return best


@settings(max_examples=80, deadline=None)
@given(st.floats(1, 30), near_lanes, paces)
def test_both_ways_agree_with_dense_sampling(length, defender, pace):
    step = length / 4000
    slack = step * (1 / pace.ball_speed + 1 / pace.defender_speed) + 1e-6
    aside = seen((0, 0), (length, 0), defender)
    # A disc that only just touches the line holds no sample.
    assume(abs(aside.off_m - pace.lunge_m) > 1e-6)
    exact = min(by_run(aside, pace).margin_s, by_lunge(aside, pace).margin_s)
    assert exact == pytest.approx(sampled(length, defender, pace), abs=slack)


@settings(max_examples=200, deadline=None)
@given(st.floats(4, 30), st.floats(0.5, 1.05), st.floats(-1, 1), st.sampled_from(AGES))
def test_no_lane_is_open_past_a_defender_who_has_time_to_lunge(length, share, off, under):
    pace = pace_for(under)
    defender = (length * share, off * pace.lunge_m)
    spots = (length * n / 500 for n in range(1, 501))
    within = [s for s in spots if math.dist((s, 0), defender) <= pace.lunge_m]
    assume(within and within[-1] / pace.ball_speed >= pace.lunge_s)
    assert margin((0, 0), (length, 0), defender, pace) <= 0


@settings(max_examples=200, deadline=None)
@given(st.floats(1, 30), near_lanes, paces, st.floats(0, 6))
def test_a_defender_moved_straight_away_never_lowers_the_margin(length, defender, pace, back):
    near = (min(max(defender[0], 0.0), length), 0.0)
    off = math.dist(near, defender)
    assume(off > 0.01)
    away = tuple(there + (there - here) / off * back for here, there in zip(near, defender, strict=True))
    before, after = (margin((0, 0), (length, 0), each, pace) for each in (defender, away))
    assert after >= before - 1e-6


@settings(max_examples=100, deadline=None)
@given(points, points, points, paces, st.floats(0, 7), points)
def test_turning_mirroring_and_shifting_change_nothing(ball, target, defender, pace, angle, shift):
    assume(math.dist(ball, target) > 0.5)
    aside = seen(ball, target, defender)
    # Where the lane only just touches a lunge or a body, a rounding error decides.
    ends = (math.dist(defender, ball), math.dist(defender, target), aside.off_m)
    assume(all(abs(each - pace.lunge_m) > 1e-6 for each in ends) and abs(aside.off_m - 0.4) > 1e-6)
    assume(min(abs(aside.along_m), abs(aside.along_m - aside.length_m)) > 1e-6)

    def turned(point):
        x, y = point[0], -point[1]
        c, s = math.cos(angle), math.sin(angle)
        return x * c - y * s + shift[0], x * s + y * c + shift[1]

    before = margin(ball, target, defender, pace)
    assert margin(turned(ball), turned(target), turned(defender), pace) == pytest.approx(before, abs=1e-5)


@settings(max_examples=100, deadline=None)
@given(st.floats(1, 30), near_lanes, paces)
def test_a_lane_is_cut_on_the_lane_and_not_before_the_lunge(length, defender, pace):
    cut = by_lunge(seen((0, 0), (length, 0), defender), pace)
    assume(math.isfinite(cut.margin_s))
    assert 0 <= cut.at_m <= length
    assert cut.margin_s > 0 or cut.at_m >= pace.lunge_s * pace.ball_speed - 1e-9


# Ball, target, defender, (ball speed, reaction, run, reach), margin: as worked out before anybody lunged.
STORED = [
    ((6.5, 3.0), (13.0, 1.4), (10.7, 7.3), (7.0, 0.9, 3.5, 0.5), 1.6028904463767444),
    ((18.2, 4.3), (1.7, 8.4), (4.8, 11.0), (7.0, 0.9, 3.5, 0.5), -0.5221416175240936),
    ((16.5, 2.5), (4.5, 12.5), (19.0, 11.5), (11.0, 0.75, 4.5, 0.7), 1.9717826645631937),
    ((1.0, 4.4), (11.1, 2.7), (8.4, 10.8), (12.5, 0.7, 4.8, 0.8), 1.4848324960915287),
    ((8.4, 15.1), (3.0, 9.8), (0.8, 13.4), (12.5, 0.7, 4.8, 0.8), 0.8069827915551788),
    ((0.0, 0.0), (10.0, 0.0), (5.0, 0.0), (10.0, 0.7, 5.0, 1.0), 0.1),
]


@pytest.mark.parametrize(("ball", "target", "defender", "values", "stored"), STORED)
def test_without_a_lunge_the_answers_are_the_old_ones(ball, target, defender, values, stored):
    assert margin(ball, target, defender, Pace(*values)) == pytest.approx(stored, abs=1e-12)


def test_a_lunge_reaches_where_the_ball_leaves_it():
    # 1.2 m off the line at 4 m, lunge 1.5 m after 0.2 s, ball 10 m/s: leaves at 4 + 0.9 m, 0.49 s.
    pace = Pace(10, 5, 0, 0, 1.5, 0.2)
    assert margin((0, 0), (10, 0), (4, 1.2), pace) == pytest.approx(0.2 - 0.49)
    assert margin((0, 0), (4.3, 0), (4, 1.2), pace) == pytest.approx(0.2 - 0.43)
    assert margin((0, 0), (10, 0), (0.2, 1.2), pace) == pytest.approx(0.2 - 0.11)
    assert margin((0, 0), (10, 0), (4, 1.6), pace) == math.inf


def test_a_ball_played_at_a_body_is_stopped_before_anybody_could_lunge():
    assert margin((0, 0), (10, 0), (1, 0.3), ADULT_PACE) == pytest.approx(-1 / 15)
    assert margin((0, 0), (10, 0), (1, 0.5), ADULT_PACE) > 0


@pytest.mark.parametrize("change", [{"lunge_m": -0.1}, {"lunge_m": math.nan}, {"lunge_s": -1}])
def test_an_impossible_lunge_is_refused_by_name(change):
    figures = {"ball_speed": 10, "reaction_s": 0.7, "defender_speed": 5, "reach_m": 1} | change
    with pytest.raises(ValueError, match=f"^{next(iter(change))}:"):
        lane_margin_s((0, 0), (5, 0), (3, 3), **figures)


def is_open(ball, target, defenders, under):
    pace = pace_for(under)
    return all(margin(ball, target, each, pace) > 0 for each in defenders)


# What coaches agree on: common practice, no source. Metres; a ball, a receiver, the defenders, whether the pass is on.
AGREED = {
    "4v1 on 9 x 9, passers on the edges: beside": ((4.5, 0), (9, 4.5), [(4.5, 4.5)], True),
    "4v1 on 9 x 9: on the other side": ((4.5, 0), (0, 4.5), [(4.5, 4.5)], True),
    "4v1 on 9 x 9: behind the defender": ((4.5, 0), (4.5, 9), [(4.5, 4.5)], False),
    "4v1 on 9 x 9, passers in the corners: beside": ((0, 0), (9, 0), [(4.5, 4.5)], True),
    "4v1 on 9 x 9: through the middle": ((0, 0), (9, 9), [(4.5, 4.5)], False),
    "5v2, two level, 2 m apart: between them": ((0, 5), (10, 5), [(5, 4), (5, 6)], False),
    "5v2, two level, 2 m apart, near the ball": ((0, 5), (10, 5), [(3, 4), (3, 6)], False),
    "5v2, two level, 6 m apart: between them": ((0, 5), (10, 5), [(5, 2), (5, 8)], True),
    "one a step off the line, halfway": ((0, 0), (8, 0), [(4, 0.9)], False),
    "the same pass with the defender 5 m off": ((0, 0), (8, 0), [(4, 5)], True),
    "a defender behind the passer": ((0, 0), (6, 0), [(-3, 0)], True),
    "a defender well behind the receiver": ((0, 0), (6, 0), [(11, 0)], True),
    "a defender tight in front of the receiver": ((0, 0), (8, 0), [(7.2, 0)], False),
    "a long ball across, a defender near its end": ((0, 0), (25, 0), [(22, 4)], False),
    "straight into the one who presses": ((0, 0), (8, 0), [(1.5, 0.2)], False),
}


@pytest.mark.parametrize("under", AGES)
@pytest.mark.parametrize("situation", AGREED)
def test_a_coach_agrees(situation, under):
    ball, target, defenders, agreed = AGREED[situation]
    assert is_open(ball, target, defenders, under) == agreed


def test_in_a_rondo_few_lanes_within_a_lunge_are_open():
    """11 × 11 m, a passer on each edge, one defender anywhere. By reaction and run alone half to three quarters were open."""
    edge = [(5.5, 0), (11, 5.5), (5.5, 11), (0, 5.5)]
    spots = [(x / 2, y / 2) for x in range(1, 22) for y in range(1, 22)]
    for under in AGES:
        pace = pace_for(under)
        lanes = [(a, b, spot) for a in edge for b in edge if a != b for spot in spots]
        near = [lane for lane in lanes if _passes_within(*lane, pace.lunge_m)]
        still_open = [lane for lane in near if margin(*lane, pace) > 0]
        assert len(still_open) / len(near) < 0.16


def _passes_within(ball, target, defender, most):
    along, off, length = seen(ball, target, defender)
    return math.hypot(along - min(max(along, 0.0), length), off) <= most


def test_older_players_lunge_farther_and_sooner_and_no_age_leaves_two_metres_open():
    ages = [pace_for(under) for under in AGES]
    assert [each.lunge_m for each in ages] == sorted(each.lunge_m for each in ages)
    assert [each.lunge_s for each in ages] == sorted((each.lunge_s for each in ages), reverse=True)
    assert all(each.lunge_m > max(1.0, each.reach_m) and each.lunge_s < each.reaction_s for each in ages)


def test_who_stands_at_the_receiver_is_there_as_soon_as_they_lunge():
    assert arrival(1.2, ADULT_PACE) == ADULT_PACE.lunge_s
    assert arrival(2.8, ADULT_PACE) == pytest.approx(0.7 + 2.0 / 5.0)


def rondo(*defenders):
    """a1 on the ball at the bottom edge of a 9 × 9 m square, a team-mate on each other edge."""
    spots = {"a1": (4.5, 0), "a2": (9, 4.5), "a3": (4.5, 9), "a4": (0, 4.5)}
    return Scene(
        length_m=9,
        width_m=9,
        players=(
            *(ScenePlayer(key=key, x_m=x, y_m=y, side="A") for key, (x, y) in spots.items()),
            *(
                ScenePlayer(key=f"b{n}", x_m=x, y_m=y, side="B")
                for n, (x, y) in enumerate(defenders, start=1)
            ),
        ),
        balls=(SceneBall(key="ball", at="a1"),),
    )


@pytest.mark.parametrize("under", AGES)
def test_four_against_one_has_two_ways_out(under):
    lanes = {each.receiver: each for each in open_options(rondo((4.5, 4.5)), pace=pace_for(under))}
    assert {key: lane.open for key, lane in lanes.items()} == {"a2": True, "a4": True, "a3": False}
    assert (lanes["a3"].cut_by, lanes["a3"].cut_at) == ("b1", (4.5, 4.5))


def test_a_receiver_is_favourited_down_pressed_or_has_time():
    lanes = {each.receiver: each for each in open_options(rondo((8, 5.3), (3.2, 7)))}
    state = {key: (lane.closed_down, lane.pressed, lane.closed_by) for key, lane in lanes.items()}
    # a2: 1.28 m from b1, who lunges after 0.2 s; the ball takes 0.42 s. a3: 2.39 m from b2: 0.7 + 1.59/5 − 0.6 = 0.42 s.
    # a4: 4.06 m from b2: 0.7 + 3.26/5 − 0.42 = 0.93 s.
    assert state == {"a2": (True, True, "b1"), "a3": (False, True, "b2"), "a4": (False, False, "b2")}
    assert not lanes["a2"].open
