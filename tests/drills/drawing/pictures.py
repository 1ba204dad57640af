"""The plans of the demo drills, and what a reader of the picture finds on one: marks by their classes, entries of the legend."""

import math
import re
from collections.abc import Iterator
from xml.etree.ElementTree import Element, fromstring

from drills.drawing.pace import pace_for
from drills.drawing.picture import scene_of
from drills.drawing.reading import moments
from drills.drawing.svg import DrawingOptions, render
from drills.game.document import DrillDocument
from drills.game.played import as_played
from drills.game.scene import Scene
from tests.bibrack.demo.documents import demo_document

SVG = "{http://www.w3.org/2000/svg}"
PATHS = ("ball", "high", "run", "carry")


def rungs(document: DrillDocument) -> tuple[str, ...]:
    """The drill as written, then each variation, by key."""
    return ("", *(each.key for each in document.variations))


def scenes(slug: str) -> Iterator[Scene]:
    """The plan of each rung of a demo drill."""
    document = demo_document(slug)
    for rung in rungs(document):
        yield scene_of(as_played(document, rung))


def pictures(scene: Scene) -> Iterator[tuple[str, Element]]:
    """Every picture of a plan, with its name: whole, each step with its lanes, with seconds and without, in motion, on paper."""
    starts = {each.number: each.lanes for each in moments(scene, pace_for(12))}
    every = tuple(starts.get(number, ()) for number in range(1, len(scene.steps) + 1))
    yield "whole", drawn(scene)
    yield "without colours", drawn(scene, hatched="always", turn=90)
    yield "in motion", drawn(scene, moving=True, moments=every, seconds="asked")
    for number in range(len(scene.steps) + 1):
        lanes = starts.get(number, ())
        yield f"step {number}", drawn(scene, step=number, lanes=lanes)
        yield f"step {number} with seconds", drawn(scene, step=number, lanes=lanes, seconds="always")
        yield f"step {number} on demand", drawn(scene, step=number, lanes=lanes, seconds="asked")


def drawn(scene: Scene, *, step: int | None = None, **options) -> Element:
    return fromstring(render(scene, step=step, options=DrawingOptions(**options)))


def classed(root: Element, word: str) -> list[Element]:
    """Everything with a class, whether it is in the legend or not."""
    return [each for each in root.iter() if word in each.get("class", "").split()]


def body_and_legend(root: Element) -> tuple[list[Element], Element]:
    """The drawing and its legend, as a reader tells them apart."""
    (legend,) = classed(root, "legend")
    return [each for each in root if each is not legend], legend


def shown(element: Element, *, hidden: bool) -> Iterator[Element]:
    """An element and what is in it: what is seen at once, or, with `hidden`, what a page may still show."""
    if (element.get("display") == "none") and "hatch" not in element.get("class", ""):
        if hidden:
            yield from element.iter()
        return
    if not hidden:
        yield element
    for each in element:
        yield from shown(each, hidden=hidden)


def metres_between(path: str, scale: float) -> float:
    """From the first point of a path to its last, in metres."""
    points = [tuple(map(float, each)) for each in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path)]
    return math.dist(points[0], points[-1]) / scale
