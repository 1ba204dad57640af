"""A helper without an account in a real browser: from the code on the sheet to what the director reads afterwards."""

import re
import time
from collections.abc import Callable, Iterator
from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from playwright.sync_api import expect

from sessions.queries import helping, session_by_id
from sessions.queries.set_up import players_tonight
from tests.browser.at_the_pitch import Pitch, begin_now, phones
from tests.browser.without_signal import COPY, LEFT, anew, cut, saved, seconds, signal
from tests.harness.accessible import complaints
from tests.harness.browsers import PATIENCE_MS, PHONE
from tests.harness.people import signed_in

SMALL = {"viewport": {"width": 320, "height": 568}}


class HelpersPhone(Pitch):
    """A phone that nobody is signed in on, at tonight's under-twelves' session."""

    def scan(self) -> None:
        self.page.goto(self.url)

    def type_number(self, number: str) -> None:
        self.page.get_by_label("Run the clock: the coach tells you a number").fill(number)
        self.page.get_by_role("button", name="Run the clock").click()

    def let_in(self) -> None:
        self.scan()
        self.type_number(helping.number_of(self.session))
        self.page.wait_for_selector("main[data-whole]")


@pytest.fixture
def tonight(demo_site: Any, browser: Any) -> Iterator[Callable[..., HelpersPhone]]:
    """Opens a phone for somebody, nobody unless said."""
    found, zone = begin_now()
    session = session_by_id(found.public_id)
    url = demo_site.address(f"/sessions/at/{helping.code_of(session)}/")
    with phones(browser, demo_site, zone) as opened:
        yield lambda who="", **looks: HelpersPhone(opened(who, **looks), url, session)


def test_from_the_sheet_to_the_record(tonight: Callable[..., HelpersPhone], demo_site: Any) -> None:
    coach, phone = tonight("coach@demo.example"), tonight()
    plan = demo_site.address(f"/sessions/{phone.session.public_id}/")
    assert coach.page.request.get(f"{plan}sheet.pdf").body()[:5] == b"%PDF-"
    coach.page.goto(f"{plan}pitch/#more")
    number = coach.page.locator("#more .helpers-number").inner_text()

    phone.scan()
    expect(phone.page.get_by_role("heading", level=1)).to_be_visible()
    wrong = f"{(int(number) + 1) % 10_000:04d}"
    phone.type_number(wrong)
    expect(phone.page.locator("#number-error")).to_contain_text("That is not tonight's number.")
    assert complaints(phone.page, "a wrong number") == []
    phone.type_number(number)
    page = phone.page
    page.wait_for_selector("main[data-whole]")
    expect(page.locator("#heads")).to_have_text("12")
    for _ in range(2):
        page.click('[data-heads="-1"]')
    page.click('[data-heads="1"]')
    expect(page.locator("#counted")).to_have_text("11 counted.")
    expect(page.locator("#came")).to_have_text("11")
    page.click("#begin")
    expect(phone.part(".clock")).to_have_attribute("data-run", "play", timeout=PATIENCE_MS)
    phone.part(".now").click()
    expect(phone.part(".clock")).to_have_attribute("data-run", "held")
    phone.part(".now").click()
    phone.part('[data-do="minute"]').click()
    phone.hold("#next")
    expect(page.locator("article.of-part:not([hidden])")).to_contain_text("Part 2 of")
    phone.arrived(8)
    kinds = [kind for kind, _body in phone.events()]
    assert kinds == [*["heads"] * 3, "part_started", "bout_held", "bout_resumed", "minute_more", "next_part"]
    assert not re.search("sessionid|bibrack_session", str(page.context.cookies()))

    coach.page.goto("about:blank")
    coach.page.goto(f"{plan}pitch/#register")
    expect(coach.page.locator("#heads-said")).to_have_text("11 heads counted")
    coach.page.wait_for_selector("main[data-whole]")
    coach.go("after")
    coach.page.click("#delivered")
    coach.arrived(9)
    director = tonight("director@demo.example")
    director.page.goto(plan)
    expect(director.page.locator(".happened")).to_contain_text("A helper ran the clock, without an account.")
    expect(director.page.locator(".happened")).to_contain_text("A helper counted 11 players, without names.")


