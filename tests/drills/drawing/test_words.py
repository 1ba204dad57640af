import math

import pytest

from drills.drawing.lanes import Lane
from drills.drawing.words import (
    describe,
    group_names,
    player_name,
    say_lanes,
    say_receiver,
    title_of,
    way_of,
)
from drills.game.scene import Scene, SceneBall, ScenePlayer
from drills.game.wording.catalogue import CATALOGUE
from tests.drills.drawing.scenes import four_a_side, player


def test_the_title_names_the_drill_and_the_grid():
    assert title_of(four_a_side()) == "Out of the first zone: plan of a 30 × 20 m grid"


def test_the_set_up_in_words():
    assert describe(four_a_side(), step=0) == (
        "The grid is 30 m long and 20 m wide, the length from left to right. "
        "4 blue inside. 4 red inside. 2 yellow, floater outside. 1 blue keeper in goal. 1 red keeper in goal. "
        "First zone: 10 × 20 m, from 0 m to 10 m along the length. "
        "Last zone: 10 × 20 m, from 20 m to 30 m along the length. "
        "A goal 5 m wide on the left edge. A goal 5 m wide on the right edge. "
        "A goal 2 m wide on the top edge, closed to start. One gate to go through. "
        "The ball is with blue 1. 6 balls lie ready. The coach stands outside the grid."
    )


def test_each_step_in_words():
    told = describe(four_a_side())
    assert (
        "Step 1, Past the first line: Blue 1 passes to blue 2. Blue 4 runs 5 m up and to the right." in told
    )
    assert "Step 2: Blue 2 runs with the ball 6 m to the right. Blue 3 runs 12 m to the right." in told
    assert "Step 3: Blue 2 passes to blue 3. Blue 3 shoots at the goal on the right edge." in told


def test_one_step_alone():
    told = describe(four_a_side(), step=2)
    assert "Step 2:" in told
    assert "Step 1" not in told
    assert "Step 3" not in told


def test_a_ball_each_is_said_once():
    players = tuple(player(f"a{n}", n, 1) for n in (1, 2, 3))
    balls = tuple(SceneBall(key=f"ball{n}", at=f"a{n}") for n in (1, 2, 3))
    assert "3 players have a ball each." in describe(
        Scene(length_m=9, width_m=9, players=players, balls=balls)
    )


def test_a_side_without_bibs_is_called_by_its_letter_and_a_role_is_said():
    plain = ScenePlayer(key="b1", x_m=1, y_m=1, side="B", label="9", role="target")
    assert player_name(plain) == "side B 9 (target)"


def test_groups_are_named_once_each_in_the_order_written():
    assert [name for _, name in group_names(four_a_side())] == [
        "blue",
        "red",
        "yellow, floater",
        "blue keeper",
        "red keeper",
    ]


def test_directions_are_those_of_the_plan():
    ways = [way_of((0, 0), end) for end in ((1, 0), (1, 1), (0, 1), (-1, 0), (0, -1), (1, -1))]
    assert ways == [
        "to the right",
        "up and to the right",
        "up",
        "to the left",
        "down",
        "down and to the right",
    ]


def test_every_message_can_be_translated():
    asked = []

    def note(text):
        asked.append(text)
        return text

    describe(four_a_side(), translate=note)
    wordings = {CATALOGUE[f"plan_{key}"].text for key in ("grid", "passes", "shoots")}
    assert {*wordings, "blue", "up and to the right"} <= set(asked)


def test_lanes_are_said_with_what_awaits_the_receiver():
    lanes = {
        "open": Lane("a1", "a2", (4, 10), (11, 16), 0.4, None, None, 0.9, "b2"),
        "pressed": Lane("a1", "a3", (4, 10), (12, 4), 0.1, None, None, 0.5, "b3"),
        "shut": Lane("a1", "a4", (4, 10), (19, 11), -0.4, "b1", (9, 10), -0.1, "b2"),
        "nobody": Lane("a1", "ka1", (4, 10), (0.8, 10), math.inf, None, None, math.inf, None),
    }
    assert say_lanes(four_a_side(), lanes.values()) == (
        "Pass to blue 2: open, has time. Pass to blue 3: open, pressed at once by red 3. "
        "Pass to blue 4: closed by red 1. Pass to blue keeper: open, has time."
    )
    names = {"b2": "red 2"}
    assert say_receiver(lanes["shut"], names) == "closed down on arrival by red 2"


@pytest.mark.parametrize(
    ("margin_s", "awaits"),
    [
        (-0.1, "closed down on arrival by red 2"),
        (0.0, "closed down on arrival by red 2"),
        (0.79, "pressed at once by red 2"),
        (0.8, "has time"),
    ],
)
def test_what_awaits_a_receiver_goes_by_who_is_there_first(margin_s, awaits):
    lane = Lane("a1", "a2", (4, 10), (11, 16), 0.4, None, None, margin_s, "b2")
    assert say_receiver(lane, {"b2": "red 2"}) == awaits
