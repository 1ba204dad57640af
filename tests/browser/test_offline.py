"""Without signal: a session that was opened once opens again, runs, and what happened in it arrives once."""

import re
import time
from collections.abc import Callable

import pytest
from django.templatetags.static import static
from playwright.sync_api import expect

from sessions.pages.pitch import offline
from tests.browser.at_the_pitch import PATIENCE_MS, Pitch
from tests.browser.without_signal import COPY, LEFT, anew, cut, one_unsent, rows, saved, seconds, signal
from tests.harness.people import signed_in

CACHED = """async () => {
  const texts = [];
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      texts.push([new URL(request.url).pathname, await (await cache.match(request)).text()]);
    }
  }
  return texts;
}"""
SCHEMAS = """async (store) => (await (await import(store)).rows("bundles")).map((each) => each.schema)"""


def test_a_session_that_was_opened_once_opens_without_signal_and_runs(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    phone.part('[data-do="harder"]').click()
    phone.arrived(1)
    saved(phone)
    before, left = phone.page.evaluate(LEFT)
    cut(phone)
    anew(phone)
    phone.open("part")
    expect(phone.page.locator("#copy")).to_have_text(COPY, timeout=PATIENCE_MS)
    phone.says(".rung:not([hidden]) b", phone.rung(1))  # what was sent before is in the copy
    expect(phone.part(".clock")).to_have_attribute("data-run", "play")
    after, now_left = phone.page.evaluate(LEFT)
    assert seconds(left) - seconds(now_left) == pytest.approx(after - before, abs=1.5)
    phone.part('[data-do="minute"]').click()
    phone.waits("1 thing not sent yet")
    phone.page.reload()
    phone.waits("1 thing not sent yet")
    phone.page.wait_for_selector("main[data-whole]")
    signal(phone)
    phone.arrived(2)
    phone.page.click("#copy a:text('Load the latest')")
    expect(phone.page.locator("#copy")).to_be_hidden()


def test_the_home_screen_without_signal_lists_what_is_saved(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    saved(phone)
    cut(phone)
    phone.page.goto(phone.url.split("/sessions/")[0] + "/")
    expect(phone.page.locator("#why")).to_have_text(
        "No signal. What is saved on this phone opens without.", timeout=PATIENCE_MS
    )
    phone.page.locator("#sessions a").click()
    expect(phone.page.locator("#copy")).to_have_text(COPY, timeout=PATIENCE_MS)
    phone.page.goto(phone.url.replace(str(phone.session.public_id), "0" * 8 + "-0000-4000-8000-" + "0" * 12))
    expect(phone.page.locator("#why")).to_have_text(
        "No signal, and this session is not saved on this phone.", timeout=PATIENCE_MS
    )


def test_the_week_is_saved_from_today_and_opens_without_signal(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.page.goto(phone.url.split("/sessions/")[0] + "/")
    phone.page.click("#take-along")
    expect(phone.page.locator("#taken")).to_have_text(
        re.compile(r"^(\d+) of \1 sessions are saved on this phone\. They open without signal\.$"),
        timeout=PATIENCE_MS,
    )
    phone.page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    cut(phone)
    phone.open("register")
    expect(phone.page.locator("#copy")).to_have_text(COPY, timeout=PATIENCE_MS)
    expect(phone.page.locator("#names > li")).to_have_count(15)


def test_the_cache_holds_nothing_of_a_person(pitch: Callable[..., Pitch]) -> None:
    from club.models import Player, User

    phone = pitch()
    phone.open("part")
    saved(phone)
    texts = dict(phone.page.evaluate(CACHED))
    assert {"/sessions/saved/", static("sessions/pitch/pitch.js"), static("sessions/phone/worker.js")} <= set(
        texts
    )
    assert not [
        path for path in texts if path.startswith(("/api/", "/sessions/")) and path != "/sessions/saved/"
    ]
    names = {
        *Player.objects.values_list("display_name", flat=True),
        *User.objects.values_list("email", flat=True),
    }
    assert len(names) > 100
    whole = "\n".join(texts.values())
    assert [name for name in names if re.search(rf"\b{re.escape(name)}\b", whole)] == []


def test_signing_out_deletes_what_is_saved_and_keeps_what_was_not_sent(
    pitch: Callable[..., Pitch], demo_site: object
) -> None:
    phone = pitch()
    phone.open("part")
    saved(phone)
    one_unsent(phone)
    phone.page.goto(phone.url.split("/sessions/")[0] + "/accounts/logout/")
    expect(phone.page.locator("#left-here")).to_have_text("1 thing is not sent yet.")
    with phone.page.expect_navigation():
        phone.page.click("form[data-signs-out] button")
    assert (rows(phone, "bundles"), rows(phone, "log"), rows(phone, "outbox")) == (0, 0, 1)
    phone.page.unroute("**/events/")
    signed_in(phone.page.context, demo_site, "coach@demo.example")
    phone.page.goto(phone.url.split("/sessions/")[0] + "/")  # nobody needs to open the session again
    expect(phone.page.locator("#left-here")).to_be_hidden()
    phone.open("part")
    phone.arrived(1)
    phone.says(".rung:not([hidden]) b", phone.rung(1))


def test_somebody_else_on_this_phone_sends_nothing_of_ours(
    pitch: Callable[..., Pitch], demo_site: object
) -> None:
    from sessions.models import DeliveryEvent

    phone = pitch("helper@demo.example")
    phone.open("part")
    saved(phone)
    one_unsent(phone)
    phone.page.context.clear_cookies()
    signed_in(phone.page.context, demo_site, "coach@demo.example")
    phone.page.unroute("**/events/")
    phone.page.evaluate("dispatchEvent(new Event('online'))")
    phone.waits(
        "1 thing not sent yet. Somebody else is signed in. It is sent once whoever recorded it signs in. Sign in again"
    )
    anew(phone)
    phone.open("part")
    saved(phone)
    assert rows(phone, "bundles") == 1  # the coach's own; the helper's has gone
    phone.page.goto(phone.url.split("/sessions/")[0] + "/")
    expect(phone.page.locator("#left-here")).to_have_text(
        "1 thing you recorded is still on this phone. Some are of another account, and wait until it signs in."
    )
    assert phone.events() == []
    phone.page.context.clear_cookies()
    signed_in(phone.page.context, demo_site, "helper@demo.example")
    phone.open("part")
    phone.arrived(1)
    assert DeliveryEvent.objects.get(session=phone.session).actor.email == "helper@demo.example"


def test_two_tabs_show_the_same_and_send_once(pitch: Callable[..., Pitch]) -> None:
    one = pitch()
    one.open("part")
    saved(one)
    cut(one)
    two = Pitch(one.page.context.new_page(), one.url, one.session)
    two.open("part")
    one.part('[data-do="harder"]').click()
    two.waits("1 thing not sent yet")
    two.says(".rung:not([hidden]) b", two.rung(1))
    two.part('[data-do="minute"]').click()
    one.waits("2 things not sent yet")
    signal(one)
    one.arrived(2)
    two.arrived(2)


def test_the_app_is_updated_while_something_waits(
    pitch: Callable[..., Pitch], monkeypatch: pytest.MonkeyPatch
) -> None:
    phone = pitch()
    phone.open("part")
    saved(phone)
    one_unsent(phone)
    monkeypatch.setattr(offline, "_contents", lambda: "another")
    monkeypatch.setattr(offline, "SCHEMA", 2)
    phone.page.evaluate(
        """async () => {
          const changed = new Promise((resolve) => navigator.serviceWorker.addEventListener("controllerchange", resolve));
          await (await navigator.serviceWorker.ready).update();
          await changed;
        }"""
    )
    late = time.monotonic() + PATIENCE_MS / 1000
    while phone.page.evaluate(SCHEMAS, static("sessions/phone/store.js")) != [2] and time.monotonic() < late:
        phone.page.wait_for_timeout(100)
    cut(phone)
    anew(phone)
    phone.open("part")  # saved again by the new worker, in the form that the new shell opens
    expect(phone.page.locator("#copy")).to_have_text(COPY, timeout=PATIENCE_MS)
    phone.waits("1 thing not sent yet")
    signal(phone)
    phone.arrived(1)


def test_a_copy_of_a_version_that_is_gone_says_so(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    saved(phone)
    phone.page.evaluate(
        """async (store) => {
          const { rows, write } = await import(store);
          const [bundle] = await rows("bundles");
          await write(["bundles"], (bundles) => bundles.put({ ...bundle, schema: 0 }));
        }""",
        static("sessions/phone/store.js"),
    )
    cut(phone)
    phone.page.goto(phone.url)
    expect(phone.page.locator("#why")).to_have_text(
        "No signal, and this session was saved by another version. With signal it is saved again.",
        timeout=PATIENCE_MS,
    )


def test_what_the_club_changed_meanwhile_is_said(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    saved(phone)
    phone.session.parts.filter(position=1).update(minutes=9)
    phone.part('[data-do="minute"]').click()
    expect(phone.page.locator("#copy")).to_have_text(
        "The club has changed this session since. Load the latest"
    )
    type(phone.session).objects.filter(pk=phone.session.pk).update(state="cancelled", why_cancelled="weather")
    phone.part('[data-do="minute"]').click()
    expect(phone.page.locator("#copy")).to_have_text(
        "This session is cancelled. What you record is saved all the same."
    )
    phone.arrived(2)


def test_of_a_session_that_is_gone_nothing_is_lost_and_nothing_held_up(pitch: Callable[..., Pitch]) -> None:
    from club.models import StaffRole

    phone = pitch()
    phone.open("part")
    saved(phone)
    StaffRole.objects.filter(user__email="coach@demo.example").delete()
    phone.part('[data-do="harder"]').click()
    phone.waits(
        "1 thing not sent yet. The club has no such session any more, or not for you. What you recorded stays on this phone."
    )
    assert rows(phone, "outbox") == 1
