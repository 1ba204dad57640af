"""A phone that saves, loses and finds signal: what the tests of times without it share."""

import re

from django.templatetags.static import static

from tests.browser.at_the_pitch import PATIENCE_MS, Pitch

COPY = re.compile(r"^Saved copy from \d\d:\d\d\. It runs without signal\.$")
LEFT = """() => [Date.now() / 1000, document.querySelector("article:not([hidden]) .digits").textContent]"""
ROWS = "async ([store, name]) => (await (await import(store)).rows(name)).length"


def saved(phone: Pitch) -> None:
    """Wait until the phone holds the session, and the worker stands between page and network."""
    phone.page.wait_for_selector('main[data-kept="saved"]', timeout=PATIENCE_MS)
    phone.page.wait_for_function("() => navigator.serviceWorker.controller !== null")


def cut(phone: Pitch) -> None:
    phone.page.context.set_offline(True)


def signal(phone: Pitch) -> None:
    phone.page.context.set_offline(False)
    phone.page.evaluate("dispatchEvent(new Event('online'))")


def one_unsent(phone: Pitch) -> None:
    """Something is tapped whose way to the server is shut."""
    phone.page.route("**/events/", lambda route: route.abort())
    phone.part('[data-do="harder"]').click()
    phone.waits("1 thing not sent yet")


def anew(phone: Pitch) -> None:
    """The browser drops the tab; another one is opened."""
    context = phone.page.context
    phone.page.close()
    phone.page = context.new_page()


def seconds(digits: str) -> int:
    minutes, rest = digits.split(":")
    return int(minutes) * 60 + int(rest)


def rows(phone: Pitch, name: str) -> int:
    """How many rows this phone keeps of a kind."""
    return phone.page.evaluate(ROWS, [static("sessions/phone/store.js"), name])
