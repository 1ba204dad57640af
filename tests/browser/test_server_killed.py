"""The server is killed with -9 while a phone sends: started again on the same folder, it has everything once."""

import os
import signal as signals
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import psycopg
import pytest
from playwright.sync_api import Route, expect

from tests.bench.installation import start, told
from tests.bibrack.killed import crash
from tests.browser.at_the_pitch import Pitch, phones
from tests.harness.free_port import free_port
from tests.harness.installation import Installation

pytestmark = pytest.mark.sweep

# Run in a process that has the installation's database.
TONIGHT = """
from tests.browser.at_the_pitch import begin_now
from tests.harness.people import session_key
session, zone = begin_now()
print(session_key("coach@demo.example"), session.public_id, zone)
"""
EVENTS = """SELECT e.kind, e.body FROM training_deliveryevent e JOIN training_trainingsession s ON s.id = e.session_id
            WHERE s.public_id = %s ORDER BY e.at, e.seq"""
HELD = "SELECT id FROM training_trainingsession WHERE public_id = %s FOR UPDATE"
WAITS = (
    "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND wait_event_type = 'Lock'"
)
PATIENCE_MS = 120_000  # the phone tries again after at most a minute


class PhoneThere(Pitch):
    """A coach's phone at an installation that runs in processes of its own."""

    def __init__(self, page: Any, url: str, installation: Installation, session: str) -> None:
        super().__init__(page, url, session)
        self.installation = installation

    def connection(self) -> "psycopg.Connection[Any]":
        return psycopg.connect(str(self.installation.database_url()), autocommit=True)

    def events(self) -> list[tuple[str, dict[str, Any]]]:
        with self.connection() as connection:
            return connection.execute(EVENTS, [self.session]).fetchall()

    def until(self, condition: Callable[[], bool]) -> None:
        """Wait while the page goes on."""
        for _ in range(PATIENCE_MS // 50):
            if condition():
                return
            self.page.wait_for_timeout(50)
        raise AssertionError("It did not come to that.")

    def there(self, count: int) -> None:
        """By itself, without a word to the phone: the server has so many, and the page says that nothing waits."""
        self.until(lambda: len(self.events()) >= count)
        self.sent_all()
        assert len(self.events()) == count
        self.keeps(0)


@pytest.fixture
def phone(data: Path, browser: Any) -> Iterator[PhoneThere]:
    installation = Installation(data, free_port(), demo=True)
    start(installation)
    try:
        key, session, zone = told(installation, TONIGHT)
        site = SimpleNamespace(url=f"http://localhost:{installation.port}")
        with phones(browser, site, zone) as opened:
            page = opened("")
            page.context.add_cookies([{"name": "bibrack_session", "value": key, "url": site.url}])
            yield PhoneThere(page, f"{site.url}/sessions/{session}/pitch/", installation, session)
    finally:
        installation.stop()


def killed_while_it_writes(phone: PhoneThere, tap: Callable[[], None], kill: Callable[[], None]) -> None:
    """Somebody else's transaction holds the session, so that what is sent waits in the server as the server dies."""
    with closing(phone.connection()) as connection:  # which rolls back
        connection.execute("BEGIN")
        connection.execute(HELD, [phone.session])
        tap()
        with phone.connection() as other:
            phone.until(lambda: other.execute(WAITS).fetchone() == (1,))
        kill()


def test_everything_is_there_once(phone: PhoneThere) -> None:
    faults: list[Any] = []
    phone.page.on("pageerror", lambda fault: faults.append(fault))
    phone.open("register")
    phone.page.click("#names > li .tap")
    phone.there(1)

    # The web server alone, in the middle of a transaction: what watches over it starts it again.
    web, _worker = phone.installation.children()
    killed_while_it_writes(
        phone,
        lambda: phone.page.locator("#names > li .tap").nth(1).click(),
        lambda: os.kill(web, signals.SIGKILL),
    )
    phone.there(2)

    # Everything at once, as a power cut does, in the middle of a transaction.
    killed_while_it_writes(
        phone,
        lambda: phone.page.locator("#names > li .tap").nth(2).click(),
        lambda: crash(phone.installation),
    )
    phone.page.locator("#names > li .tap").nth(3).click()  # with nobody there
    phone.waits("2 things not sent yet")
    start(phone.installation)
    phone.there(4)

    # Everything at once, after it was written and before the phone heard of it.
    taken: list[int] = []

    def dies(route: Route) -> None:
        if not taken:
            taken.append(route.fetch().status)
            crash(phone.installation)
        route.abort("connectionreset")

    phone.page.route("**/events/", dies)
    phone.page.click("#all-here")
    phone.until(lambda: bool(taken))
    phone.waits("11 things not sent yet")
    assert taken == [200]
    phone.page.unroute("**/events/")
    start(phone.installation)
    phone.there(15)

    phone.page.reload()
    phone.page.wait_for_selector("main[data-whole]")
    expect(phone.page.locator("#came")).to_have_text("15/15")
    assert [kind for kind, _body in phone.events()] == ["arrived"] * 15
    assert len({body["player"] for _kind, body in phone.events()}) == 15
    assert faults == []
