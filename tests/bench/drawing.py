"""What drawing costs, beside the same tree copied and written by the standard library alone."""

import gzip
import statistics
import time
from collections.abc import Callable, Sequence
from xml.etree.ElementTree import Element, fromstring, tostring

from msgspec.structs import replace

from drills.drawing.svg import DrawingOptions, render
from drills.game.scene import Scene
from tests.drills.drawing.scenes import four_a_side, six_steps

ROUNDS = 61


def test_drawing() -> None:
    """Each round draws another plan, so that nothing is found ready from the round before. The bar is 3 ms."""
    scenes = [_shifted(four_a_side(six_steps()), 0.013 * n) for n in range(ROUNDS)]
    print(
        f"\n{'12 players, 6 steps':<24}{'bytes':>8}{'gzip':>7}{'ms':>7}{'least':>7}{'bare ms':>9}{'ratio':>7}"
    )
    for name, options in (
        ("the whole, still", DrawingOptions()),
        ("in motion", DrawingOptions(moving=True)),
        ("without colours", DrawingOptions(hatched="always")),
        ("thumbnail", DrawingOptions(thumbnail=True)),
    ):
        text = render(scenes[0], options=options)
        trees = [fromstring(text)] * ROUNDS
        cost = _times(lambda scene, options=options: render(scene, options=options), scenes)
        bare = statistics.median(_times(_bare, trees))
        packed, middle = len(gzip.compress(text.encode())), statistics.median(cost)
        print(
            f"{name:<24}{len(text):>8}{packed:>7}{middle:>7.2f}{min(cost):>7.2f}{bare:>9.2f}{middle / bare:>7.1f}"
        )


def _shifted(scene: Scene, by_m: float) -> Scene:
    players = tuple(replace(each, x_m=each.x_m + by_m, y_m=each.y_m - by_m) for each in scene.players)
    return replace(scene, players=players)


def _bare(tree: Element) -> str:
    return tostring(_copy(tree), encoding="unicode")


def _copy(element: Element) -> Element:
    made = Element(element.tag)
    for name, value in element.items():
        made.set(name, value)
    made.text, made.tail = element.text, element.tail
    for child in element:
        made.append(_copy(child))
    return made


def _times(work: Callable[..., object], things: Sequence[object]) -> list[float]:
    times = []
    for each in things:
        began = time.process_time()  # other work on the machine does not count
        work(each)
        times.append((time.process_time() - began) * 1000)
    return times
