"""A phone at tonight's session: what the tests of the page at the pitch share."""

import json
import re
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from django.templatetags.static import static
from playwright.sync_api import Error, expect

from tests.harness.browsers import PATIENCE_MS, PHONE
from tests.harness.people import signed_in

OUTBOX = """async (store) => (await (await import(store)).rows("outbox")).length"""


class Pitch:
    """A phone (or desk) at tonight's under-twelves' session, which began a minute ago."""

    def __init__(self, page: Any, url: str, session: Any) -> None:
        self.page, self.url, self.session = page, url, session

    def open(self, view: str = "") -> None:
        self.page.goto(self.url + (f"#{view}" if view else ""))
        self.page.wait_for_selector("#names > li", state="attached")
        self.page.wait_for_selector("main[data-whole]")  # what comes after the clock runs

    def go(self, view: str) -> None:
        self.page.evaluate("view => { location.hash = view; }", view)
        self.page.wait_for_selector(f'main[data-view="{view}"]')

    def part(self, selector: str) -> Any:
        return self.page.locator(f"article.of-part:not([hidden]) {selector}")

    def rung(self, step: int) -> str:
        """The title of the rung so many steps from the planned one, in the first part."""
        first = json.loads(self.page.locator("#evening").text_content())["parts"][0]
        key = first["rungs"][first["rung"] + step]["key"]
        return self.part(f'.rung[data-rung="{key}"] b').text_content()

    def hold(self, selector: str, ms: int = 1000) -> None:
        box = self.page.locator(selector).bounding_box()
        self.page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        # The page's clock stands while the thumb is down, or a busy machine would press for longer than asked.
        self.clock_stands()
        self.page.mouse.down()
        self.page.clock.run_for(ms)
        self.page.mouse.up()
        self.page.clock.resume()

    def clock_stands(self) -> None:
        """At a moment that is still to come when the order arrives, however busy the machine is."""
        for ahead_ms in (100, 400, 1600):
            try:
                self.page.clock.pause_at(self.page.evaluate("ms => (Date.now() + ms) / 1000", ahead_ms))
            except Error as refused:
                if "to the past" not in str(refused):
                    raise
            else:
                return
        raise AssertionError("The page's clock did not stop.")

    def says(self, selector: str, text: str | re.Pattern[str]) -> None:
        """What the part on the page says, as soon as it says it: some answers come from the server."""
        expect(self.part(selector).first).to_have_text(text, timeout=PATIENCE_MS)

    def waits(self, text: str) -> None:
        """What the page says is not sent yet."""
        expect(self.page.locator("#unsent")).to_have_text(text, timeout=PATIENCE_MS, use_inner_text=True)

    def events(self) -> list[tuple[str, dict[str, Any]]]:
        from sessions.models import DeliveryEvent

        rows = DeliveryEvent.objects.filter(session=self.session).order_by("at", "seq")
        return [(row.kind, row.body) for row in rows]

    def keeps(self, count: int) -> None:
        """Wait until so many events that were not sent are on the phone's disk."""
        late = time.monotonic() + PATIENCE_MS / 1000
        while self.page.evaluate(OUTBOX, static("sessions/phone/store.js")) != count:
            assert time.monotonic() < late
            self.page.wait_for_timeout(50)

    def sent_all(self) -> None:
        """Wait until nothing waits. The line alone does not say so: it is not shown for what is on its way just now."""
        expect(self.page.locator("main")).to_have_attribute("data-unsent", "0", timeout=PATIENCE_MS)
        expect(self.page.locator("#unsent")).to_be_hidden(timeout=PATIENCE_MS)

    def arrived(self, count: int) -> None:
        """Wait until the server has so many events and the phone knows it."""
        late = time.monotonic() + PATIENCE_MS / 1000
        while len(self.events()) < count and time.monotonic() < late:
            self.page.wait_for_timeout(50)
        self.sent_all()
        assert len(self.events()) == count


def begin_now(label: str = "U12") -> Any:
    """Let today's session of an age group have begun a minute ago, wherever the clock of this machine stands.

    The club is put into the time zone in which it is about noon, so that no evening runs past midnight.
    """
    from django.utils import timezone

    from club.models import ClubSettings
    from club.queries import today
    from sessions.bridge import period_of
    from sessions.models import TrainingSession

    session = TrainingSession.objects.get(age_group__label=label, day=today())
    hours = 12 - timezone.now().hour
    zone = f"Etc/GMT{-hours:+d}" if hours else "Etc/GMT"
    ClubSettings.objects.update(time_zone=zone)
    begins = (datetime.now(ZoneInfo(zone)) - timedelta(minutes=1)).replace(second=0, microsecond=0)
    ends = begins + timedelta(minutes=75)
    TrainingSession.objects.filter(pk=session.pk).update(
        day=begins.date(),
        starts=begins.time(),
        ends=ends.time(),
        period=period_of(begins.date(), begins.time(), ends.time(), zone),
    )
    session.parts.filter(position=0).update(minutes=12, bouts=4, bout_s=150, rest_s=40)
    return session, zone


@contextmanager
def phones(browser: Any, site: Any, zone: str) -> Iterator[Callable[..., Any]]:
    """Opens an empty page on a phone of somebody's, in the club's zone, its clock in hand; closes everything afterwards."""
    contexts = []

    def opened(who: str, *, size: Any = PHONE, scheme: str = "light") -> Any:
        context = browser.new_context(**size, locale="en-GB", timezone_id=zone, reduced_motion="reduce")
        context.set_default_timeout(PATIENCE_MS)
        contexts.append(context)
        signed_in(context, site, who, scheme=scheme)
        page = context.new_page()
        page.clock.install()
        return page

    yield opened
    for context in contexts:
        context.close()


@pytest.fixture
def pitch(demo_site: Any, browser: Any) -> Iterator[Callable[..., Pitch]]:
    """Opens the page for somebody at a size."""
    session, zone = begin_now()
    url = demo_site.address(f"/sessions/{session.public_id}/pitch/")
    with phones(browser, demo_site, zone) as opened:
        yield lambda who="coach@demo.example", **looks: Pitch(opened(who, **looks), url, session)