def test_the_page_and_the_server_go_by_one_number(tonight: Callable[..., HelpersPhone]) -> None:
    """Heads, until the register has somebody who takes part: `TurnOut` on the phone, `players_tonight` on the server."""
    from club.models import User
    from club.queries import actor_of, players_of
    from sessions import actions

    coach = tonight("coach@demo.example")
    session = coach.session
    one, other, *_more = [str(each.public_id) for each in players_of([session.squad_id], on=session.day)]
    steps = [
        (12, []),
        (14, [{"kind": "heads", "count": 14}]),
        (14, [{"kind": "absent", "player": one}, {"kind": "watching", "player": other}]),
        (9, [{"kind": "heads", "count": 9}]),
        (1, [{"kind": "arrived", "player": one}]),
        (1, [{"kind": "heads", "count": 20}]),
        (2, [{"kind": "limited", "player": other, "limits": []}]),
    ]
    actor, at = actor_of(User.objects.get(email="coach@demo.example")), session.period.lower
    for wanted, events in steps:
        at += timedelta(seconds=1)
        sent = [{"id": str(uuid4()), "at": at.isoformat(), **each} for each in events]
        actions.append_events(actor=actor, session=session, device="x", events=sent)
        coach.page.goto("about:blank")
        coach.page.goto(coach.url.split("/at/")[0] + f"/{session.public_id}/pitch/#numbers")
        coach.page.wait_for_selector("main[data-whole]")
        coach.go("part")
        coach.part('[data-do="numbers"]').click()
        expect(coach.page.locator('[name="players"]')).to_have_value(str(wanted))
        now = session_by_id(session.public_id)
        assert now is not None
        assert players_tonight(now) == wanted


def test_what_somebody_with_an_account_left_on_the_phone_stays_there(
    tonight: Callable[..., HelpersPhone], demo_site: Any
) -> None:
    coach = tonight("coach@demo.example")
    context = coach.page.context
    coach.page.goto(coach.url.split("/at/")[0] + f"/{coach.session.public_id}/pitch/#register")
    coach.page.wait_for_selector("main[data-whole]")
    context.set_offline(True)
    coach.page.click("#all-here")
    coach.waits("15 things not sent yet")
    coach.keeps(15)
    coach.page.close()
    context.clear_cookies()
    context.set_offline(False)
    phone = HelpersPhone(context.new_page(), coach.url, coach.session)
    phone.let_in()
    phone.page.click("#heads-right")
    phone.arrived(1)
    signed_in(context, demo_site, "coach@demo.example")
    phone.page.goto(coach.url.split("/at/")[0] + f"/{coach.session.public_id}/pitch/#register")
    expect(phone.page.locator("#heads-said")).to_have_text("12 heads counted")
    expect(phone.page.locator("#came")).to_have_text("15/15")
    phone.page.wait_for_selector("main[data-whole]")
    phone.arrived(16)


def test_the_phone_comes_back_to_the_clock_and_has_no_names(tonight: Callable[..., HelpersPhone]) -> None:
    from club.models import Player

    phone = tonight()
    phone.let_in()
    phone.scan()
    expect(phone.page).to_have_url(re.compile(r"/run/"))
    told = phone.page.content()
    assert [name for name in Player.objects.values_list("display_name", flat=True) if name in told] == []
    for view in ("register", "part", "more", "emergency", "after"):
        phone.go(view)
        assert complaints(phone.page, f"a helper's {view}") == []


def test_without_signal_it_runs_and_sends_afterwards(tonight: Callable[..., HelpersPhone]) -> None:
    phone = tonight()
    phone.let_in()
    phone.page.context.set_offline(True)
    phone.page.click("#heads-right")
    phone.page.click("#begin")
    phone.waits("2 things not sent yet")
    phone.part('[data-do="numbers"]').click()
    phone.page.wait_for_selector('main[data-view="register"]')
    phone.page.click('[data-heads="1"]')
    phone.waits("3 things not sent yet")
    phone.page.context.set_offline(False)
    phone.arrived(3)
    assert [body.get("count") for _kind, body in phone.events()] == [12, None, 13]


