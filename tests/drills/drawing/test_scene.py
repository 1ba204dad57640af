import msgspec
import pytest

from drills.game.scene import (
    BallPath,
    Claim,
    Run,
    Scene,
    SceneBall,
    SceneGoal,
    ScenePlayer,
    Step,
)
from tests.drills.drawing.scenes import four_a_side


def encoded(**fields):
    return msgspec.json.encode({"length_m": 20, "width_m": 15, **fields})


def decode(data):
    return msgspec.json.decode(data, type=Scene)


def test_a_scene_survives_writing_and_reading():
    scene = four_a_side()
    assert decode(msgspec.json.encode(scene)) == scene


def test_the_version_is_always_written():
    written = msgspec.json.decode(msgspec.json.encode(Scene(length_m=20, width_m=15)))
    assert written["scene_version"] == 1


def test_another_version_is_refused():
    with pytest.raises(msgspec.ValidationError, match="scene_version"):
        decode(encoded(scene_version=2))


@pytest.mark.parametrize(
    ("fields", "complaint"),
    [
        ({"colour": "red"}, "unknown field `colour`"),
        ({"length_m": 0}, "length_m"),
        ({"players": [{"key": "a1", "x_m": 201, "y_m": 0}]}, "x_m"),
        ({"players": [{"key": "a1", "x_m": 1, "y_m": 0, "label": "x" * 41}]}, "label"),
        ({"players": [{"key": "a 1", "x_m": 1, "y_m": 0}]}, "key"),
        (
            {"cones": [{"key": f"c{n}", "x_m": 1, "y_m": 1} for n in range(201)]},
            "items: 201 are more than 200",
        ),
        ({"balls": [{"key": "ball", "at": "a9"}]}, "balls.at: there is no 'a9'"),
    ],
)
def test_what_does_not_belong_is_refused_by_name(fields, complaint):
    with pytest.raises(msgspec.ValidationError) as refusal:
        decode(encoded(**fields))
    assert complaint in str(refusal.value)


def one(key="a1"):
    return ScenePlayer(key=key, x_m=1, y_m=1)


def with_moves(*moves, end_s=2.0):
    return {
        "length_m": 20,
        "width_m": 15,
        "players": (one(),),
        "balls": (SceneBall(key="ball"),),
        "steps": (Step(key="s1", start_s=0, end_s=end_s, moves=moves),),
    }


@pytest.mark.parametrize(
    ("fields", "complaint"),
    [
        ({"length_m": 9, "width_m": 9, "players": (one(), one())}, r"key: 'a1' is used twice"),
        (with_moves(Run(who="a2", to_x_m=1, to_y_m=1, start_s=0, end_s=1)), r"moves\.who"),
        (with_moves(BallPath(ball="b", to="a1", start_s=0, end_s=1)), r"moves\.ball"),
        (with_moves(BallPath(ball="ball", start_s=0, end_s=1)), r"moves\.to"),
        (
            with_moves(BallPath(ball="ball", to="a1", to_x_m=1.0, to_y_m=2.0, start_s=0, end_s=1)),
            r"moves\.to",
        ),
        (with_moves(Run(who="a1", to_x_m=1, to_y_m=1, start_s=1, end_s=3)), r"steps\.s1\.moves"),
        (with_moves(end_s=0.0), r"steps\.s1"),
        ({"length_m": 9, "width_m": 9, "claims": (Claim(kind="goal", step="s1"),)}, r"claims\.step"),
    ],
)
def test_contradictions_are_refused_by_name(fields, complaint):
    with pytest.raises(ValueError, match=complaint):
        Scene(**fields)


def test_more_than_two_hundred_moves_are_refused():
    run = Run(who="a1", to_x_m=1, to_y_m=1, start_s=0, end_s=1)
    steps = tuple(Step(key=f"s{n}", start_s=n, end_s=n + 1, moves=()) for n in range(1, 5))
    first = Step(key="s0", start_s=0, end_s=1, moves=(run,) * 201)
    with pytest.raises(ValueError, match=r"moves: 201"):
        Scene(length_m=9, width_m=9, players=(one(),), steps=(first, *steps))


def test_moving_an_item_leaves_the_rest():
    scene = four_a_side()
    moved = scene.with_item_moved("a1", 6, 7)
    assert (moved.item("a1").x_m, moved.item("a1").y_m) == (6, 7)
    assert [each for each in moved.items() if each.key != "a1"] == [
        each for each in scene.items() if each.key != "a1"
    ]


def test_a_goal_slides_along_its_edge():
    assert four_a_side().with_item_moved("left", 12, 7).item("left").along_m == 7
    assert four_a_side().with_item_moved("third", 12, 7).item("third").along_m == 12


def test_a_free_goal_and_the_coach_go_anywhere():
    scene = Scene(length_m=9, width_m=9, goals=(SceneGoal(key="g", edge="free"),))
    assert scene.with_item_moved("g", 3, 4).goals[0].x_m == 3
    assert four_a_side().with_item_moved("coach", 1, -2).coach.x_m == 1


def test_a_ball_that_is_moved_lies_on_the_ground():
    ball = four_a_side().with_item_moved("ball", 3, 4).item("ball")
    assert (ball.at, ball.x_m, ball.y_m) == (None, 3, 4)


def test_moving_what_is_not_there_gives_nothing():
    assert four_a_side().with_item_moved("a9", 1, 1) is None
