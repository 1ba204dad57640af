"""Afterwards in under a minute, by the number of its taps, and two phones whose registers say otherwise."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from tests.browser.at_the_pitch import Pitch
from tests.browser.taps import Hand
from tests.harness.browsers import PATIENCE_MS

MOST_TAPS = 10  # a minute leaves six seconds for each


def run_all(phone: Pitch) -> None:
    """Everybody is marked and every part has been run."""
    phone.open("register")
    phone.page.click("#all-here")
    phone.page.click("#begin")
    for _ in range(phone.session.parts.count()):
        phone.hold("#next")
    phone.page.wait_for_selector('main[data-view="after"]')


def kinds(phone: Pitch) -> list[str]:
    return [kind for kind, _ in phone.events()]


def test_a_whole_afterwards_is_a_few_taps(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    run_all(phone)
    hand, page = Hand(phone.page), phone.page
    closing = page.locator("#after-said")
    expect(page.locator("#read")).to_have_text("15 here")
    expect(closing).to_contain_text(
        "Still to say: the register, how hard it was, whether all of it took place, the last child collected."
    )
    hand.tap_on(page.locator("#confirm"))
    expect(page.locator("#read")).to_have_text(re.compile(r"^15 here · confirmed \d\d:\d\d$"))
    expect(page.locator("#confirm")).to_be_hidden()
    hand.tap_on(page.locator("#efforts").get_by_text("hard", exact=True))
    expect(page.locator("#rated")).to_have_text("hard (5 of 10)")
    hand.tap_on(page.locator("#delivered"))
    hand.tap_on(page.locator("#all-again"))
    expect(page.locator('[data-again] button[aria-pressed="true"]')).to_have_text(["Yes"] * 4)
    hand.tap_on(page.locator("[data-again]").nth(2).get_by_text("Change it"))
    hand.tap_on(page.locator("#next-text"))
    page.keyboard.type("Start with the wide grid.")
    hand.tap_on(page.locator("#next-time button"))
    hand.tap_on(page.locator("#collected"))
    expect(closing).to_have_text("Everything is recorded. All of it is sent.", timeout=PATIENCE_MS)
    hand.tap_on(page.locator("#after a", has_text="Leave the pitch"))
    page.wait_for_url(re.compile(r"/$"))
    assert hand.taps <= MOST_TAPS
    said = [(kind, body) for kind, body in phone.events() if kind in ("effort", "again", "next_time")]
    assert said[0] == ("effort", {"cr10": 5})
    assert [body["answer"] for kind, body in said if kind == "again"] == ["yes"] * 4 + ["change"]
    assert said[-1] == ("next_time", {"text": "Start with the wide grid."})
    assert kinds(phone).count("confirmed") == 1


def test_each_tap_is_undone_where_it_was_made(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    run_all(phone)
    page = phone.page
    undo = page.locator("#tapped button")
    for tap, is_on in [
        ("#confirm", "#confirm:not([hidden])"),
        ('#efforts [value="4"]', '#efforts:not(:has([aria-pressed="true"]))'),
        ("#delivered", '#delivered[aria-pressed="false"]'),
        ("#shortened", '#shortened[aria-pressed="false"]'),
        ('[data-again] [value="no"] >> nth=0', '#agains:not(:has([aria-pressed="true"]))'),
        ("#all-again", '#agains:not(:has([aria-pressed="true"]))'),
        ("#collected", "#collected-said:empty"),
    ]:
        page.click(tap)
        expect(undo).to_be_visible()
        undo.click()
        page.wait_for_selector(is_on, state="attached")
    page.fill("#next-text", "Bring the small goals.")
    page.press("#next-text", "Enter")
    undo.click()
    expect(page.locator("#next-text")).to_have_value("")


def test_a_tap_of_the_register_makes_it_unconfirmed_again(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    run_all(phone)
    page = phone.page
    page.click("#confirm")
    page.click("#after a[href='#register']")
    page.locator("#names .tap").first.click()
    phone.go("after")
    expect(page.locator("#read")).to_have_text("14 here")
    expect(page.locator("#confirm")).to_be_visible()


def test_how_hard_is_one_value_in_five_words_and_more_exactly(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("after")
    page = phone.page
    words = page.locator("#efforts button")
    assert [
        (each.inner_text(), each.get_attribute("value")) for each in words.all()
    ] == [  # Foster et al. 2001, as in test_meanings.py
        ("easy", "2"), ("moderate", "3"), ("somewhat hard", "4"), ("hard", "5"), ("very hard", "7"),
    ]  # fmt: skip
    page.click("#exactly summary")
    page.click('#exact [value="8"]')
    expect(page.locator("#rated")).to_have_text("very hard (8 of 10)")
    expect(page.locator('#efforts [aria-pressed="true"]')).to_have_count(0)
    words.nth(4).click()
    expect(page.locator('#exact [aria-pressed="true"]')).to_have_text("7 very hard")


def test_minutes_are_those_that_ran(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    run_all(phone)  # it began a minute ago, and all was pressed through at once
    only = phone.page.locator("#minutes")
    expect(only).to_have_value(re.compile("^[1-3]$"))
    phone.page.click("#shortened")
    expect(phone.page.locator("#shortened")).to_have_attribute("aria-pressed", "true")
    phone.waits("")
    assert [body for kind, body in phone.events() if kind == "shortened"] == [
        {"minutes": int(only.input_value())}
    ]


@pytest.fixture
def two(pitch: Callable[..., Pitch]) -> tuple[Pitch, Pitch]:
    """The coach's phone, out of signal, says that the first player is here; the helper's says the child is not."""
    coach, helper = pitch(), pitch("helper@demo.example")
    coach.open("register")
    coach.page.context.set_offline(True)
    coach.page.locator("#names .tap").first.click()
    helper.open("register")
    first = helper.page.locator("#names .tap").first
    first.click()
    first.click()
    helper.arrived(2)
    return coach, helper


def back(phone: Pitch) -> None:
    phone.page.context.set_offline(False)
    phone.page.evaluate("dispatchEvent(new Event('online'))")
    phone.sent_all()


def test_two_phones_that_say_otherwise_both_stay_visible_until_a_tap_settles_it(
    two: tuple[Pitch, Pitch],
) -> None:
    from club.models import User

    coach, _ = two
    page = coach.page
    back(coach)
    row = page.locator("#names > li").first
    name = User.objects.get(email="helper@demo.example").name
    text = re.compile(
        rf"^This phone: here at \d\d:\d\d\. \W?{re.escape(name)}\W?'s phone: not here at \d\d:\d\d\. Counts: not here\.$"
    )
    expect(row.locator(".apart")).to_have_text(text, timeout=PATIENCE_MS)
    expect(row).to_have_attribute("data-state", "absent")
    coach.go("after")
    expect(page.locator("#read-apart li")).to_contain_text("Counts: not here.")
    coach.go("register")
    row.locator(".tap").click()
    expect(row.locator(".apart")).to_have_count(0)
    expect(row).to_have_attribute("data-state", "here")
    coach.arrived(4)
    settled = [body for kind, body in coach.events() if kind == "arrived"][-1]
    assert len(settled["over"]) == 1


def test_it_stands_on_the_sessions_page_too_and_reading_it_through_settles_it(
    two: tuple[Pitch, Pitch],
) -> None:
    coach, _ = two
    page = coach.page
    back(coach)
    coach.go("after")
    expect(page.locator("#read-apart li")).to_have_count(1, timeout=PATIENCE_MS)
    said = page.locator("#read-apart li").inner_text().split("This phone: ")[1]
    page.click("#delivered")
    coach.arrived(4)
    desk = page.context.new_page()
    desk.goto(coach.url.removesuffix("pitch/"))
    shown = desk.locator(".happened .reason", has_text="Counts:")
    expect(shown).to_contain_text("not here at")
    assert said.split(". ")[-1] in shown.inner_text()
    page.click("#confirm")
    expect(page.locator("#read-apart")).to_be_hidden()
    coach.arrived(5)
    desk.reload()
    expect(desk.locator(".happened")).to_contain_text("Register confirmed")
    expect(shown).to_have_count(0)


def test_a_register_read_without_the_other_phone_is_read_again_once_that_has_sent(
    two: tuple[Pitch, Pitch],
) -> None:
    """The helper read the register through; the coach's phone, which tapped before, comes in afterwards."""
    coach, helper = two
    helper.go("after")
    helper.page.click("#confirm")
    helper.arrived(3)
    back(coach)
    helper.page.evaluate("dispatchEvent(new Event('online'))")
    expect(helper.page.locator("#confirm")).to_be_visible(timeout=PATIENCE_MS)
    expect(helper.page.locator("#read-apart li")).to_have_count(1)


def test_the_page_opens_where_something_is_left_to_say(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    run_all(phone)
    phone.open()
    expect(phone.page.locator("main")).to_have_attribute("data-view", "after")


def test_tonight_asks_how_it_went_until_it_is_said(demo_site: Any, pitch: Callable[..., Pitch]) -> None:
    from sessions.models import TrainingSession

    phone = pitch()
    period = phone.session.__class__.objects.get(pk=phone.session.pk).period
    ended = timezone.now() - timezone.timedelta(minutes=20)
    TrainingSession.objects.filter(pk=phone.session.pk).update(
        period=(ended - (period.upper - period.lower), ended)
    )
    page = phone.page
    page.goto(demo_site.address("/"))
    page.click("text=How did it go?")
    page.wait_for_selector('main[data-view="after"]')
    page.wait_for_selector("main[data-whole]")
    page.click("#delivered")
    page.click('#efforts [value="3"]')
    phone.arrived(2)
    page.click("#after >> text=Leave the pitch")
    page.wait_for_url(re.compile(r"/$"))
    expect(page.locator("text=How did it go?")).to_have_count(0)
