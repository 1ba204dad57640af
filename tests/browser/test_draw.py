"""Drawing a plan in a real browser: by mouse, by touch, by keyboard alone."""

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.at_the_sheet import Sheet
from tests.harness.accessible import complaints, pale_in_other_schemes
from tests.harness.browsers import DESK, PHONE


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["touch", "mouse"])
def test_three_players_and_two_moves_are_drawn_and_stand_on_the_drills_page(
    sheet: Callable[..., Sheet], size: dict[str, Any]
) -> None:
    drawn = sheet(size)
    drawn.empty()
    drawn.press('[data-put="player"][data-side="A"]')
    drawn.tap(4, 4)
    drawn.tap(4, 12)
    drawn.press('[data-put="player"][data-side="B"]')
    drawn.tap(12, 8)
    drawn.press('[data-put="ball"]')
    drawn.tap(4, 4)
    drawn.press("#add-step")
    drawn.drawn_anew()
    drawn.stroke("run")
    drawn.drag((4, 12), (15, 13))
    drawn.stroke("ball")
    drawn.drag((4, 4), (4, 12))
    drawn.press("#save")
    drawn.page.wait_for_url(drawn.site.address(f"/library/{drawn.drill.public_id}/"))
    scene = drawn.saved()
    assert [(each["key"], each["x_m"], each["y_m"]) for each in scene["players"]] == [
        ("a1", 4, 4),
        ("a2", 4, 12),
        ("b1", 12, 8),
    ]
    run, ball = scene["steps"][0]["moves"]
    assert (run["kind"], run["who"], run["to_x_m"], run["to_y_m"]) == ("run", "a2", 15, 13)
    assert (ball["kind"], ball["ball"], ball["to"]) == ("ball", "ball1", "a2")
    assert "Blue 1 passes to blue 2." in drawn.page.locator("#plan").inner_html()


def test_by_keyboard_alone(sheet: Callable[..., Sheet]) -> None:
    drawn = sheet()
    page = drawn.page

    def on(selector: str) -> None:
        page.focus(selector)
        page.keyboard.press("Enter")

    on("#to-empty")
    for side, keys in (("A", ["ArrowLeft"] * 3), ("A", ["ArrowUp"] * 4), ("B", ["ArrowRight"] * 2)):
        on(f'[data-put="player"][data-side="{side}"]')
        for key in keys:
            page.keyboard.press(key)
    on('[data-put="ball"]')
    page.focus("#b-at")
    page.keyboard.type("blue 1")
    expect(page.locator("#b-at")).to_have_value("a1")
    on("#add-step")
    page.focus("#new-who")
    page.keyboard.type("blue 2")
    page.focus("#new-x")
    page.keyboard.type("16")
    page.focus("#new-y")
    page.keyboard.type("14")
    page.keyboard.press("Enter")
    page.focus("[name=stroke][value=run]")
    page.keyboard.press("ArrowLeft")  # round to the last: the ball
    page.focus("#new-who")
    page.keyboard.type("blue 1")
    page.focus("#new-to")
    page.keyboard.type("blue 2")
    page.keyboard.press("Tab")
    on("#new-move button")
    on("#save")
    page.wait_for_url(drawn.site.address(f"/library/{drawn.drill.public_id}/"))
    scene = drawn.saved()
    assert [(each["x_m"], each["y_m"]) for each in scene["players"]] == [(7, 8), (10, 12), (12, 8)]
    assert [(each["kind"], each.get("who"), each.get("to")) for each in scene["steps"][0]["moves"]] == [
        ("run", "a2", None),
        ("ball", None, "a2"),
    ]


