"""A faint ghost stands where somebody starts who is drawn elsewhere, in stills, on paper and in motion."""

import math
import re
from xml.etree.ElementTree import Element

import pytest

from drills.drawing.pose import pose_at
from drills.drawing.svg import DrawingOptions
from drills.drawing.svg.sheet import lay
from drills.game.scene import Run, Step
from tests.bibrack.demo.documents import SLUGS
from tests.drills.drawing.pictures import SVG, body_and_legend, classed, drawn, scenes
from tests.drills.drawing.scenes import four_a_side


def ghosts(root: Element) -> list[Element]:
    body, _legend = body_and_legend(root)
    return [each for part in body for group in classed(part, "ghosts") for each in group]


def spots(root: Element) -> list[tuple[float, ...]]:
    where = [re.fullmatch(r"translate\((\S+) (\S+)\)", each.get("transform")) for each in ghosts(root)]
    return sorted(tuple(map(float, each.groups())) for each in where if each)


@pytest.mark.parametrize("step", [None, 0, 1])
def test_at_the_start_nobody_has_a_ghost(step: int | None) -> None:
    assert ghosts(drawn(four_a_side(), step=step)) == []


@pytest.mark.parametrize("turn", [0, 90])
def test_after_a_step_whoever_has_moved_has_a_ghost_at_the_start(turn: int) -> None:
    scene = four_a_side()
    sheet = lay(scene, DrawingOptions(turn=turn))
    moved = {2: ["a4"], 3: ["a2", "a3", "a4"]}
    for step, keys in moved.items():
        starts = [sheet.at((each.x_m, each.y_m)) for each in scene.players if each.key in keys]
        wanted = sorted((round(x, 1), round(y, 1)) for x, y in starts)
        assert spots(drawn(scene, step=step, turn=turn)) == wanted


@pytest.mark.parametrize("slug", SLUGS)
def test_in_every_step_the_bare_starts_have_ghosts_and_no_other_place_has(slug: str) -> None:
    for scene in scenes(slug):
        sheet = lay(scene, DrawingOptions())
        for number, step in enumerate(scene.steps, start=1):
            stood = [sheet.at(each) for each in pose_at(scene, step.start_s).players.values()]
            starts = [sheet.at((each.x_m, each.y_m)) for each in scene.players]
            bare = [each for each in starts if min(math.dist(each, one) for one in stood) >= sheet.radius_u]
            wanted = sorted((round(x, 1), round(y, 1)) for x, y in bare)
            for (ax, ay), (bx, by) in zip(spots(drawn(scene, step=number)), wanted, strict=True):
                assert math.dist((ax, ay), (bx, by)) < 0.15


def test_a_ghost_is_an_outline_that_nobody_takes_for_a_player() -> None:
    root = drawn(four_a_side(), step=3)
    (group,) = (each for each in root if each.get("class") == "ghosts")
    assert (group.get("fill"), group.get("stroke-dasharray")) == ("none", "2 1.8")
    parts = [each for one in ghosts(root) for each in one.iter()]
    assert [each.get("class") or each.get("data-key") or each.get("fill") for each in parts] == [None] * 3
    assert {each.tag for each in parts} == {f"{SVG}circle"}
    order = [each.get("class") for each in root]
    assert order.index("ghosts") < order.index("step") < order.index("players")


def test_a_ghost_has_the_shape_of_the_side() -> None:
    runs = tuple(Run(who=who, to_x_m=15, to_y_m=y, start_s=0, end_s=1)
                 for who, y in (("b1", 1), ("ka1", 5), ("a1", 18)))  # fmt: skip
    steps = (Step(key="s1", start_s=0, end_s=1, moves=runs), Step(key="s2", start_s=1, end_s=2))
    shapes = [each.tag.removeprefix(SVG) for each in ghosts(drawn(four_a_side(steps), step=2))]
    assert shapes == ["circle", "rect", "path"]


def test_who_moves_less_than_their_own_mark_leaves_no_ghost() -> None:
    steps = (
        Step(
            key="s1", start_s=0, end_s=1,
            moves=(Run(who="a1", to_x_m=4.3, to_y_m=10, start_s=0, end_s=1),),
        ),
        Step(key="s2", start_s=1, end_s=2),
    )  # fmt: skip
    scene = four_a_side(steps)
    assert ghosts(drawn(scene, step=2)) == ghosts(drawn(scene, moving=True)) == []


def test_no_ghost_shows_from_under_whoever_stands_there_now() -> None:
    runs = (
        Run(who="a1", to_x_m=15, to_y_m=18, start_s=0, end_s=1),
        Run(who="a3", to_x_m=4, to_y_m=10, start_s=0, end_s=1),
    )
    steps = (Step(key="s1", start_s=0, end_s=1, moves=runs), Step(key="s2", start_s=1, end_s=2))
    scene = four_a_side(steps)
    sheet = lay(scene, DrawingOptions())
    (only,) = spots(drawn(scene, step=2))
    assert only == pytest.approx(sheet.at((12, 4)), abs=0.06)


def test_in_motion_the_ghost_stays_while_the_figure_goes() -> None:
    scene = four_a_side()
    root = drawn(scene, moving=True)
    assert len(ghosts(root)) == 3
    assert [each for one in ghosts(root) for each in one.iter() if each.tag != f"{SVG}circle"] == []
    figures = {each.get("data-key"): each for each in root.iter() if each.get("data-key")}
    at_start = [
        tuple(map(float, re.findall(r"[\d.]+", figures[key].get("transform")))) for key in ("a2", "a3", "a4")
    ]
    for one, other in zip(spots(root), sorted(at_start), strict=True):
        assert one == pytest.approx(other, abs=0.15)  # under the figure until it moves
