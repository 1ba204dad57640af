"""The browser clears what pages keep on the phone: an open page saves itself again, and each says what is so."""

import time
from collections.abc import Callable
from typing import Any

import pytest
from django.templatetags.static import static
from playwright.sync_api import expect

from tests.browser.at_the_pitch import PATIENCE_MS, Pitch
from tests.browser.without_signal import COPY, anew, cut, one_unsent, rows, saved, signal

# What the browser takes, all or a part: it names them so (Chrome DevTools Protocol, Storage.clearDataForOrigin).
KEPT = "indexeddb"
CACHES = "cache_storage"
WORKER = "service_workers"
HELD = """async ([store, shell]) => {
  const [bundle] = await (await import(store)).rows("bundles");
  return Boolean(bundle?.page && bundle.along) && Boolean(await caches.match(shell));
}"""
SHELL = "/sessions/saved/"
ALL = pytest.param((KEPT, CACHES, WORKER), id="all")


def also(*what: str) -> Any:
    """A part of all: whoever clears takes all at once, and only one who looks closely takes less."""
    return pytest.param(what, id=" ".join(what), marks=pytest.mark.sweep)


def evicted(phone: Pitch, *what: str) -> None:
    """As a browser does that needs the space: nobody is asked, and connections that are open are closed."""
    tool = phone.page.context.new_cdp_session(phone.page)
    origin = phone.url.split("/sessions/")[0]
    tool.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": ",".join(what)})
    tool.detach()


def faults_of(phone: Pitch) -> list[Any]:
    """What goes wrong on the page from now on; a test that asks wants none."""
    found: list[Any] = []
    phone.page.on("pageerror", lambda fault: found.append(fault))
    return found


def whole(phone: Pitch) -> None:
    """Wait until the phone holds the session, its answers and the shell."""
    where = [static("sessions/phone/store.js"), SHELL]
    late = time.monotonic() + PATIENCE_MS / 1000
    while not phone.page.evaluate(HELD, where):
        assert time.monotonic() < late
        phone.page.wait_for_timeout(50)
    saved(phone)


@pytest.mark.parametrize("what", [also(KEPT), also(KEPT, CACHES), ALL])
def test_an_open_page_saves_itself_again_with_all_that_waits(
    pitch: Callable[..., Pitch], what: tuple[str, ...]
) -> None:
    phone = pitch()
    faults = faults_of(phone)
    phone.open("part")
    phone.part('[data-do="harder"]').click()
    phone.arrived(1)  # in no page as it was served
    whole(phone)
    one_unsent_more(phone)
    evicted(phone, *what)
    phone.keeps(1)
    whole(phone)
    expect(phone.page.locator("#saved-said")).to_have_text(
        "Saved on this phone: it opens without signal, from the home screen or a bookmark."
    )
    cut(phone)
    anew(phone)
    phone.open("part")
    expect(phone.page.locator("#copy")).to_have_text(COPY, timeout=PATIENCE_MS)
    phone.says(".rung:not([hidden]) b", phone.rung(1))
    phone.waits("1 thing not sent yet")
    signal(phone)
    phone.arrived(2)
    assert [kind for kind, _body in phone.events()] == ["harder", "minute_more"]
    assert faults == []


def one_unsent_more(phone: Pitch) -> None:
    phone.page.route("**/events/", lambda route: route.abort())
    phone.part('[data-do="minute"]').click()
    phone.waits("1 thing not sent yet")
    phone.keeps(1)


def test_a_saved_copy_that_is_cleared_while_it_runs_says_so_until_there_is_signal(
    pitch: Callable[..., Pitch],
) -> None:
    phone = pitch()
    phone.open("part")
    whole(phone)
    cut(phone)
    anew(phone)
    faults = faults_of(phone)
    phone.open("part")
    saved(phone)
    phone.part('[data-do="minute"]').click()
    phone.keeps(1)
    evicted(phone, KEPT)
    phone.page.wait_for_selector('main[data-kept="cleared"]', timeout=PATIENCE_MS)
    expect(phone.page.locator("#saved-said")).to_have_text(
        "The browser has cleared the saved copy. With signal it is saved again: leave this page open until then."
    )
    phone.keeps(1)
    signal(phone)
    phone.arrived(1)
    whole(phone)
    assert faults == []


def test_cleared_between_visits_without_signal_the_shell_says_so(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    whole(phone)
    phone.page.goto("about:blank")
    evicted(phone, KEPT)
    cut(phone)
    faults = faults_of(phone)
    phone.page.goto(phone.url)
    expect(phone.page.locator("#why")).to_have_text(
        "No signal, and this session is not saved on this phone.", timeout=PATIENCE_MS
    )
    expect(phone.page.locator("#none")).to_be_visible()
    assert faults == []


@pytest.mark.parametrize("what", [also(KEPT), also(CACHES), ALL])
def test_cleared_between_visits_it_opens_with_signal_and_saves_itself_again(
    pitch: Callable[..., Pitch], what: tuple[str, ...]
) -> None:
    phone = pitch()
    phone.open("part")
    phone.part('[data-do="harder"]').click()
    phone.arrived(1)
    whole(phone)
    phone.page.goto("about:blank")
    evicted(phone, *what)
    faults = faults_of(phone)
    phone.open("part")
    phone.says(".rung:not([hidden]) b", phone.rung(1))
    whole(phone)
    assert rows(phone, "log") == 1
    cut(phone)
    anew(phone)
    phone.open("part")
    expect(phone.page.locator("#copy")).to_have_text(COPY, timeout=PATIENCE_MS)
    phone.says(".rung:not([hidden]) b", phone.rung(1))
    assert faults == []


@pytest.mark.sweep
def test_today_is_whole_on_a_phone_that_was_cleared(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    whole(phone)
    one_unsent(phone)
    today = phone.url.split("/sessions/")[0] + "/"
    faults = faults_of(phone)
    phone.page.goto(today)
    expect(phone.page.locator("#left-here")).to_be_visible(timeout=PATIENCE_MS)
    evicted(phone, KEPT, CACHES)
    phone.page.click("#take-along")
    expect(phone.page.locator("#taken")).to_contain_text("They open without signal.", timeout=PATIENCE_MS)
    phone.page.goto(today)
    expect(phone.page.locator("#taken")).to_contain_text("on this phone already", timeout=PATIENCE_MS)
    expect(phone.page.locator("#left-here")).to_be_hidden()
    assert faults == []
