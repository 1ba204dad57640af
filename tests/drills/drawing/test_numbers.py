"""Numbers on a plan are those of the steps, on ways of the ball alone, as the sentences beside it have them."""

import math
import re
from collections import Counter
from xml.etree.ElementTree import Element

import pytest

from drills.drawing.words import describe, say_step
from drills.game.scene import BallPath, Step
from tests.bibrack.demo.documents import SLUGS
from tests.drills.drawing.pictures import SVG, body_and_legend, classed, drawn, scenes
from tests.drills.drawing.scenes import four_a_side


def numbers(root: Element) -> list[str]:
    body, _legend = body_and_legend(root)
    return [
        text.text or ""
        for part in body
        for each in classed(part, "number")
        for text in each.iter(f"{SVG}text")
    ]


def near_a_way(root: Element, number: Element) -> set[str]:
    """The steps that have a way of the ball as near to the middle of a number as one beside its way is."""
    (disc,) = classed(number, "badge")
    at = float(disc.get("cx")), float(disc.get("cy"))
    found = set()
    for step in classed(root, "step"):
        ways = [*classed(step, "ball"), *classed(step, "high")]
        points = [point for way in ways for point in along(classed(way, "path")[0].get("d"))]
        if min((math.dist(at, each) for each in points), default=math.inf) < 10:
            found.add(step.get("data-step"))
    return found


def along(path: str) -> list[tuple[float, float]]:
    """Points of a straight line, or of a bow with one handle (the formula of a quadratic Bézier curve)."""
    ends = [tuple(map(float, each)) for each in re.findall(r"(-?[\d.]+) (-?[\d.]+)", path)]
    (ax, ay), (bx, by) = ends[0], ends[-1]
    hx, hy = ends[1] if len(ends) == 3 else ((ax + bx) / 2, (ay + by) / 2)
    shares = [n / 60 for n in range(61)]
    return [
        (
            (1 - t) ** 2 * ax + 2 * t * (1 - t) * hx + t**2 * bx,
            (1 - t) ** 2 * ay + 2 * t * (1 - t) * hy + t**2 * by,
        )
        for t in shares
    ]


@pytest.mark.parametrize("slug", SLUGS)
def test_each_number_is_that_of_the_step_whose_sentence_tells_of_the_ball(slug: str) -> None:
    for scene in scenes(slug):
        told = describe(scene)
        ways = {
            str(number): sum(isinstance(each, BallPath) for each in step.moves)
            for number, step in enumerate(scene.steps, start=1)
        }
        several = sum(ways.values()) > 1 and len(ways) > 1
        root = drawn(scene)
        written = Counter(numbers(root))
        assert written == Counter(ways if several else {})
        for number, count in written.items():
            assert re.search(rf"Step {number}\b", told)
            balls = re.findall(r" (?:passes|plays|shoots|lifts)", say_step(scene, int(number)))
            assert len(balls) == count, say_step(scene, int(number))
        for each in (one for group in classed(root, "numbers") for one in group):
            assert "".join(each.itertext()) in near_a_way(root, each)


def test_no_way_runs_over_a_number() -> None:
    order = [each.get("class") for each in drawn(four_a_side())]
    assert order.index("numbers") == max(n for n, each in enumerate(order) if each == "step") + 1


def test_a_single_way_of_the_ball_has_no_number() -> None:
    first, second, _third = four_a_side().steps
    assert numbers(drawn(four_a_side((first, second)))) == []
    assert numbers(drawn(four_a_side())) == ["1", "3", "3"]


def test_one_step_alone_and_what_moves_and_what_is_small_have_no_numbers() -> None:
    scene = four_a_side()
    assert numbers(drawn(scene, step=3)) == numbers(drawn(scene, moving=True)) == []
    assert classed(drawn(scene, thumbnail=True), "number") == []


def test_the_number_of_a_short_way_stands_beside_it() -> None:
    """Else it would hide the arrow: 1.2 m on this plan is shorter than the number is wide."""
    short = BallPath(ball="ball", to_x_m=5.2, to_y_m=10, start_s=0, end_s=1)
    on = BallPath(ball="ball", to_x_m=14, to_y_m=10, start_s=1, end_s=2)
    steps = (
        Step(key="s1", start_s=0, end_s=1, moves=(short,)),
        Step(key="s2", start_s=1, end_s=2, moves=(on,)),
    )
    root = drawn(four_a_side(steps))
    (way, _), (disc, _) = classed(root, "path")[:2], classed(root, "badge")[:2]
    ys = [float(each) for each in re.findall(r"[ML]\S+ ([\d.]+)", way.get("d"))]
    assert abs(float(disc.get("cy")) - ys[0]) > float(disc.get("r")) + 1.5
