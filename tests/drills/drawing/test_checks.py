import msgspec
import pytest

from drills.drawing.checks import check
from drills.drawing.checks.claims import crosses
from drills.drawing.checks.motion import top_speed
from drills.game.format import Format
from drills.game.scene import (
    BallPath,
    Claim,
    Run,
    RunWithBall,
    Scene,
    SceneBall,
    SceneGoal,
    Step,
)
from tests.drills.drawing.scenes import four_a_side

NUMBERS = Format.parse("GK+4v4+GK+2")


def keys(scene, numbers=None, **more):
    return [each.key for each in check(scene, numbers, **more)]


def changed(key, **fields):
    """The usual plan with one player changed."""
    scene = four_a_side()
    players = tuple(msgspec.structs.replace(p, **fields) if p.key == key else p for p in scene.players)
    return msgspec.structs.replace(scene, players=players)


def moving(*moves, end_s=4.0, **more):
    """The usual plan with one step of these moves."""
    return four_a_side((Step(key="s1", start_s=0, end_s=end_s, moves=moves),), **more)


def run(who, x, y, start_s=0.0, end_s=4.0):
    return Run(who=who, to_x_m=x, to_y_m=y, start_s=start_s, end_s=end_s)


def carry(who, x, y, start_s=0.0, end_s=4.0):
    return RunWithBall(who=who, ball="ball", to_x_m=x, to_y_m=y, start_s=start_s, end_s=end_s)


def ball(to=None, start_s=0.0, end_s=1.0, **point):
    return BallPath(ball="ball", to=to, start_s=start_s, end_s=end_s, **point)


def test_a_sound_plan_has_no_reasons_against_it():
    assert check(four_a_side(), NUMBERS) == []


def test_numbers_that_do_not_match_are_named_by_group():
    found = check(four_a_side(), Format.parse("GK+4v5+GK"))
    assert [each.text for each in found] == [
        "The format has 5 of side B inside, the plan shows 4.",
        "The format has 0 floaters outside, the plan shows 2.",
    ]
    assert found[0].items == ("b1", "b2", "b3", "b4")
    assert found[0].params == {"group": "of side B inside", "wanted": "5", "shown": "4"}


def test_those_who_wait_do_not_count():
    assert "numbers" not in keys(changed("a4", place="queue", x_m=-3), Format.parse("GK+3v4+GK+2"))


@pytest.mark.parametrize(
    ("who", "fields", "key"),
    [
        ("a1", {"x_m": -0.5}, "not-inside"),
        ("n1", {"y_m": 19.0}, "not-outside"),
        ("n1", {"y_m": -1.0}, "wrong-edge"),
        ("n1", {"y_m": 26.0}, "far-out"),
        ("a4", {"place": "zone", "zone": "last"}, "not-in-zone"),
        ("b1", {"x_m": 4.5, "y_m": 10.2}, "on-top"),
    ],
)
def test_who_stands_in_the_wrong_place_is_named(who, fields, key):
    found = check(changed(who, **fields), under=None)
    assert key in [each.key for each in found]
    assert all(who in each.items for each in found if each.key == key)


def test_a_line_belongs_to_the_grid():
    assert check(changed("a4", x_m=20, y_m=0), NUMBERS) == []


def test_a_goal_must_lie_on_its_edge():
    scene = Scene(length_m=9, width_m=9, goals=(SceneGoal(key="g", edge="left", along_m=1, width_m=3),))
    assert keys(scene) == ["goal-off-edge"]


def test_running_into_somebody_is_a_warning():
    found = check(moving(run("a4", 24.2, 9)))
    assert [(each.key, each.severity, each.items) for each in found] == [("on-top", "warning", ("a4", "b4"))]
    assert found[0].text == "Blue 4 and red 4 stand on the same spot after step 1."


def test_nobody_is_in_two_places():
    assert "two-places" in keys(moving(run("a4", 22, 11, 0, 2), run("a4", 19, 15, 1, 3)))


def test_a_ball_in_flight_cannot_be_played():
    assert "ball-twice" in keys(moving(ball("a2", 0, 2), ball("a3", 1, 3)))


def test_only_whoever_has_the_ball_runs_with_it():
    assert keys(moving(carry("a4", 22, 12))) == ["not-holding"]
    assert keys(moving(ball("a3", 0, 2), carry("a3", 16, 3, 2, 4))) == []


def test_a_loose_ball_may_be_picked_up_by_somebody_near():
    scene = four_a_side((Step(key="s1", start_s=0, end_s=4, moves=(carry("a4", 22, 12, 1, 4),)),))
    loose = scene.with_item_moved("ball", 19.5, 11.5)
    assert keys(loose) == []
    assert keys(scene.with_item_moved("ball", 15, 11)) == ["not-holding"]


def test_a_loose_ball_that_nobody_is_near_cannot_be_played():
    scene = moving(ball("a2", 0, 1)).with_item_moved("ball", 5, 17)
    assert keys(scene) == ["nobody-plays"]


def test_a_pass_into_space_needs_somebody_there():
    into_space = ball(to_x_m=22.0, to_y_m=16.0, start_s=0, end_s=2)
    assert keys(moving(into_space)) == ["nobody-there"]
    assert keys(moving(into_space, run("a4", 22, 16, 0, 2))) == []


def test_a_shot_at_a_shut_goal_is_pointed_out():
    assert keys(moving(ball("third", 0, 2))) == ["shut-goal"]


