"""What was tapped at the pitch is undone: by thumb and by keyboard, with all that it changed."""

from collections.abc import Callable

from playwright.sync_api import expect

from tests.browser.at_the_pitch import Pitch
from tests.browser.running import begun, undo
from tests.harness.browsers import DESK


def test_every_tap_that_runs_a_part_is_undone(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    begun(phone)
    undo(phone, "Part 1 has begun.")
    phone.part('[data-do="harder"]').click()
    phone.says(".rung:not([hidden]) b", phone.rung(1))
    undo(phone, "Harder now.")
    expect(phone.part(".rung:not([hidden])")).to_have_count(0)
    phone.part(".pause").click()
    undo(phone, "Clock paused.")
    expect(phone.part(".clock")).to_have_attribute("data-run", "play")
    before = phone.part(".times").text_content()
    phone.part('[data-do="minute"]').click()
    expect(phone.part(".times")).not_to_have_text(before)
    undo(phone, "One minute more given.")
    phone.hold("#next")
    phone.says(".line span", "Part 2 of 4")
    undo(phone, "Part 2 has begun.")
    phone.says(".line span", "Part 1 of 4")
    expect(phone.part(".clock")).to_have_attribute("data-run", "play")


def test_what_was_tapped_covers_neither_the_thumbs_nor_what_it_changed(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    begun(phone)
    phone.arrived(1)
    phone.page.context.set_offline(True)  # what is not sent yet stands above, too
    phone.part(".pause").click()
    phone.waits("1 thing not sent yet")
    phone.page.wait_for_function(
        "() => pitch.style.getPropertyValue('--above') === `${document.querySelector('.above').offsetHeight}px`"
    )  # the plan gives way in the next frame
    thumbs = phone.part(".thumbs").bounding_box()
    assert thumbs["y"] + thumbs["height"] <= phone.page.locator(".tools").bounding_box()["y"]
    phone.part('[data-do="harder"]').click()
    bar = phone.page.locator("#tapped").bounding_box()
    say, after = phone.part(".say").bounding_box(), phone.part(".thumbs").bounding_box()
    assert bar["y"] + bar["height"] <= say["y"]
    assert abs(after["y"] - thumbs["y"]) < 3  # the plan gave way
    phone.page.clock.run_for(11_000)
    expect(phone.page.locator("#tapped")).to_be_hidden()


def test_by_keyboard_undo_stays_until_it_is_reached(pitch: Callable[..., Pitch]) -> None:
    desk = pitch(size=DESK)
    desk.open("part")
    desk.part('[data-do="harder"]').focus()
    desk.page.keyboard.press("Enter")
    expect(desk.page.locator("#tapped")).to_contain_text("Harder now.")
    desk.page.clock.run_for(60_000)
    expect(desk.page.locator("#tapped")).to_be_visible()
    for _ in range(6):
        desk.page.keyboard.press("Shift+Tab")
        if desk.page.evaluate("document.activeElement.closest('#tapped') !== null"):
            break
    desk.page.keyboard.press("Enter")
    expect(desk.page.locator("#said")).to_have_text("Undone.")
    desk.part('[data-do="harder"]').focus()
    desk.page.keyboard.press("Enter")
    desk.page.keyboard.press("Control+z")
    expect(desk.page.locator("#tapped")).to_be_hidden()
    assert desk.page.evaluate("document.activeElement.dataset.do") == "harder"
    desk.arrived(4)
    assert [kind for kind, _ in desk.events()] == ["harder", "undone"] * 2


def test_a_set_up_is_undone_with_its_plan_and_words(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    begun(phone)
    plan = phone.part("figure.plan [data-plan]:not([hidden])").text_content()
    words = phone.part(".tonight").text_content()
    phone.part('[data-do="numbers"]').click()
    with phone.page.expect_response(lambda response: "players=14" in response.url):
        phone.page.fill('[name="players"]', "14")
    expect(phone.page.locator("#answers")).not_to_have_attribute("aria-busy", "true")
    phone.page.locator("#answers [data-setup]").first.click()
    phone.page.wait_for_selector('main[data-view="part"]')
    expect(phone.part(".tonight")).not_to_have_text(words)
    phone.page.click("#tapped button")
    expect(phone.part(".tonight")).to_have_text(words)
    expect(phone.part(".fitted")).to_be_hidden()
    expect(phone.part("figure.plan [data-plan]:not([hidden])")).to_have_text(plan)
