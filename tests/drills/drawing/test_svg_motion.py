"""The timed picture, read as any reader of SVG would: key times and values, straight between them."""

import gzip
from xml.etree.ElementTree import fromstring

import pytest

from drills.drawing.lanes import open_options
from drills.drawing.pose import pose_at
from drills.drawing.svg import DrawingOptions, render
from drills.drawing.svg.sheet import lay
from tests.drills.drawing.scenes import four_a_side, six_steps, three_steps

SVG = "{http://www.w3.org/2000/svg}"
MOVING = DrawingOptions(moving=True)
MOMENTS = (0.0, 0.5, 1.0, 2.7, 4.0, 5.5, 6.25, 7.0)


def numbers(text):
    return tuple(float(each) for each in text.split())


def read_at(figure, time_s):
    """Where a figure stands on the sheet at a time of the picture's clock."""
    base = numbers(figure.get("transform").removeprefix("translate(").removesuffix(")"))
    moved = figure.find(f"{SVG}animateTransform")
    if moved is None or time_s < (begin := float(moved.get("begin").removesuffix("s"))):
        return base
    places = [numbers(each) for each in moved.get("values").split(";")]
    share = (time_s - begin) / float(moved.get("dur").removesuffix("s"))
    times = [float(each) for each in (moved.get("keyTimes") or "0;1").split(";")]
    assert len(times) == len(places)
    assert (times[0], times[-1], times) == (0, 1, sorted(times))
    for n in range(1, len(times)):
        if share < times[n]:
            part = (share - times[n - 1]) / (times[n] - times[n - 1])
            return tuple(a + (b - a) * part for a, b in zip(places[n - 1], places[n], strict=True))
    return places[-1]  # fill="freeze"


@pytest.mark.parametrize("turn", [0, 90, 180])
@pytest.mark.parametrize("time_s", MOMENTS)
def test_everybody_and_every_ball_are_where_the_scene_says(time_s, turn):
    scene = four_a_side()
    options = DrawingOptions(moving=True, turn=turn)
    root, sheet = fromstring(render(scene, options=options)), lay(scene, options)
    pose = pose_at(scene, time_s)
    spots = pose.players | {key: (ball.x_m, ball.y_m) for key, ball in pose.balls.items()}
    figures = {each.get("data-key"): each for each in root.iter(f"{SVG}g") if each.get("data-key")}
    assert set(spots) - set(figures) == set()
    for key, spot in spots.items():
        seen, wanted = read_at(figures[key], time_s), sheet.at(spot)
        off_m = max(abs(a - b) for a, b in zip(seen, wanted, strict=True)) / sheet.unit_per_m
        assert off_m < 0.05, (key, time_s)


def test_each_steps_paths_are_there_while_it_lasts_and_the_last_ones_stay():
    root = fromstring(render(four_a_side(), options=MOVING))
    told = [
        (each.get("data-step"), (shown := each.find(f"{SVG}animate")).get("values"), shown.get("keyTimes"))
        for each in root.iter(f"{SVG}g")
        if each.get("class") == "step"
    ]
    assert told == [
        ("1", "inline;none", "0;0.28571"),
        ("2", "none;inline;none", "0;0.28571;0.71428"),
        ("3", "none;inline;inline", "0;0.71428;1"),
    ]


@pytest.mark.parametrize("step", three_steps()[1:], ids=lambda each: each.key)
def test_at_the_very_start_of_a_step_its_own_paths_are_there(step):
    root = fromstring(render(four_a_side(), options=MOVING))
    there = []
    for each in (one for one in root.iter(f"{SVG}g") if one.get("class") == "step"):
        shown = each.find(f"{SVG}animate")
        begun = [
            value
            for value, time in zip(
                shown.get("values").split(";"), shown.get("keyTimes").split(";"), strict=True
            )
            if float(time) * float(shown.get("dur").removesuffix("s")) <= step.start_s
        ]
        there += [each.get("data-step")] * (begun[-1] == "inline")
    assert there == [step.key.removeprefix("s")]


def test_under_the_animation_lies_the_still():
    root = fromstring(render(four_a_side(), options=MOVING))
    assert [each.get("display") for each in root.iter(f"{SVG}g") if each.get("class") == "step"] == [None] * 3
    assert [each for each in root.iter() if each.get("class") == "number"] == []
    assert "animate" not in render(four_a_side())
    assert "animate" not in render(four_a_side(steps=()).__class__(length_m=10, width_m=10), options=MOVING)


def test_whoever_stays_is_not_animated():
    root = fromstring(render(four_a_side(), options=MOVING))
    moved = {
        each.get("data-key")
        for each in root.iter(f"{SVG}g")
        if each.get("data-key") and each.find(f"{SVG}animateTransform") is not None
    }
    assert moved == {"a2", "a3", "a4", "ball"}


def test_the_ball_lies_at_the_foot_of_who_has_it_and_on_its_line_when_it_is_shot():
    root = fromstring(render(four_a_side(), options=MOVING))
    ball = next(each for each in root.iter(f"{SVG}g") if each.get("data-key") == "ball")
    beside = ball.find(f"{SVG}g/{SVG}animateTransform")
    assert (beside.get("values"), beside.get("begin"), beside.get("dur")) == ("8.5 7.2;0 0", "6s", "0.5s")


def test_lanes_of_each_moment_wait_until_a_page_shows_them():
    scene = four_a_side()
    moments = tuple(open_options(scene, time_s=step.start_s) for step in scene.steps)
    root = fromstring(render(scene, options=DrawingOptions(moving=True, moments=moments)))
    waiting = [each for each in root.iter(f"{SVG}g") if each.get("class") == "lanes"]
    assert [(each.get("data-step"), each.get("display"), len(each)) for each in waiting[:3]] == [
        ("1", "none", len(moments[0])),
        ("2", "none", len(moments[1])),
        ("3", "none", len(moments[2])),
    ]
    assert [each.get("data-step") for each in waiting[3:]] == ["1", "2", "3"]  # what is said of them, on top
    assert len(moments[0]) == 6


def test_the_largest_usual_plan_in_motion_is_small():
    text = render(four_a_side(six_steps()), options=MOVING).encode()
    assert (len(text) <= 25_000, len(gzip.compress(text)) <= 5_000) == (True, True)


def test_the_same_scene_moves_in_the_same_bytes():
    assert render(four_a_side(three_steps()), options=MOVING) == render(four_a_side(), options=MOVING)


def test_one_step_alone_does_not_move():
    with pytest.raises(ValueError, match="moving:"):
        render(four_a_side(), step=1, options=MOVING)


def test_no_part_of_it_is_script_or_style():
    text = render(four_a_side(six_steps()), options=MOVING)
    assert [word for word in ("<script", "<style", "style=", "onbegin", "href") if word in text] == []
    assert {each.tag for each in fromstring(text).iter() if "anim" in each.tag} == {
        f"{SVG}animate",
        f"{SVG}animateTransform",
    }
