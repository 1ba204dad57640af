import re
from collections import Counter
from xml.etree.ElementTree import fromstring

import pytest

from drills.drawing.lanes import open_options
from drills.drawing.pace import pace_for
from drills.drawing.svg import DrawingOptions, render
from drills.drawing.words import say_lanes
from drills.game.scene import BallPath, Run, Scene, SceneBall, SceneGoal, Step
from tests.drills.drawing.scenes import four_a_side, player, six_steps

SVG = "{http://www.w3.org/2000/svg}"


def drawn(scene=None, *, step=None, **options):
    return fromstring(render(scene or four_a_side(), step=step, options=DrawingOptions(**options)))


def having(root, cls):
    return [each for each in root.iter() if cls in each.get("class", "").split()]


def item(root, key):
    found = [each for each in root.iter() if each.get("data-key") == key]
    assert len(found) == 1
    return found[0]


def spot(root, key):
    x, y = re.fullmatch(r"translate\((\S+) (\S+)\)", item(root, key).get("transform")).groups()
    return float(x), float(y)


def box(element):
    return [float(element.get(name)) for name in ("x", "y", "width", "height")]


def structure(root):
    """What is on a plan, leaving out where and how large: the golden picture."""
    return Counter(
        word
        for each in root.iter()
        if each.get("class") and "mark" not in each.get("class")
        for word in each.get("class").split()
    )


def test_the_golden_plan_has_these_parts():
    found = structure(drawn(legend=False))
    parts = {
        "plan": 1,
        "paper": 1,
        "square": 1,
        "square-5": 1,
        "grid": 1,
        "zone": 2,
        "dimension": 5,
        "goal-open": 2,
        "goal-shut": 1,
        "gate": 1,
        "cone": 4,
        "step": 3,
        "move": 6,
        "run": 2,
        "carry": 1,
        "badge": 3,
        "player": 12,
        "side-A": 5,
        "side-B": 5,
        "side-neutral": 2,
        "keeper": 2,
        "coach": 1,
    }
    assert {word: found[word] for word in parts} == parts


def test_the_same_scene_gives_the_same_bytes():
    assert render(four_a_side()) == render(four_a_side())


def test_the_grid_is_to_scale():
    _, _, width, height = box(having(drawn(), "grid")[0])
    assert width / height == pytest.approx(30 / 20, rel=0.002)


def test_everybody_stands_to_scale():
    root = drawn()
    left, top, width, height = box(having(root, "grid")[0])
    for each in four_a_side().players:
        x, y = spot(root, each.key)
        assert (x - left) / width * 30 == pytest.approx(each.x_m, abs=0.02)
        assert (top + height - y) / height * 20 == pytest.approx(each.y_m, abs=0.02)


def test_goals_and_zones_are_to_scale():
    root = drawn()
    _, _, width, height = box(having(root, "grid")[0])
    assert box(having(root, "zone")[0])[2] / width == pytest.approx(1 / 3, abs=0.001)
    frame = next(each for each in item(root, "left").iter() if each.get("class") == "goal").get("d")
    ys = [float(number) for number in re.findall(r"[ML]\S+ (\S+?)(?=[LZ]|$)", frame)]
    assert (max(ys) - min(ys)) / height == pytest.approx(5 / 20, abs=0.002)


def test_measures_say_metres_on_all_sides_and_zones_in_a_chain():
    figures = [text.text for each in having(drawn(), "dimension") for text in each.iter(f"{SVG}text")]
    assert figures == ["30 m", "20 m", "10 m", "10 m", "10 m"]


@pytest.mark.parametrize(
    ("options", "figures"),
    [
        ({"units": "yd"}, ["32.8 yd", "21.9 yd"]),
        ({"units": "paces", "pace_m": 0.8}, ["38 paces", "25 paces"]),
    ],
)
def test_measures_in_the_readers_units(options, figures):
    found = [text.text for each in having(drawn(**options), "dimension") for text in each.iter(f"{SVG}text")]
    assert found[:2] == figures


@pytest.mark.parametrize("turn", [90, 180, 270])
def test_a_turned_plan_is_the_same_plan_turned(turn):
    root = drawn(turn=turn)
    left, top, width, height = box(having(root, "grid")[0])
    x, y = spot(root, "a4")
    across, down = (x - left) / width, (y - top) / height
    # (19, 11) on 30 × 20: shares from the left and from the top, turned clockwise.
    expected = {90: (11 / 20, 19 / 30), 180: (11 / 30, 11 / 20), 270: (9 / 20, 11 / 30)}[turn]
    assert (across, down) == pytest.approx(expected, abs=0.002)


def test_sides_differ_by_shape():
    root = drawn()
    bodies = {key: having(item(root, key), "body")[0] for key in ("a1", "b1", "n1", "ka1")}
    assert [bodies[key].tag.removeprefix(SVG) for key in bodies] == ["circle", "rect", "circle", "path"]
    assert [len(having(item(root, key), "hole")) for key in bodies] == [0, 0, 1, 0]