def test_speeds_are_those_of_the_age():
    # 11 m up in 1.5 s: 7.33 m/s, which a U14 runs and a U12 does not.
    fast = moving(run("a4", 19, 0, 0, 1.5))
    assert keys(fast, under=12) == ["too-fast"]
    assert keys(fast, under=13) == []
    assert (
        check(fast, under=12)[0].text == "Blue 4 would have to run 7.3 m/s; 7 m/s is the most for this age."
    )


def test_a_pass_faster_than_a_hard_pass_is_refused_a_shot_is_not():
    # 10 m to a3 in 0.4 s are 25 m/s; 26 m to the goal in 1 s are allowed.
    assert keys(moving(ball("a3", 0, 0.4))) == ["ball-too-fast"]
    assert keys(moving(ball("right", 0, 1.0))) == []


def test_a_pass_that_would_be_cut_out_is_a_warning():
    found = check(moving(ball("a4", 0, 2)))
    assert [(each.key, each.severity, each.items) for each in found] == [
        ("cut-out", "warning", ("a1", "a4", "b1"))
    ]
    assert found[0].text == "Blue 1's pass to blue 4 at 0 s would be cut out by red 1."


def test_a_ball_in_the_air_is_over_everybodys_reach():
    high = BallPath(ball="ball", to="a4", start_s=0, end_s=2, high=True)
    assert keys(moving(high)) == []


def test_errors_come_first():
    scene = moving(ball(to_x_m=22.0, to_y_m=16.0, start_s=0, end_s=2), carry("a4", 22, 12, 2, 4))
    assert [each.severity for each in check(scene)] == sorted(each.severity for each in check(scene))


def claimed(*moves, **claim):
    return keys(moving(*moves, end_s=9.0, claims=(Claim(**claim),)))


THIRD = (ball("a2", 0, 1), ball("a3", 2, 3.5), ball("right", 4, 5))
WALL = (ball("a2", 0, 1), ball("a1", 2, 3), ball("right", 4, 6))


@pytest.mark.parametrize(
    ("moves", "claim", "shown"),
    [
        (THIRD, {"kind": "third player finishes"}, True),
        (THIRD, {"kind": "third player finishes", "who": "a4"}, False),
        (WALL, {"kind": "third player finishes"}, False),
        (THIRD, {"kind": "passes", "number": 2}, True),
        (THIRD, {"kind": "passes", "number": 3}, False),
        (THIRD, {"kind": "goal"}, True),
        (THIRD[:2], {"kind": "goal"}, False),
        (THIRD[:2], {"kind": "switch of side"}, True),
        (WALL[:1], {"kind": "switch of side"}, False),
        ((carry("a1", 4, 14, 0, 2),), {"kind": "through a gate"}, False),
        ((ball("a2", 0, 1), carry("a2", 17, 18, 1, 4)), {"kind": "through a gate"}, True),
        ((carry("a1", 12, 10, 0, 3),), {"kind": "into a zone", "to": "last"}, False),
        ((carry("a1", 21, 12, 0, 4),), {"kind": "into a zone", "to": "last"}, True),
        ((ball("a2", 0, 1), ball("a3", 2, 3.5)), {"kind": "everyone touches it"}, False),
        ((*THIRD[:2], ball("a4", 4, 5)), {"kind": "everyone touches it"}, True),
        ((), {"kind": "lane is open", "who": "a1", "to": "a2"}, True),
        ((), {"kind": "lane is shut", "who": "a1", "to": "a2"}, False),
        ((), {"kind": "lane is shut", "who": "a1", "to": "a4"}, True),
    ],
)
def test_claims_are_read_off_the_moves(moves, claim, shown):
    assert ("claim" not in claimed(*moves, **claim)) == shown


@pytest.mark.parametrize("claim", [{"kind": "passes"}, {"kind": "into a zone"}, {"kind": "lane is open"}])
def test_a_claim_that_says_too_little_is_a_warning(claim):
    assert claimed(**claim) == ["claim-unclear"]


def test_a_claim_about_one_step_looks_at_that_step_only():
    scene = four_a_side(claims=(Claim(kind="goal", step="s1"),))
    assert keys(scene) == ["claim"]
    assert keys(four_a_side(claims=(Claim(kind="goal", step="s3"),))) == []


def test_every_reason_has_its_sentence():
    found = check(moving(carry("a4", 22, 12)))
    assert found[0].text == "Blue 4 runs with the ball ball at 0 s but does not have it."


def test_segments_that_cross():
    assert crosses((0, 0), (2, 2), (0, 2), (2, 0))
    assert not crosses((0, 0), (1, 1), (2, 0), (3, 5))


def test_top_speed_grows_up():
    assert [top_speed(age) for age in (8, 12, 13, None)] == [7.0, 7.0, 8.17, 10.0]


def test_a_second_ball_is_followed_by_itself():
    first = four_a_side()
    scene = msgspec.structs.replace(
        first,
        balls=(*first.balls, SceneBall(key="other", at="b1")),
        steps=(
            Step(
                key="s1",
                start_s=0,
                end_s=3,
                moves=(
                    ball("a2", 0, 1),
                    BallPath(ball="other", to="b2", start_s=0, end_s=1),
                    RunWithBall(who="b2", ball="other", to_x_m=13, to_y_m=12, start_s=1, end_s=3),
                ),
            ),
        ),
    )
    assert keys(scene) == []
