"""At the pitch in a real browser: the first view, fifteen instead of twelve, no signal, the pocket."""

import json
import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.at_the_pitch import Pitch
from tests.harness.browsers import DESK, PHONE
from tests.sessions.set_ups import setup_of

FIRST_VIEW = (".line", ".clock", "figure.plan", ".say", ".condition", ".thumbs")


def test_the_first_view_is_whole_and_in_order_on_a_small_phone(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    keys = phone.page.eval_on_selector_all("[data-go]", "all => all.map(each => each.dataset.go)")
    assert len(keys) == 4
    for key in keys:
        phone.go("more")
        phone.page.click(f'[data-go="{key}"]')
        phone.page.wait_for_selector(f'[data-part="{key}"]:not([hidden]) .digits')
        boxes = [phone.part(selector).first.bounding_box() for selector in FIRST_VIEW[:4]]
        boxes += [phone.part(".condition:not([hidden])").bounding_box(), phone.part(".thumbs").bounding_box()]
        tools = phone.page.locator(".tools").bounding_box()
        edges = [0.0, *(edge for box in boxes for edge in (box["y"], box["y"] + box["height"])), tools["y"]]
        assert edges == sorted(edges)
        assert tools["y"] + tools["height"] <= 740
        plan = boxes[2]
        assert (plan["width"] >= 340, plan["height"] >= 180) == (True, True)
        assert boxes[4]["height"] < 60  # the condition, whole: three lines at most


def test_the_register_comes_before_the_first_part_and_is_one_tap_away(pitch: Callable[..., Pitch]) -> None:
    phone = pitch("helper@demo.example")
    phone.open()
    expect(phone.page.locator("main")).to_have_attribute("data-view", "register")
    first = phone.page.locator("#names > li").first
    seen = []
    for _ in range(3):
        first.locator(".tap").click()
        seen.append(first.locator(".how").inner_text())
    assert seen == ["here", "not here", "here"]
    for word in ("late", "watching"):
        first.locator(".more").click()
        first.locator(f".limits .{word}").click()
        expect(first.locator(".how")).to_have_text(word)
    phone.page.locator("#names > li").nth(1).locator(".more").click()
    phone.page.check("text=no heading")
    phone.page.fill(".most", "30")
    phone.page.click(".keep")
    marked = phone.page.locator("#names > li").nth(1).locator(".how")
    expect(marked).to_have_text("here, no heading, at most 30 min")
    phone.page.click("#begin")
    expect(phone.page.locator("main")).to_have_attribute("data-view", "part")
    phone.page.click('[data-to="register"]')
    expect(phone.page.locator("#counted")).to_have_text("2 of 15 here, 13 not marked")
    phone.arrived(7)
    kinds = [kind for kind, _ in phone.events()]
    assert kinds == ["arrived", "absent", "arrived", "late", "watching", "limited", "part_started"]


def test_after_a_knock_a_player_is_out_and_may_watch_only(pitch: Callable[..., Pitch]) -> None:
    """Tapped without signal it holds at once, and the rest who are here leave the player out."""
    from club.models import PlayerOut

    phone = pitch("helper@demo.example")
    phone.open()
    phone.page.context.set_offline(True)
    row = phone.page.locator("#names > li").nth(1)
    row.locator(".more").click()
    row.locator(".out").click()
    expect(row.locator(".how")).to_have_text("out until lifted, watching")
    expect(row.locator(".is-out")).to_be_visible()
    expect(row.locator(".keep")).to_be_hidden()
    phone.page.click("#all-here")
    expect(phone.page.locator("#counted")).to_have_text("14 of 14 here")
    seen = []
    for _ in range(3):
        row.locator(".tap").click()
        seen.append(row.locator(".how").inner_text())
    assert seen == [f"out until lifted, {words}" for words in ("not here", "watching", "not here")]
    phone.page.click('[data-to="emergency"]')  # in the page: one tap, no signal
    expect(phone.page.locator("#emergency")).to_contain_text("Contacts and medical list in your bag?")
    phone.page.click("#knock summary")
    expect(phone.page.locator("#knock")).to_contain_text("accident form")
    phone.page.context.set_offline(False)
    phone.page.evaluate("dispatchEvent(new Event('online'))")
    phone.waits("")
    assert PlayerOut.objects.filter(lifted_at=None).count() == 1
    phone.page.reload()
    expect(row.locator(".how")).to_have_text("out until lifted, not here")
    PlayerOut.objects.update(lifted_at=PlayerOut.objects.get().since)
    phone.page.reload()
    expect(row.locator(".how")).to_have_text("not here")  # lifted: what was tapped before holds no longer


def test_the_last_child_collected_is_one_tap(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("after")
    phone.page.click("#collected")
    expect(phone.page.locator("#collected-said")).to_contain_text("Last child collected: ")
    phone.arrived(1)
    assert [kind for kind, _ in phone.events()] == ["collected"]


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_twelve_planned_fifteen_came_and_thirty_by_twenty_is_free(
    pitch: Callable[..., Pitch], size: dict[str, Any]
) -> None:
    from sessions.models import Station

    phone = pitch(size=size)
    phone.open()
    phone.page.click("#all-here")
    phone.page.click("#begin")
    phone.part('[data-do="numbers"]').click()  # the first tap
    expect(phone.page.locator('[name="players"]')).to_have_value("15")
    with phone.page.expect_response(lambda response: "width=20" in response.url):
        phone.page.fill('[name="length"]', "30")
        phone.page.fill('[name="width"]', "20")
    answer = phone.page.locator(".answer").first
    assert answer.locator("li").first.inner_text() != ""
    wanted = json.loads(answer.locator("[data-setup]").get_attribute("data-setup"))
    failed: list[Any] = []
    phone.page.on("pageerror", lambda error: failed.append(error))
    answer.locator("li").first.click()  # beside the button: nothing
    expect(phone.page.locator("main")).to_have_attribute("data-view", "numbers")
    answer.locator("[data-setup]").click()  # the second
    phone.page.wait_for_selector('main[data-view="part"]')
    size_text = f"{wanted['length_m']:g} × {wanted['width_m']:g} m"
    phone.says(".fitted", f"Tonight {wanted['numbers']} on {size_text}")
    expect(phone.part("[data-plan]:not([hidden]) svg")).to_have_attribute(
        "aria-labelledby", re.compile("^s-")
    )
    expect(phone.part(".clock")).to_have_attribute("data-run", "play")
    phone.says(".tonight p", re.compile(f"^Tonight {re.escape(wanted['numbers'])} on {size_text}"))
    phone.part('[data-do="harder"]').click()
    expect(phone.part("[data-plan]:not([hidden]) svg")).to_have_attribute(
        "aria-labelledby", re.compile("^s-")
    )
    phone.arrived(18)
    assert failed == []
    station = Station.objects.get(part__session=phone.session, evening__players=15)
    assert (setup_of(station).numbers, station.evening["pieces"][0]["width_m"]) == (wanted["numbers"], 20.0)
    assert [body["setup"]["players_total"] for kind, body in phone.events() if kind == "fit_accepted"] == [15]


def test_with_the_network_cut_everything_goes_on_and_arrives_once(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    phone.page.context.set_offline(True)
    before = phone.part(".digits").inner_text()
    phone.page.clock.run_for(5000)
    expect(phone.part(".digits")).not_to_have_text(before)
    phone.part('[data-do="harder"]').click()
    phone.says(".rung:not([hidden]) b", phone.rung(1))
    phone.waits("1 thing not sent yet")
    phone.part('[data-do="minute"]').click()
    phone.part(".now").click()
    expect(phone.part(".clock")).to_have_attribute("data-run", "held")
    phone.part(".now").click()
    phone.part('[data-do="numbers"]').click()
    phone.page.fill('[name="players"]', "14")
    phone.page.wait_for_selector("#answers [data-setup]")
    expect(phone.page.locator("#answers")).to_contain_text("No signal")
    phone.page.click("#answers [data-setup]")
    phone.says(".fitted", re.compile("^Tonight "))
    phone.hold("#next")
    phone.says(".line span", "Part 2 of 4")
    phone.go("register")
    phone.page.click("#all-here")
    phone.go("after")
    phone.page.click("#exactly summary")
    phone.page.click('#exact [value="6"]')
    phone.page.click("#after .fold:has(#note) > summary")
    phone.page.fill("#text", "Started late, gate was shut.")
    phone.page.click("#note button")
    phone.page.click("#delivered")
    phone.waits("25 things not sent yet")
    assert phone.events() == []
    phone.page.context.set_offline(False)
    phone.arrived(25)
    kinds = [kind for kind, _ in phone.events()]
    assert sorted(set(kinds)) == sorted(
        [
            "harder",
            "minute_more",
            "part_started",
            "bout_held",
            "bout_resumed",
            "fit_accepted",
            "next_part",
            "arrived",
            "effort",
            "note",
            "delivered",
        ]
    )
    phone.session.refresh_from_db()
    assert (phone.session.state, phone.session.register.count()) == ("delivered", 15)
    phone.open()
    expect(phone.page.locator("#came")).to_have_text("15/15")
    assert len(phone.events()) == 25


def test_what_was_not_sent_is_still_there_when_the_page_is_opened_again(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    phone.page.route("**/events/", lambda route: route.abort())
    phone.part('[data-do="harder"]').click()
    phone.open("part")
    phone.says(".rung:not([hidden]) b", phone.rung(1))
    phone.waits("1 thing not sent yet")
    phone.page.unroute("**/events/")
    phone.page.evaluate("dispatchEvent(new Event('online'))")
    phone.arrived(1)


def test_easier_leads_back_from_harder_and_back_leads_to_the_drill_as_written(
    pitch: Callable[..., Pitch],
) -> None:
    phone = pitch()
    phone.open("part")
    planned = phone.part("[data-plan]:not([hidden])").get_attribute("data-plan")
    for press in ("harder", "easier", "easier", "harder", "harder", "harder", "back"):
        phone.part(f'[data-do="{press}"]:visible').click()
    expect(phone.part(".rung:not([hidden])")).to_have_count(0)
    expect(phone.part("[data-plan]:not([hidden])")).to_have_attribute("data-plan", planned)
    phone.arrived(7)
    phone.session.refresh_from_db()
    assert [body["to"] == "" for _kind, body in phone.events()] == [
        False, True, False, True, False, False, True,
    ]  # fmt: skip
    assert phone.session.delivery["parts"][0]["variation"] == ""


def test_two_phones_come_to_the_same(pitch: Callable[..., Pitch]) -> None:
    one, two = pitch("coach@demo.example"), pitch("helper@demo.example")
    one.open("register")
    two.open("register")
    one.page.locator("#names .tap").nth(0).click()
    one.arrived(1)
    two.page.locator("#names .tap").nth(1).click()
    two.arrived(2)
    expect(two.page.locator("#came")).to_have_text("2/15")


def test_signed_out_nothing_is_lost(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    phone.page.context.clear_cookies(name="bibrack_session")
    phone.part('[data-do="harder"]').click()
    phone.page.wait_for_selector("#unsent a")
    phone.waits(
        "1 thing not sent yet. You are signed out. Nothing is lost: sign in again, and it will be sent. Sign in again"
    )
    assert phone.events() == []


def test_a_tap_in_the_pocket_neither_ends_the_part_nor_opens_the_screen(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    phone.hold("#next", 300)
    phone.says(".line span", "Part 1 of 4")
    phone.go("more")
    phone.page.click("#to-pocket")
    # read at one moment: the clock runs
    assert phone.page.evaluate(
        """() => document.querySelector("#pocket-now").textContent
            === document.querySelector("article:not([hidden]) .digits").textContent"""
    )
    phone.hold("#pocket-open", 300)
    expect(phone.page.locator("#pocket")).to_be_visible()
    phone.hold("#pocket-open")
    expect(phone.page.locator("#pocket")).to_be_hidden()
    assert phone.events() == []


def test_by_keyboard_the_next_part_takes_two_presses(pitch: Callable[..., Pitch]) -> None:
    desk = pitch(size=DESK)
    desk.open("part")
    desk.page.focus("#next")
    desk.page.keyboard.press("Enter")
    expect(desk.page.locator("#said")).to_have_text("Press again to go on to the next part.")
    desk.says(".line span", "Part 1 of 4")
    desk.page.keyboard.press("Enter")
    desk.says(".line span", "Part 2 of 4")