def test_twelve_players_and_ten_moves_in_three_steps_take_few_strokes(sheet: Callable[..., Sheet]) -> None:
    """What a newcomer does with the hand is counted: a press, a tap and a stroke each count as one."""
    drawn, hands = sheet(), 0

    def do(act: Callable[..., None], *what: Any) -> None:
        nonlocal hands
        act(*what)
        hands += 1

    do(drawn.press, "#to-empty")
    places = {"A": [(3, 3), (3, 13), (8, 8), (12, 4)], "B": [(6, 6), (6, 11), (11, 11), (15, 8)]}
    places["neutral"] = [(-1, 8), (21, 8), (10, -1), (10, 17)]
    for side, spots in places.items():
        do(drawn.press, f'[data-put="player"][data-side="{side}"]')
        for spot in spots:
            do(drawn.tap, *spot)
            drawn.drawn_anew()
    do(drawn.press, '[data-put="ball"]')
    do(drawn.tap, 3, 3)
    steps = (
        [("ball", (3, 3), (8, 8)), ("run", (12, 4), (17, 3)), ("run", (6, 6), (7, 7)), ("run", (3, 3), (5, 2))],
        [("ball", (8, 8), (10, -1)), ("run", (8, 8), (12, 9)), ("run", (15, 8), (16, 5))],
        [("ball", (10, -1), (17, 3)), ("run", (3, 13), (9, 14)), ("run", (6, 11), (8, 13))],
    )  # fmt: skip
    for step in steps:
        do(drawn.press, "#add-step")
        drawn.drawn_anew()
        stroke = "run"
        for kind, start, end in sorted(step, key=lambda each: each[0] != "ball"):
            if kind != stroke:
                do(drawn.stroke, kind)
                stroke = kind
            do(drawn.drag, start, end)
            drawn.drawn_anew()
        if stroke != "run":
            do(drawn.stroke, "run")
    do(drawn.press, "#save")
    drawn.page.wait_for_url(drawn.site.address(f"/library/{drawn.drill.public_id}/"))
    scene = drawn.saved()
    assert (len(scene["players"]), [len(step["moves"]) for step in scene["steps"]]) == (12, [4, 3, 3])
    assert [step["moves"][0]["to"] for step in scene["steps"]] == ["a3", "n3", "a4"]
    assert hands <= 40


def test_undo_and_redo_by_keys_and_buttons(sheet: Callable[..., Sheet]) -> None:
    drawn = sheet()
    drawn.empty()
    drawn.press('[data-put="cone"]')
    drawn.tap(5, 5)
    drawn.tap(15, 5)
    assert len(drawn.things()) == 2
    drawn.page.keyboard.press("Control+z")
    assert len(drawn.things()) == 1
    drawn.press("#undo")
    assert len(drawn.things()) == 0
    drawn.press("#redo")
    drawn.page.keyboard.press("Control+Shift+z")
    assert len(drawn.things()) == 2
    drawn.page.focus("#stage")
    drawn.page.keyboard.press(".")
    drawn.page.keyboard.press("Delete")
    assert len(drawn.things()) == 1
    expect(drawn.page.locator("#redo")).to_be_disabled()


def test_a_dragged_player_takes_the_ball_along_and_steps_outside(sheet: Callable[..., Sheet]) -> None:
    drawn = sheet()
    drawn.empty()
    drawn.press('[data-put="player"][data-side="A"]')
    drawn.tap(3, 8)
    drawn.press('[data-put="ball"]')
    drawn.tap(3, 8)
    drawn.press('[data-put="ball"]')  # no longer armed
    drawn.drawn_anew()
    drawn.drag((3, 8), (10.3, 16.9))
    drawn.press("#save")
    drawn.page.wait_for_url(drawn.site.address(f"/library/{drawn.drill.public_id}/"))
    player = drawn.saved()["players"][0]
    assert (player["x_m"], player["y_m"], player["place"], player["edge"]) == (10, 17, "outside", "top")
    assert drawn.saved()["balls"] == [{"key": "ball1", "at": "a1"}]


def test_markup_in_a_label_stays_words(sheet: Callable[..., Sheet]) -> None:
    drawn = sheet()
    drawn.empty()
    drawn.press('[data-put="zone"]')
    drawn.tap(10, 8)
    with drawn.redrawn():
        drawn.page.fill("#z-title", "<img src=x onerror=alert(1)><b>")
        drawn.page.keyboard.press("Tab")
    expect(drawn.page.locator("#things button")).to_contain_text(["<img src=x onerror=alert(1)><b>"])
    assert drawn.page.locator("#draw img, #things b, #stage b").count() == 0
    drawn.press("#save")
    drawn.page.wait_for_url(drawn.site.address(f"/library/{drawn.drill.public_id}/"))
    assert drawn.page.locator("main img").count() == 0


def test_nobody_is_kept_out_in_any_view(sheet: Callable[..., Sheet]) -> None:
    drawn = sheet(PHONE)
    drawn.press("#things button >> nth=0")
    drawn.page.evaluate("scrollTo(0, 0)")  # what the sheet lies over at the moment is no small target
    found = complaints(drawn.page) + pale_in_other_schemes(drawn.page)
    drawn.press("#add-step")
    drawn.page.focus("#new-x")
    drawn.page.keyboard.type("5")
    drawn.page.focus("#new-y")
    drawn.page.keyboard.type("5")
    drawn.page.keyboard.press("Enter")
    drawn.page.evaluate("scrollTo(0, 0)")
    assert found + complaints(drawn.page) == []
