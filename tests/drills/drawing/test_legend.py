"""The legend is honest: whatever is on a plan and has no name beside it is in the legend, and nothing else is."""

import re
from collections.abc import Iterator
from xml.etree.ElementTree import Element

import pytest
from msgspec.structs import replace

from drills.drawing.lanes import open_options
from drills.drawing.pace import pace_for
from drills.game.scene import Scene
from tests.bibrack.demo.documents import SLUGS
from tests.drills.drawing.pictures import (
    PATHS,
    SVG,
    body_and_legend,
    classed,
    drawn,
    metres_between,
    pictures,
    scenes,
    shown,
)
from tests.drills.drawing.scenes import four_a_side

LANES = ("lane-open", "lane-shut", "seconds")
MEASURED = {"goal-open": -1, "goal-shut": -1, "gate": 0}  # which of their paths runs from end to end
Mark = tuple[str, ...]


def words_of(element: Element) -> list[str]:
    return element.get("class", "").split()


def on_the_plan(root: Element, scene: Scene, *, hidden: bool) -> Iterator[Mark]:
    """What a reader sees that has no name beside it."""
    body, _legend = body_and_legend(root)
    grid = classed(root, "grid")[0]
    scale = max(float(grid.get("width")), float(grid.get("height"))) / max(scene.length_m, scene.width_m)
    gated = {id(part) for gate in classed(root, "gate") for part in gate.iter()}
    titled = {each.key for each in scene.zones if each.title}
    for element in (each for part in body for each in shown(part, hidden=hidden)):
        words = words_of(element)
        if words and words[0] in ("player", "ghosts", "ball", "move", "number", *LANES):
            yield moving(words)
        elif words == ["cone"] and id(element) not in gated:
            yield ("cone",)
        elif words == ["zone-area"] and element.get("data-key") not in titled:
            yield ("zone",)
        elif words and words[0] in MEASURED:
            yield (words[0], f"{metres_between(element[MEASURED[words[0]]].get('d'), scale):.1f}")
        elif "coach" in words:
            assert [each.text for each in element.iter(f"{SVG}text")] == ["Coach"]


def moving(words: list[str]) -> Mark:
    """A mark of people, balls and their ways, by its classes."""
    return {"player": ("player", *words[1:]), "move": ("path", *words[1:])}.get(words[0], (words[0],))


def in_the_legend(root: Element, *, hidden: bool) -> Iterator[Mark]:
    """What each entry of the legend shows and says."""
    _body, legend = body_and_legend(root)
    parts = [each for each in legend if (each.get("display") == "none") == hidden]
    if hidden:
        parts = [part for each in parts for part in each]
    assert [each.tag for each in parts] == [f"{SVG}g", f"{SVG}text"] * (len(parts) // 2)
    for mark, text in zip(parts[::2], parts[1::2], strict=True):
        yield from entry(mark, text.text or "")


def entry(mark: Element, said: str) -> Iterator[Mark]:
    words = {word for each in mark.iter() for word in words_of(each)}
    number = re.search(r"[\d.]+", said)
    players = classed(mark, "player")
    if players:
        yield ("player", *words_of(players[0])[1:])
    elif "ghosts" in words:
        yield ("ghosts",)
    elif "goal-open" in words or "goal-shut" in words:
        yield ("goal-open" if "goal-open" in words else "goal-shut", f"{float(number[0]):.1f}")
    elif "gate-line" in words:
        yield ("gate", f"{float(number[0]):.1f}")
    elif "lane" in words:
        yield ("lane-shut" if "cut" in words else "lane-open",)
    elif "number" in words:
        yield ("number",)
    elif "cone" in words or "zone" in words:
        yield ("cone" if "cone" in words else "zone",)
    elif re.fullmatch(r"\+\d\.\d s", "".join(mark.itertext())):
        yield ("seconds",)
    else:
        if any(words_of(each) == ["ball"] for each in mark.iter()):
            yield ("ball",)
        yield from (("path", words_of(each)[1]) for each in classed(mark, "move"))


@pytest.mark.parametrize("slug", SLUGS)
def test_what_is_on_a_plan_is_in_its_legend_and_nothing_else_is(slug: str) -> None:
    looked = 0
    for scene in scenes(slug):
        for name, root in pictures(scene):
            for hidden in (False, True):
                marks = set(on_the_plan(root, scene, hidden=hidden))
                entries = list(in_the_legend(root, hidden=hidden))
                assert (set(entries) - marks, marks - set(entries)) == (set(), set()), (name, hidden)
                assert len(entries) == len(set(entries)), name
            looked += 1
    assert looked >= 6


def test_the_check_above_sees_what_is_missing_and_what_is_too_much() -> None:
    scene = four_a_side()
    root = drawn(scene)
    _body, legend = body_and_legend(root)
    taken = legend[-2:]
    for each in taken:
        legend.remove(each)
    assert set(on_the_plan(root, scene, hidden=False)) - set(in_the_legend(root, hidden=False)) == {("cone",)}
    (ghosts,) = classed(drawn(scene, step=3), "legend")
    legend.extend(
        [each for each in ghosts if "ghosts" in {word for part in each.iter() for word in words_of(part)}]
    )
    legend.append(next(each for each in ghosts if each.text == "where they start"))
    assert ("ghosts",) in set(in_the_legend(root, hidden=False)) - set(on_the_plan(root, scene, hidden=False))


def test_every_kind_of_path_is_in_the_legend_of_the_plan_that_has_it() -> None:
    found = {kind for root in (drawn(each) for slug in SLUGS for each in scenes(slug)) for _, kind in
             (mark for mark in in_the_legend(root, hidden=False) if mark[0] == "path")}  # fmt: skip
    assert found >= {"ball", "run", "carry"}
    assert found <= set(PATHS)


def test_a_zone_without_a_title_is_explained_and_one_with_a_title_is_not() -> None:
    scene = four_a_side()
    bare = replace(scene, zones=(replace(scene.zones[0], title=""),))
    said = [
        [each.text for each in classed(drawn(one), "legend")[0].iter(f"{SVG}text")] for one in (scene, bare)
    ]
    assert ["zone" in each for each in said] == [False, True]


def test_seconds_are_left_out_unless_they_are_asked_for() -> None:
    scene = four_a_side()
    lanes = open_options(scene, pace=pace_for(12))
    said = {}
    for seconds in ("no", "asked", "always"):
        root = drawn(scene, step=0, lanes=lanes, seconds=seconds)
        said[seconds] = [
            [each.text for part in root for each in shown(part, hidden=hidden) if each.tag == f"{SVG}text"
             and re.fullmatch(r"\+\d\.\d s|seconds to spare", each.text or "")] for hidden in (False, True)
        ]  # fmt: skip
    assert said["no"] == [[], []]
    assert said["always"] == [said["asked"][1], []]
    assert said["asked"][0] == []
    assert len(said["always"][0]) >= 4
    assert said["always"][0].count("seconds to spare") == 1
