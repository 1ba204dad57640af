"""Words on a plan cross no line and hide nobody, where there is room at all."""

import math
from itertools import pairwise

import pytest
from msgspec.structs import replace

from drills.drawing.lanes import open_options
from drills.drawing.paper import PAPER
from drills.drawing.svg import DrawingOptions
from drills.drawing.svg.figures import WORD
from drills.drawing.svg.ground import zone_titles
from drills.drawing.svg.room import Stand, first_free, round_about
from drills.drawing.svg.sheet import lay
from drills.game.scene import BallPath, SceneBall, ScenePlayer, Step
from tests.drills.drawing.pictures import SVG, classed, drawn
from tests.drills.drawing.scenes import four_a_side

SCENE = replace(
    four_a_side(), margin_m=6, players=(), goals=(), cones=(), zones=(), balls=(), steps=(), coach=None
)


def stand_at(x_m: float, y_m: float, scene=SCENE) -> Stand:
    sheet = lay(scene, DrawingOptions())
    return first_free(sheet, sheet.at((x_m, y_m)), "Coach", WORD, round_about(9))


@pytest.mark.parametrize(
    ("x_m", "y_m", "anchor"),
    [(15, 10, "start"), (-1.5, 10, "end"), (34, 10, "middle"), (28.5, 10, "end"), (15, -3, "start")],
)
def test_a_word_stands_on_the_first_side_where_it_crosses_no_line(
    x_m: float, y_m: float, anchor: str
) -> None:
    assert stand_at(x_m, y_m).anchor == anchor


def test_a_word_makes_way_for_whoever_stands_there() -> None:
    beside = replace(four_a_side().players[0], x_m=17.5, y_m=10)
    assert stand_at(15, 10, replace(SCENE, players=(beside,))).anchor == "end"


def test_a_word_without_any_room_hides_as_few_as_it_can() -> None:
    crowd = tuple(
        replace(four_a_side().players[0], key=f"p{n}", x_m=13.5 + n % 4, y_m=8.5 + n // 4) for n in range(16)
    )
    sheet = lay(replace(SCENE, players=crowd), DrawingOptions())
    at = sheet.at((15.1, 10.1))

    def hidden(stand: Stand) -> int:
        left, top, right, bottom = stand.box(at, "Coach", WORD)
        spots = [sheet.at((each.x_m, each.y_m)) for each in crowd]
        near = [(max(left - x, 0, x - right), max(top - y, 0, y - bottom)) for x, y in spots]
        return sum(math.hypot(*each) < sheet.radius_u for each in near)

    chosen = first_free(sheet, at, "Coach", WORD, round_about(9))
    assert 0 < hidden(chosen) == min(map(hidden, round_about(9)))


def test_words_do_not_stand_on_each_other() -> None:
    sheet = lay(SCENE, DrawingOptions())
    first, second = (first_free(sheet, sheet.at((15, 10)), "Coach", WORD, round_about(9)) for _ in range(2))
    assert (first.anchor, second.anchor) == ("start", "end")


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_a_zones_name_keeps_clear_of_people_and_paths(turn: int) -> None:
    """A narrow zone with somebody in each corner and a pass through it: its name stands in two lines where it is free."""
    spots = [(10.9, 10.3), (14.2, 10.3), (10.9, 0.7), (14.2, 0.7)]
    people = tuple(
        replace(four_a_side().players[0], key=f"p{n}", x_m=x, y_m=y) for n, (x, y) in enumerate(spots)
    )
    zone = replace(four_a_side().zones[0], x_m=10, y_m=0, length_m=5, width_m=11, title="the deep sea")
    shot = BallPath(ball="ball", to_x_m=14.8, to_y_m=4, start_s=0, end_s=1)
    scene = replace(
        SCENE, length_m=26, width_m=11, margin_m=2, players=people, zones=(zone,),
        balls=(SceneBall(key="ball", at="p0"),), steps=(Step(key="s1", start_s=0, end_s=1, moves=(shot,)),),
    )  # fmt: skip
    sheet = lay(scene, DrawingOptions(turn=turn))
    zone_titles(sheet)
    left, top, right, bottom = sheet.taken[-1]
    points = [
        (left + (right - left) * n / 20, top + (bottom - top) * m / 5) for n in range(21) for m in range(6)
    ]
    for x, y in (sheet.at(each) for each in spots):
        assert min(math.dist((x, y), each) for each in points) > sheet.radius_u * 0.9
    (ax, ay), (bx, by) = sheet.paths[0]
    sides = {(bx - ax) * (y - ay) > (by - ay) * (x - ax) for x, y in points}
    assert len(sides) == 1


def test_what_a_word_takes_up_is_as_wide_on_every_side() -> None:
    boxes = [each.box((50, 50), "Coach", 10) for each in round_about(9)]
    wide = [right - left for left, _, right, _ in boxes]
    assert all(abs(a - b) < 1e-9 for a, b in pairwise(wide))
    assert (boxes[0][0], boxes[1][2]) == (59, 41)


def test_the_coach_is_named_below_where_neither_side_has_room() -> None:
    assert stand_at(-1.9, 10, replace(SCENE, margin_m=3)) == round_about(9)[2]


def test_every_word_on_the_ground_has_paper_behind_it() -> None:
    """Titles of zones, measures, the coach, supplies, an adult's letter; seconds of lanes too. Figures have their own ground."""
    server = ScenePlayer(key="s1", x_m=25, y_m=16, side="neutral", kind="adult", label="C")
    scene = replace(four_a_side(), players=(*four_a_side().players, server))
    root = drawn(scene, step=1, lanes=open_options(scene), seconds="always")
    legend = set(classed(root, "legend")[0].iter())
    over = {child: each for each in root.iter() for child in each}
    found = []
    for text in (each for each in root.iter(f"{SVG}text") if each not in legend):
        if text.get("class", "") in ("label", "label-paper"):
            continue
        ground = next(
            (each for each in (text, over[text], over[over[text]]) if each.get("paint-order")), text
        )
        assert (ground.get("paint-order"), ground.get("stroke")) == ("stroke", PAPER), text.text
        found.append(text.text)
    assert {"First zone", "30 m", "10 m", "Coach", "×6", "C"} < set(found)
    assert any(each.endswith(" s") for each in found)
