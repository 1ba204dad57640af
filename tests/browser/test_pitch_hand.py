"""Hand and eye at the pitch: large targets, a phone on its side, the left hand, the pocket."""

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.at_the_pitch import Pitch
from tests.browser.running import LOUD, begun, blasts, changed, shaken
from tests.harness.accessible import complaints
from tests.harness.browsers import PHONE

LANDSCAPE = {**PHONE, "viewport": {"width": 740, "height": 360}}
NARROW = {**PHONE, "viewport": {"width": 320, "height": 640}}


@pytest.mark.parametrize("size", [PHONE, NARROW, LANDSCAPE], ids=["phone", "narrow", "landscape"])
def test_every_target_is_large_and_opposites_are_apart(pitch: Callable[..., Pitch], size: Any) -> None:
    phone = pitch(size=size)
    begun(phone)
    changed(phone, "drop")
    small = """() => [...document.querySelectorAll("button, nav a, summary")].filter((each) => each.checkVisibility())
      .map((each) => [each.textContent.trim(), each.getBoundingClientRect()])
      .filter(([, box]) => Math.min(box.width, box.height) < 43.9).map(([text, box]) => `${text} ${box.width} × ${box.height}`)"""
    assert phone.page.evaluate(small) == []
    easier, harder = (phone.part(f'[data-do="{what}"]').bounding_box() for what in ("easier", "harder"))
    assert harder["x"] - easier["x"] - easier["width"] >= 8
    assert complaints(phone.page, "part") == []


def test_on_its_side_clock_and_plan_are_side_by_side_and_the_thumbs_in_reach(
    pitch: Callable[..., Pitch],
) -> None:
    phone = pitch(size=LANDSCAPE)
    begun(phone)
    clock, plan = phone.part(".clock").bounding_box(), phone.part("figure.plan").bounding_box()
    thumbs, tools = phone.part(".thumbs").bounding_box(), phone.page.locator(".tools").bounding_box()
    assert clock["x"] + clock["width"] <= plan["x"]
    assert plan["y"] + plan["height"] <= thumbs["y"]
    assert thumbs["y"] + thumbs["height"] <= tools["y"] + 1
    assert (clock["y"] >= 0, plan["height"] >= 140) == (True, True)


def test_for_the_left_hand_the_buttons_stand_the_other_way_round_and_stay_so(
    pitch: Callable[..., Pitch],
) -> None:
    phone = pitch()
    phone.open("more")
    phone.page.click("#left-hand")
    for _ in range(2):
        phone.go("part")
        across = [
            phone.part(f'[data-do="{what}"]').first.bounding_box()["x"] for what in ("minute", "easier")
        ]
        assert across == sorted(across)
        assert phone.page.locator("#next").bounding_box()["x"] < 20
        assert phone.part(".turn").bounding_box()["x"] < 40
        assert complaints(phone.page, "left hand") == []
        phone.page.reload()
        expect(phone.page.locator("#left-hand")).to_have_attribute("aria-pressed", "true")


def test_in_the_pocket_the_whistle_works_and_the_emergency_is_one_press(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.page.add_init_script(LOUD)
    begun(phone)
    phone.go("more")
    phone.page.click("#whistle")
    phone.page.click("#to-pocket")
    phone.page.clock.run_for(155_000)
    assert (blasts(phone), shaken(phone)) == (1, 1)
    phone.hold("#pocket-urgent", 300)
    expect(phone.page.locator("#pocket-urgent")).to_have_text("Press and hold, until the button is full.")
    expect(phone.page.locator("#pocket")).to_be_visible()
    phone.hold("#pocket-urgent")
    expect(phone.page.locator("main")).to_have_attribute("data-view", "emergency")
    expect(phone.page.locator("#pocket")).to_be_hidden()
