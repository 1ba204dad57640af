"""A film of a moving plan: who is where on each frame is asked of the scene itself, which knows nothing of pictures."""

import math
from xml.etree import ElementTree

import pytest

from drills.drawing.film import FPS, HOLD_S, LONGEST_S, WIDTH_PX, Film, MovingFigure, stilled
from drills.drawing.pose import pose_at
from drills.drawing.svg import DrawingOptions, render
from drills.drawing.svg.figures import foot
from drills.drawing.svg.sheet import lay
from drills.game.scene import Run, Step
from tests.drills.drawing.scenes import four_a_side, six_steps

SVG = "{http://www.w3.org/2000/svg}"
NEAR_U = 0.12  # places are written to a tenth of a unit, and times to a thousandth of a way


def film(scene, turn=0):
    return Film(render(scene, options=DrawingOptions(moving=True, turn=turn)), scene.steps[-1].end_s)


def keyed(figures: tuple[MovingFigure, ...]) -> dict[str, MovingFigure]:
    """By the key of the scene; every figure has one."""
    return {_key(each): each for each in figures}


def _key(figure: MovingFigure) -> str:
    (key,) = {each.attrib["data-key"] for each in figure.look.iter() if "data-key" in each.attrib}
    return key


def shown_steps(svg: str) -> list[str]:
    groups = ElementTree.fromstring(svg).iter(f"{SVG}g")
    return [each.attrib["data-step"] for each in groups if each.get("display") == "inline"]


@pytest.mark.parametrize("turn", [0, 90])
def test_everybody_is_where_the_scene_says_at_each_frame(turn: int) -> None:
    scene = four_a_side(six_steps())
    made, sheet = film(scene, turn), lay(scene, DrawingOptions(turn=turn))
    figures, (dx, dy) = keyed(made.figures), foot(sheet)
    assert set(figures) >= {each.key for each in scene.players if each.key in {"a2", "a3", "a4", "b2"}}
    for time_s in made.times_s:
        pose = pose_at(scene, time_s)
        for key, figure in figures.items():
            x, y = figure.at(time_s)
            if key in pose.players:
                assert math.dist((x, y), sheet.at(pose.players[key])) < NEAR_U, (key, time_s)
                continue
            ball = pose.balls[key]
            at = sheet.at((ball.x_m, ball.y_m))
            beside = (at[0] + dx, at[1] + dy)
            if ball.holder is not None:
                assert math.dist((x, y), beside) < NEAR_U, (key, time_s)
            else:  # on its way from a foot to a foot, or to where nobody is
                assert math.dist(at, (x, y)) + math.dist((x, y), beside) < math.hypot(dx, dy) + NEAR_U


def test_a_film_begins_with_the_first_and_ends_with_the_last_moment_held() -> None:
    made = film(four_a_side())
    assert made.speed == 1
    assert (made.times_s[0], made.times_s[1]) == (0, pytest.approx(1 / FPS))
    assert made.times_s[-FPS:] == (7.0,) * FPS
    assert made.times_s[-FPS - 1] < 7.0
    assert len(made.times_s) == 7 * FPS + FPS * HOLD_S
    frames = list(made.frames())
    assert [time_s for time_s, _ in frames] == list(made.times_s)
    assert frames[-1][1] == frames[-FPS][1] != frames[-2 * FPS][1]
    last = {
        each.get("data-key"): each
        for each in ElementTree.fromstring(frames[-1][1]).iter()
        if each.get("data-key")
    }
    x, y = lay(four_a_side(), DrawingOptions()).at((24, 5))  # where a3 has run to
    assert last["a3"].attrib["transform"] == f"translate({x:.1f} {y:.1f})"


def test_nothing_in_a_frame_moves_any_more() -> None:
    assert all("<animate" not in svg for _, svg in film(four_a_side()).frames())


def test_paths_are_there_while_their_step_lasts() -> None:
    made = film(four_a_side())
    seen = [shown_steps(made.whole(time_s)) for time_s in (0, 1.9, 2.1, 4.9, 5.1, 7)]
    assert seen == [["1"], ["1"], ["2"], ["2"], ["3"], ["3"]]


def test_the_ground_is_the_picture_without_its_figures_and_the_same_within_a_step() -> None:
    made = film(four_a_side())
    assert made.ground(2.1) == made.ground(4.9) != made.ground(5.1)
    assert not set(keyed(made.figures)) & {
        each.get("data-key") for each in ElementTree.fromstring(made.ground(0)).iter()
    }


def test_what_takes_longer_than_a_film_may_plays_faster_and_whole() -> None:
    run = Run(who="a4", to_x_m=22, to_y_m=15, start_s=0, end_s=95)
    made = film(four_a_side((Step(key="s", start_s=0, end_s=95, moves=(run,)),)))
    assert made.speed == 95 / (LONGEST_S - HOLD_S) == 5
    assert len(made.times_s) == LONGEST_S * FPS
    assert made.times_s[-1] == 95


@pytest.mark.parametrize("turn", [0, 90])
def test_a_frame_is_even_and_holds_the_whole_picture(turn: int) -> None:
    made = film(four_a_side(), turn)
    wide, tall = made.size_px
    _, _, width, height = made.box
    assert (wide, wide % 2, tall % 2) == (WIDTH_PX, 0, 0)
    assert 0 <= tall - height * wide / width < 2


@pytest.mark.parametrize(
    "animation",
    [
        '<animateTransform type="rotate" dur="1s" values="0 0;1 1"/>',
        '<animate attributeName="opacity" calcMode="linear" dur="1s" values="0;1"/>',
    ],
)
def test_an_animation_that_no_plan_has_is_refused_not_left_out(animation: str) -> None:
    with pytest.raises(ValueError, match="is not a plan's"):
        stilled(ElementTree.fromstring(f'<g xmlns="{SVG[1:-1]}">{animation}</g>'), 0.5)


def test_a_jump_is_where_it_jumps_to() -> None:
    way = '<animateTransform type="translate" begin="1s" dur="2s" values="0 0;4 0;8 2;8 4" keyTimes="0;.5;.5;1"/>'
    piece = ElementTree.fromstring(f'<g xmlns="{SVG[1:-1]}">{way}</g>')
    places = [stilled(piece, time_s).get("transform") for time_s in (0, 1.5, 1.999, 2, 2.5, 3, 9)]
    wanted = ["0 0", "2 0", "4 0", "8 2", "8 3", "8 4", "8 4"]
    assert places == [f"translate({each})" for each in wanted]
