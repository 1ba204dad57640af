"""Zones by their corners, what the text says, a rung with a drawing of its own, and one pose in two languages."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

import bibrack.demo
from drills.drawing.pose import pose_at
from drills.game.document import decode
from tests.browser.at_the_sheet import Sheet
from tests.harness.browsers import DESK, PHONE

DEMO = Path(bibrack.demo.__file__).parent / "drills"
POSES = """async ([model, asked]) => {
    const { stateAt } = await import(model);
    return asked.map(([scene, times]) => times.map(time => stateAt(scene, time)));
}"""


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["touch", "mouse"])
def test_a_zone_is_pulled_by_its_corners_and_typed(sheet: Callable[..., Sheet], size: dict[str, Any]) -> None:
    drawn = sheet(size)
    drawn.empty()
    drawn.press('[data-put="zone"]')
    drawn.tap(10, 8)  # a third of 20 × 16 m: 7 × 5 m from 6.5, 5.5
    drawn.press('[data-put="zone"]')
    drawn.drawn_anew()
    assert drawn.page.locator("#stage .hand-corner").count() == 4
    drawn.drag((13.5, 10.5), (18, 14))
    drawn.drawn_anew()
    expect(drawn.page.locator("#hint")).to_contain_text("11.5 × 8.5 m")
    drawn.drag((6.5, 5.5), (30, 20))  # over the other corner: a metre stays
    drawn.drawn_anew()
    drawn.page.fill("#z-length", "4")
    drawn.page.keyboard.press("Tab")
    drawn.press("#undo")
    drawn.press("#redo")
    drawn.press("#save")
    drawn.page.wait_for_url(drawn.site.address(f"/library/{drawn.drill.public_id}/"))
    zone = drawn.saved()["zones"][0]
    assert (zone["x_m"], zone["y_m"], zone["length_m"], zone["width_m"]) == (17, 13, 4, 1)


def test_what_the_text_says_is_said_checked_and_taken_back(sheet: Callable[..., Sheet]) -> None:
    drawn = sheet()
    page = drawn.page
    for kind, field, value in (("passes", "#k-number", "1"), ("lane is open", "#k-receiver", "a2")):
        page.select_option("#k-kind", kind)
        assert page.locator("#k-gate").is_hidden()
        (page.fill if field == "#k-number" else page.select_option)(field, value)
        with drawn.redrawn():
            page.click("#new-claim button")
    expect(page.locator("#claims-list li")).to_have_count(2)
    expect(page.locator("#claims-list li >> nth=0")).to_contain_text("At least 1 passes: not shown")
    expect(page.locator("#reasons")).to_contain_text("but the moves do not show it")
    page.select_option("#k-kind", "passes")
    page.fill("#k-number", "")
    page.click("#new-claim button")
    expect(page.locator("#hint")).to_contain_text("is not a number from 1")
    with drawn.redrawn():
        page.focus("#claims-list button >> nth=0")
        page.keyboard.press("Enter")
    expect(page.locator("#claims-list li")).to_have_count(1)
    drawn.press("#save")
    page.wait_for_url(drawn.site.address(f"/library/{drawn.drill.public_id}/"))
    assert drawn.saved()["claims"] == [{"kind": "lane is open", "to": "a2"}]


def test_a_rung_gets_a_drawing_of_its_own_on_its_own_grid(sheet: Callable[..., Sheet]) -> None:
    drawn = sheet()
    with_rung(drawn)
    drawn.open()
    drawn.page.click(".draw-rungs >> text=Wider")
    drawn.page.wait_for_selector("#stage[aria-busy=false] svg")
    assert drawn.page.locator("#stage").inner_html().count("30 m") > 0  # the rung's grid, not the drill's
    drawn.press('[data-put="cone"]')
    drawn.page.locator("#stage").press("Escape")
    drawn.page.focus('[data-put="cone"]')
    drawn.page.keyboard.press("Enter")  # stands in the middle of 30 × 16 m
    drawn.press("#save")
    drawn.page.wait_for_url(drawn.site.address(f"/library/{drawn.drill.public_id}/?variation=wider"))
    document = drawn.document()
    (rung,) = document["variations"]
    own = next(each["scene"] for each in rung["changes"] if each["type"] == "set_scene")
    assert (own["length_m"], own["cones"][-1]["x_m"], "scene" in document) == (30, 15, False)


def with_rung(drawn: Sheet) -> None:
    from drills import actions

    grid = {"type": "set_grid", "length_m": 30, "width_m": 16}
    rung = {"key": "wider", "title": "Wider", "rung": "easier", "changes": [grid]}
    document = {**drawn.document(), "variations": [rung]}
    actions.revise_drill(actor=drawn.actor(), public_id=drawn.drill.public_id, version=1, document=document)


def test_the_page_and_the_server_agree_where_everybody_is(sheet: Callable[..., Sheet]) -> None:
    """`stateAt` of the page repeats `pose_at`: the same players, holders and balls on the ground, at many moments."""
    found = [decode(path.read_bytes()).scene for path in sorted(DEMO.glob("*.json"))]
    scenes = [each for each in found if each is not None and each.steps]
    times = [
        [end * n / 16 for n in range(17)] + [step.start_s + 1e-6 for step in scene.steps]
        for scene in scenes
        for end in [scene.steps[-1].end_s]
    ]
    plain = [plain_of(each) for each in scenes]
    drawn = sheet()
    model = drawn.page.evaluate(
        "document.querySelector('script[src*=\"editor.\"]').src.replace(/editor(\\.[0-9a-f]+)?\\.js/, 'model.js')"
    )
    seen = drawn.page.evaluate(POSES, [model, list(zip(plain, times, strict=True))])
    compared = 0
    for scene, moments, states in zip(scenes, times, seen, strict=True):
        for time_s, state in zip(moments, states, strict=True):
            pose = pose_at(scene, time_s)
            for key, spot in pose.players.items():
                assert state["players"][key] == pytest.approx(spot, abs=1e-6), (scene.title, time_s, key)
            for key, ball in pose.balls.items():
                there = state["balls"][key]
                assert there["holder"] == ball.holder, (scene.title, time_s, key)
                if not ball.flying:
                    assert there["spot"] == pytest.approx((ball.x_m, ball.y_m), abs=1e-6), (
                        scene.title,
                        time_s,
                    )
            compared += 1
    assert compared > 500


def plain_of(scene: Any) -> dict[str, Any]:
    import msgspec

    made: dict[str, Any] = json.loads(msgspec.json.encode(scene))
    for name in ("players", "goals", "cones", "zones", "gates", "balls", "steps"):
        made.setdefault(name, [])
    return made