def test_third_and_fourth_sides_are_rings():
    scene = Scene(length_m=9, width_m=9, players=(player("c1", 1, 1, "C"), player("a2", 5, 5, "D")))
    root = drawn(scene)
    assert [len(having(item(root, key), "hole")) for key in ("c1", "a2")] == [1, 2]
    assert having(item(root, "c1"), "body")[0].tag == f"{SVG}rect"


def test_everybody_wears_a_label():
    labels = {
        each.key: having(item(drawn(), each.key), "player")[0].find(f"{SVG}text").text
        for each in four_a_side().players
    }
    assert labels == {each.key: each.label for each in four_a_side().players}


def test_long_labels_are_shortened_on_the_plan_only():
    root = drawn(Scene(length_m=9, width_m=9, players=(player("a1", 1, 1, role="winger"),)))
    assert item(root, "a1").find(f"{SVG}text").text == "1"


def test_ball_solid_run_dashed_run_with_ball_wavy():
    root = drawn(legend=False)
    lines = {
        kind: next(each for each in having(root, kind)[0].iter() if each.get("class") == "path")
        for kind in ("run", "carry")
    }
    ball = next(each for each in having(root, "move") if "ball" in each.get("class").split())[0]
    assert (ball.get("stroke-dasharray"), "q" in ball.get("d")) == (None, False)
    assert lines["run"].get("stroke-dasharray") == "5 3"
    assert (lines["carry"].get("stroke-dasharray"), "q" in lines["carry"].get("d")) == (None, True)


def test_a_step_starts_where_the_last_one_ended():
    root = drawn(step=2)
    before = spot(drawn(step=0), "a4")
    assert spot(root, "a4") != before
    assert [each.get("data-step") for each in having(root, "step")] == ["2"]
    assert having(root, "badge") == []


def test_step_nought_has_no_paths():
    assert having(drawn(step=0, legend=False), "move") == []


@pytest.mark.parametrize("step", [-1, 4])
def test_a_step_that_is_not_there_is_refused(step):
    with pytest.raises(ValueError, match="step: must be 0 to 3"):
        render(four_a_side(), step=step)


def test_paths_to_and_fro_lie_beside_each_other():
    moves = (
        BallPath(ball="ball", to="a2", start_s=0, end_s=1),
        BallPath(ball="ball", to="a1", start_s=1, end_s=2),
    )
    scene = Scene(
        length_m=20,
        width_m=10,
        players=(player("a1", 2, 5), player("a2", 18, 5)),
        balls=(SceneBall(key="ball", at="a1"),),
        steps=(Step(key="s1", start_s=0, end_s=2, moves=moves),),
    )
    forth, back = [each[0].get("d") for each in having(drawn(scene, legend=False), "move")]
    height = [float(re.match(r"M\S+ ([\d.]+)L", each).group(1)) for each in (forth, back)]
    assert abs(height[0] - height[1]) > 3


def test_the_legend_names_what_is_there_and_nothing_else():
    legend = having(drawn(), "legend")[0]
    assert [each.text for each in legend.findall(f"{SVG}text")] == [
        "blue",
        "red",
        "yellow, floater",
        "blue keeper",
        "red keeper",
        "ball",
        "run",
        "run with ball",
        "step",
        "goal 5 m",
        "goal 2 m, closed to start",
        "gate 2 m",
        "cone",
    ]
    bare = having(drawn(Scene(length_m=9, width_m=9, players=(player("a1", 1, 1),))), "legend")[0]
    assert [each.text for each in bare.iter(f"{SVG}text")] == ["blue"]


def test_the_legend_stays_on_the_sheet():
    root = drawn()
    _, _, width, height = (float(each) for each in root.get("viewBox").split())
    for each in having(root, "legend")[0].findall(f"{SVG}text"):
        assert 0 <= float(each.get("x")) < width - 10
        assert 0 <= float(each.get("y")) < height


def test_text_alternative_says_set_up_and_steps():
    root = drawn(prefix="p1-")
    assert (root.get("role"), root.get("aria-labelledby")) == ("img", "p1-title p1-desc")
    assert root.find(f"{SVG}title").text == "Out of the first zone: plan of a 30 × 20 m grid"
    assert "Blue 3 shoots at the goal on the right edge." in root.find(f"{SVG}desc").text


def test_a_strict_policy_allows_it():
    text = render(four_a_side(), options=DrawingOptions(hatched="always", lanes=open_options(four_a_side())))
    for forbidden in ("style", "<script", "javascript:", "<image", "http:", "https:", "onload"):
        assert forbidden not in text.replace('xmlns="http://www.w3.org/2000/svg"', "")


def test_ids_are_unique_and_wear_the_prefix():
    ids = [each.get("id") for each in drawn(prefix="d7-").iter() if each.get("id")]
    assert len(ids) == len(set(ids)) > 2
    assert all(each.startswith("d7-") for each in ids)


