"""Without signal: a session that was opened once opens again, runs, and what happened in it arrives once."""

import re
from collections.abc import Callable

from playwright.sync_api import expect

from tests.browser.at_the_pitch import PATIENCE_MS, Pitch


def saved(phone: Pitch) -> None:
    """Wait until the phone holds the session, and the worker stands between page and network."""
    phone.page.wait_for_selector('main[data-kept="saved"]', timeout=PATIENCE_MS)
    phone.page.evaluate("navigator.serviceWorker.ready.then(() => true)")


def cut(phone: Pitch) -> None:
    phone.page.context.set_offline(True)


def signal(phone: Pitch) -> None:
    phone.page.context.set_offline(False)
    phone.page.evaluate("dispatchEvent(new Event('online'))")


def test_a_session_that_was_opened_once_opens_without_signal_and_runs(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    phone.part('[data-do="harder"]').click()
    phone.arrived(1)
    saved(phone)
    cut(phone)
    phone.page.close()  # the browser drops the tab
    phone.page = phone.page.context.new_page()
    phone.open("part")
    expect(phone.page.locator("#copy")).to_have_text(
        re.compile(r"^Saved copy from \d\d:\d\d\. It runs without signal\.$")
    )
    phone.says(".rung:not([hidden]) b", phone.rung(1))  # what was sent before is in the copy
    expect(phone.part(".clock")).to_have_attribute("data-run", "play")
    phone.part('[data-do="minute"]').click()
    phone.waits("1 thing not sent yet")
    phone.page.reload()
    phone.waits("1 thing not sent yet")
    phone.page.wait_for_selector("main[data-whole]")
    signal(phone)
    phone.arrived(2)
    expect(phone.page.locator("#copy a")).to_have_text("Load the latest")
    phone.page.click("#copy a")
    expect(phone.page.locator("#copy")).to_be_hidden()