def test_what_was_opened_once_opens_without_signal_from_the_code_and_from_its_address(
    tonight: Callable[..., HelpersPhone],
) -> None:
    phone = tonight()
    phone.let_in()
    own = phone.page.url.split("#")[0]
    phone.page.click("#heads-right")
    phone.page.click("#begin")
    phone.arrived(2)
    saved(phone)
    before, left = phone.page.evaluate(LEFT)
    for number, address in enumerate((own, phone.url), 1):
        cut(phone)
        anew(phone)
        phone.page.goto(address)
        expect(phone.page).to_have_url(re.compile(re.escape(own)))
        expect(phone.page.locator("#copy")).to_have_text(COPY, timeout=PATIENCE_MS)
        phone.page.wait_for_selector("main[data-whole]")
        phone.go("part")
        expect(phone.part(".clock")).to_have_attribute("data-run", "play")
        after, now_left = phone.page.evaluate(LEFT)
        assert seconds(left) - seconds(now_left) == pytest.approx(after - before, abs=1.5)
        phone.go("register")
        expect(phone.page.locator("#counted")).to_have_text(f"{11 + number} counted.")
        phone.page.click('[data-heads="1"]')
        expect(phone.page.locator("#counted")).to_have_text(f"{12 + number} counted.")
        phone.waits("1 thing not sent yet")
        phone.keeps(1)
        anew(phone)  # the tab is dropped before there is signal
        phone.page.goto(own)
        phone.waits("1 thing not sent yet")
        signal(phone)
        phone.arrived(2 + number)
    assert [body.get("count") for _kind, body in phone.events()] == [12, None, 13, 14]


def test_what_waits_on_a_phone_that_was_put_away_is_sent_by_the_browser(
    tonight: Callable[..., HelpersPhone],
) -> None:
    phone = tonight()
    phone.let_in()
    saved(phone)
    cut(phone)
    phone.page.click("#heads-right")
    phone.keeps(1)
    anew(phone)
    phone.page.goto("about:blank")
    phone.page.context.set_offline(False)
    woken(phone)
    late = time.monotonic() + PATIENCE_MS / 1000
    while not phone.events():
        assert time.monotonic() < late
        phone.page.wait_for_timeout(50)
    assert [kind for kind, _body in phone.events()] == ["heads"]
    phone.scan()
    phone.arrived(1)


def woken(phone: HelpersPhone) -> None:
    """The browser wakes its worker once there is signal (Web Background Synchronization), as its own tools let it do."""
    found: list[Any] = []
    tool = phone.page.context.new_cdp_session(phone.page)
    tool.on("ServiceWorker.workerRegistrationUpdated", lambda told: found.extend(told["registrations"]))
    tool.send("ServiceWorker.enable")
    late = time.monotonic() + PATIENCE_MS / 1000
    while not found:
        assert time.monotonic() < late
        phone.page.wait_for_timeout(50)
    own = {"origin": phone.url.split("/sessions/")[0], "registrationId": found[0]["registrationId"]}
    tool.send("ServiceWorker.dispatchSyncEvent", {**own, "tag": "bibrack-outbox", "lastChance": False})


def test_a_phone_whose_number_was_changed_says_so_and_keeps_what_it_has(
    tonight: Callable[..., HelpersPhone],
) -> None:
    from sessions import actions

    phone = tonight()
    phone.let_in()
    phone.session = actions.another_number(session=phone.session)
    phone.page.click("#heads-right")
    expect(phone.page.locator("#unsent")).to_contain_text("Ask the coach.", timeout=PATIENCE_MS)
    phone.page.get_by_role("link", name="Type the number").click()
    phone.type_number(helping.number_of(phone.session))
    phone.page.wait_for_selector("main[data-whole]")
    phone.arrived(1)


@pytest.mark.parametrize("size", [PHONE, SMALL], ids=["360", "320"])
def test_it_fits_and_every_target_is_44_px(tonight: Callable[..., HelpersPhone], size: Any) -> None:
    phone = tonight(size=size)
    phone.let_in()
    for view in ("register", "part", "more", "after"):
        phone.go(view)
        assert phone.page.evaluate("document.documentElement.scrollWidth") <= size["viewport"]["width"], view
        small = phone.page.evaluate(
            """() => [...document.querySelectorAll("button, a, input")].filter((each) => each.checkVisibility())
              .map((each) => [each.textContent.trim(), each.getBoundingClientRect()])
              .filter(([, box]) => box.width && (box.height < 43.5 || box.width < 43.5)).map(([text]) => text)"""
        )
        assert [each for each in small if each != "Turn"] == [], view
