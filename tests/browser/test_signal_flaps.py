"""Signal that comes and goes while a session is run: what was tapped arrives once, and phone and server say the same."""

import itertools
import time
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from django.templatetags.static import static
from playwright.sync_api import Error, Route

from sessions.bridge import state_of
from sessions.queries import session_by_id
from tests.browser.at_the_pitch import PATIENCE_MS, Pitch
from tests.browser.test_fold_alike import said_by_phone
from tests.browser.without_signal import cut, rows, saved, signal
from tests.sessions.planning.folding_alike import IN_THE_SAME_WORDS, SIX, plain_words

# The log that the phone keeps on its disk, folded there.
FOLDED = f"""async ([store, folding, session, six]) => {{
  const [{{ rows }}, {{ counted, fold, playing }}] = await Promise.all([import(store), import(folding)]);
  const said = {IN_THE_SAME_WORDS.strip()};
  const events = (await rows("log")).filter((each) => each.session === session).map((each) => each.event);
  const keys = JSON.parse(document.getElementById("evening").textContent).parts.map((part) => part.key);
  return said(fold(events, keys), six, playing, counted);
}}"""
SHOWN = """() => [
  ...[...document.querySelectorAll("#names > li")].map((row) => [row.dataset.state, row.querySelector(".how").textContent]),
  ...[...document.querySelectorAll(".of-part")].map((part) => [part.hidden, part.querySelector(".rung:not([hidden]) b")?.textContent]),
  document.getElementById("counted").textContent, document.querySelector(".of-part:not([hidden]) .clock").dataset.run,
]"""


class Way:
    """The way of events to the server, on which each request meets the next of these fates.

    The browser's own `set_offline` stands beside it: a request that is let through meets whatever signal there is then.
    """

    FATES = (
        "refused",
        "lost",
        "through",
        "cut off",
        "half",
        "refused",
        "error",
        "lost",
        "half",
        "through",
        "cut off",
    )

    def __init__(self, phone: Pitch) -> None:
        self.phone = phone
        self.met: list[str] = []
        self._fates: Iterator[str] = itertools.cycle(self.FATES)

    def __call__(self, route: Route) -> None:
        fate = next(self._fates)
        self.met.append(fate)
        try:
            getattr(self, fate.replace(" ", "_"))(route)
        except Error as gone:  # the browser has given this request up meanwhile
            if "already handled" not in str(gone) and "closed" not in str(gone):
                raise

    def met_after(self, count: int) -> None:
        """Wait until there were more requests than that."""
        late = time.monotonic() + PATIENCE_MS / 1000
        while len(self.met) <= count:
            assert time.monotonic() < late, "what was tapped was not sent"
            self.phone.page.wait_for_timeout(20)

    def through(self, route: Route) -> None:
        route.continue_()

    def refused(self, route: Route) -> None:
        route.abort("connectionrefused")

    def error(self, route: Route) -> None:
        route.fulfill(status=503, body="")

    def lost(self, route: Route) -> None:
        """The server takes it, and its answer never comes."""
        assert route.fetch().status == 200
        route.abort("connectionreset")

    def half(self, route: Route) -> None:
        """The server takes it, and half of its answer comes."""
        answer = route.fetch()
        assert answer.status == 200
        route.fulfill(
            status=200, content_type="application/json", body=answer.text()[: len(answer.text()) // 2]
        )

    def cut_off(self, route: Route) -> None:
        """The server takes it while the signal goes."""
        assert route.fetch().status == 200
        cut(self.phone)
        route.abort("internetdisconnected")


def taps(phone: Pitch) -> Iterator[str]:
    """Tap what is tapped in an evening, one thing at a time; say what each is to the server."""
    for row in phone.page.locator("#names > li .tap").all()[:10]:
        row.click()
        yield "arrived"
    phone.page.locator("#names > li .tap").nth(3).click()
    yield "absent"
    phone.page.click("#begin")
    yield "part_started"
    for what, kind in (
        ("harder", "harder"),
        ("minute", "minute_more"),
        ("easier", "easier"),
        ("minute", "minute_more"),
    ):
        phone.part(f'[data-do="{what}"]').click()
        yield kind
    phone.part(".pause").click()
    yield "bout_held"
    phone.page.click("#tapped button")
    yield "undone"


def test_what_was_tapped_while_the_signal_came_and_went_arrives_once(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    faults: list[Any] = []
    phone.page.on("pageerror", lambda fault: faults.append(fault))
    phone.open("register")
    saved(phone)
    way = Way(phone)
    phone.page.route("**/events/", way)
    tapped, met = [], 0
    for number, kind in enumerate(taps(phone)):
        tapped.append(kind)
        if number % 4 == 1:
            cut(phone)
        if number % 4 in (0, 2):
            signal(phone)
            way.met_after(met)
        met = len(way.met)
    assert set(way.met) == set(way.FATES), "every fate was met"
    phone.page.unroute("**/events/")
    signal(phone)
    phone.arrived(len(tapped))
    assert [kind for kind, _body in phone.events()] == tapped
    assert (rows(phone, "outbox"), rows(phone, "log")) == (0, len(tapped))
    assert folded_by(phone) == folded_by_server(phone)
    shown = phone.page.evaluate(SHOWN)
    phone.page.reload()
    phone.page.wait_for_selector("main[data-whole]")
    assert phone.page.evaluate(SHOWN) == shown
    assert faults == []


def folded_by(phone: Pitch) -> dict[str, Any]:
    """What the phone's own log comes to, in words that both share."""
    where = [static("sessions/phone/store.js"), static("sessions/pitch/fold.js")]
    told = phone.page.evaluate(FOLDED, [*where, str(phone.session.public_id), SIX.timestamp() * 1000])
    return rounded(said_by_phone(told))


def folded_by_server(phone: Pitch) -> dict[str, Any]:
    """What the server has worked out of what it took, in the same words."""
    session = session_by_id(phone.session.public_id)
    assert session is not None
    state = state_of(session)
    assert state is not None
    return rounded(plain_words(state))


def rounded(state: dict[str, Any]) -> dict[str, Any]:
    """Minutes to a thousandth of a second; parts of which nothing happened say nothing."""

    def plain(value: Any) -> Any:
        if isinstance(value, dict):
            return {name: plain(each) for name, each in value.items()}
        return pytest.approx(value, abs=1e-5) if isinstance(value, float) else value

    return {name: plain(each) for name, each in state.items()} | {
        "parts": {key: plain(part) for key, part in state["parts"].items() if part}
    }