def test_every_hatch_that_is_used_is_there():
    text = render(four_a_side(), options=DrawingOptions(prefix="x-"))
    used = set(re.findall(r"url\(#([^)]+)\)", text))
    assert used == {"x-hatch-blue", "x-hatch-red", "x-hatch-yellow"}
    assert used <= set(re.findall(r'id="([^"]+)"', text))


def test_without_colours_nothing_but_ink_is_left():
    text = render(four_a_side(), options=DrawingOptions(hatched="always"))
    colours = {each.lower() for each in re.findall(r'(?:fill|stroke)="(#[0-9a-f]+)"', text)}
    reds_blues_greens = [each for each in colours if len(each) == 7 and spread_of(each) > 40]
    assert reds_blues_greens == []


def spread_of(colour):
    channels = [int(colour[n : n + 2], 16) for n in (1, 3, 5)]
    return max(channels) - min(channels)


def test_a_thumbnail_has_no_words_and_no_legend():
    root = drawn(thumbnail=True)
    assert list(root.iter(f"{SVG}text")) == []
    assert having(root, "legend") == having(root, "dimension") == having(root, "square") == []
    assert len(having(root, "player")) == 12
    assert len(render(four_a_side(), options=DrawingOptions(thumbnail=True))) < 8_000


def test_a_small_plan_leaves_out_paths_that_would_be_specks():
    moves = tuple(
        Run(who=who, to_x_m=x, to_y_m=y, start_s=0, end_s=2)
        for who, x, y in (("a1", 5, 10.5), ("a2", 21, 16))
    )
    scene = four_a_side((Step(key="s1", start_s=0, end_s=2, moves=moves),))
    counts = [len(having(drawn(scene, thumbnail=small, legend=False), "move")) for small in (False, True)]
    assert counts == [2, 1]


def test_a_usual_large_plan_stays_small():
    assert len(render(four_a_side(six_steps())).encode()) <= 25_000


def test_open_lanes_are_drawn_through_and_shut_ones_dotted_and_crossed():
    lanes = open_options(four_a_side(), pace=pace_for(12))
    root = drawn(step=0, lanes=lanes)
    assert len(having(root, "lane-open")) == sum(lane.open for lane in lanes)
    assert len(having(root, "lane-shut")) == sum(not lane.open for lane in lanes) > 0
    crosses = [each for each in having(root, "cut") if each not in having(having(root, "legend")[0], "cut")]
    assert len(crosses) == sum(not lane.open for lane in lanes)
    dotted = [
        {each[0].get("stroke-dasharray") for each in having(root, cls)} for cls in ("lane-open", "lane-shut")
    ]
    assert dotted == [{None}, {"1.2 2.6"}]


def test_drawn_lanes_are_in_the_text_alternative():
    lanes = open_options(four_a_side(), pace=pace_for(12))
    told, plain = (drawn(step=0, lanes=each).find(f"{SVG}desc").text for each in (lanes, ()))
    assert told == f"{plain} {say_lanes(four_a_side(), lanes)}"


def test_lanes_are_in_the_legend_only_when_they_are_drawn():
    lanes = open_options(four_a_side(), pace=pace_for(12))
    said = [each.text for each in having(drawn(step=0, lanes=lanes), "legend")[0].iter(f"{SVG}text")]
    assert {"open lane", "closed lane"} <= set(said)


def test_a_ball_in_the_air_is_bowed():
    high = BallPath(ball="ball", to="a4", start_s=0, end_s=2, high=True)
    root = drawn(four_a_side((Step(key="s1", start_s=0, end_s=2, moves=(high,)),)))
    assert "Q" in having(root, "high")[0][0].get("d")
    assert "ball in the air" in [each.text for each in having(root, "legend")[0].iter(f"{SVG}text")]
    assert "Blue 1 plays it through the air to blue 4." in root.find(f"{SVG}desc").text


def test_goals_beyond_the_margin_stay_on_the_sheet():
    scene = Scene(
        length_m=40, width_m=30, margin_m=0, goals=(SceneGoal(key="g", edge="top", along_m=20, width_m=7.32),)
    )
    frame = next(each for each in item(drawn(scene), "g").iter() if each.get("class") == "goal").get("d")
    assert min(float(each) for each in re.findall(r"[ML]\S+ (\S+?)(?=[LZ]|$)", frame)) >= 0


@pytest.mark.parametrize("options", [{"turn": 45}, {"pace_m": 0}])
def test_impossible_options_are_refused_by_name(options):
    with pytest.raises(ValueError, match=f"^{next(iter(options))}:"):
        DrawingOptions(**options)


def test_words_of_the_picture_are_translated():
    root = drawn(translate=lambda text: f"<{text}>" if text in ("run", "Coach") else text)
    said = [each.text for each in root.iter(f"{SVG}text")]
    assert {"<run>", "<Coach>"} <= set(said)
