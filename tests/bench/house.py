"""One installation as `make run` starts it: web, worker and database are processes of their own and share the machine.

How long a start takes, what every page takes over HTTP, what the page at the pitch weighs when a phone has nothing of it, what memory it all takes, and how
the pages do while ten proposals are worked out.
"""

import json
import os
import statistics
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path
from typing import Any

from tests.harness.browsers import PHONE
from tests.harness.free_port import free_port
from tests.harness.house import ROOT, House, until

PROPOSALS, ROUNDS = 10, 12
# Run in a process that has the installation's database. There is one open proposal for each person: ten ask.
ASK = """
from datetime import date
from django.db.backends.postgresql.psycopg_any import DateRange
from club.models import StaffRole, User
from club.queries import actor_of, age_groups
from sessions import actions
from sessions.queries.proposing import wish_for_group
groups = list(age_groups())
for number in range({count}):
    name = f"asks-{{number}}@demo.example"
    user = User.objects.create_user(email=name, name=name)
    StaffRole.objects.create(user=user, role="director", period=DateRange(date(2020, 1, 1), None))
    wish = wish_for_group(groups[number % len(groups)], minutes=75, players=12 + number, length=60, width=40)
    print(actions.ask_for_proposal(actor=actor_of(user), wish=wish).public_id)
"""
SIGN_IN = """
from tests.harness.people import session_key
from sessions.models import TrainingSession
from club.queries import today
print(session_key("coach@demo.example"), TrainingSession.objects.get(age_group__label="U12", day=today()).public_id)
"""
PAGES = """
from tests.browser.pages import PAGES
from tests.harness.people import session_key
keys = {page.who: page.who and session_key(page.who) for page in PAGES}
for page in PAGES:
    print(page.name, page.path(), keys[page.who] or "-")
"""
LEFT = """
from sessions.models import Computation
asked = Computation.objects.filter(owner__email__startswith="asks-")
print(asked.exclude(state__in=["done", "failed", "cancelled"]).count())
print(asked.filter(state="done").count())
"""


def test_an_installation(tmp_path: Path, browser: Any) -> None:
    house = House(tmp_path / "data", free_port(), demo=True)
    tmp_path.chmod(0o755)  # the database may run as another account
    first, again = _start(house), 0.0
    try:
        house.stop()
        again = _start(house)
        key, session = _told(house, SIGN_IN)
        print(f"\nstart with a new demo club {first:.1f} s, again {again:.1f} s")
        requests, weight = _cold(house, browser, f"/sessions/{session}/pitch/", key)
        print(
            f"pitch page, nothing of it there yet: {requests} requests, {weight / 1000:.1f} kB over the wire"
        )
        _every_page(house)
        pages = {
            "home": "/",
            "library, 14 players on 40 × 30 m": "/library/?players=14&length=40&width=30",
            "session": f"/sessions/{session}/",
            "weeks": "/sessions/weeks/",
            "pitch": f"/sessions/{session}/pitch/",
        }
        for path in pages.values():
            _timed(house, path, key)  # what the first look works out is not what is measured
        alone = {name: [_timed(house, path, key) for _ in range(ROUNDS)] for name, path in pages.items()}
        began = time.perf_counter()
        assert len(_told(house, ASK.format(count=PROPOSALS))) == PROPOSALS
        rested = _memory_mb(house)
        beside: dict[str, list[float]] = {name: [] for name in pages}
        left, done = PROPOSALS, 0
        while left:
            for name, path in pages.items():
                beside[name] += [_timed(house, path, key) for _ in range(3)]
            left, done = map(int, _told(house, LEFT))
        took = time.perf_counter() - began
        worked = _memory_mb(house)
    finally:
        house.stop()
    assert done == PROPOSALS
    print(
        f"web + worker + database: {rested:.0f} MB summed PSS after some pages, {worked:.0f} MB after the proposals"
    )
    print(f"ten proposals at once: all answered {took:.0f} s after they were asked for")
    print(f"{'page over HTTP, ms':<36}{'alone':>8}{'beside':>8}{'worst':>8}{'ratio':>8}")
    for name, times in beside.items():
        quiet, busy = statistics.median(alone[name]), statistics.median(times)
        print(f"{name:<36}{quiet:>8.0f}{busy:>8.0f}{max(times):>8.0f}{busy / quiet:>8.1f}")


def _start(house: House) -> float:
    """Seconds until pages are answered and the worker has been heard of."""
    began = time.perf_counter()
    house.start()
    assert until(lambda: house.answers("/healthz"), 180)
    took = time.perf_counter() - began
    assert until(lambda: house.answers("/readyz"), 60)
    return took


def _cold(house: House, browser: Any, path: str, key: str) -> tuple[int, int]:
    """Requests and bytes over the wire of a page that a phone has never opened."""
    url, weights = f"http://localhost:{house.port}", list[int]()
    context = browser.new_context(**PHONE)
    context.add_cookies([{"name": "bibrack_session", "value": key, "url": url}])
    page = context.new_page()
    wire = context.new_cdp_session(page)
    wire.send("Network.enable")
    wire.on("Network.loadingFinished", lambda event: weights.append(int(event["encodedDataLength"])))
    page.goto(url + path, wait_until="networkidle")
    context.close()
    return len(weights), sum(weights)


def _every_page(house: House) -> None:
    """Print the slowest pages, and how many there are."""
    told = _told(house, PAGES)
    costs = {}
    for name, path, key in zip(told[::3], told[1::3], told[2::3], strict=True):
        _timed(house, path, key)
        costs[name] = statistics.median(_timed(house, path, key) for _ in range(7))
    slowest = sorted(costs, key=lambda name: -costs[name])[:8]
    print(
        f"{len(costs)} pages over HTTP, medians of 7: {min(costs.values()):.0f} to {max(costs.values()):.0f} ms"
    )
    print(", ".join(f"{name} {costs[name]:.0f}" for name in slowest))


def _memory_mb(house: House) -> float:
    """Summed PSS of the supervisor and all below it, and of the database and its processes."""
    parents = {}
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            parents[int(folder.name)] = int((folder / "stat").read_text().rsplit(")", 1)[1].split()[1])
        except OSError:
            continue  # it has just ended
    assert house.child is not None
    ours, more = set[int](), {house.child.pid, int(str(house.database()))}
    while more:
        ours |= more
        more = {pid for pid, parent in parents.items() if parent in ours} - ours
    return sum(map(_pss_kb, ours)) / 1000


def _pss_kb(pid: int) -> int:
    try:
        lines = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
    except OSError:
        return 0
    return next((int(line.split()[1]) for line in lines if line.startswith("Pss:")), 0)


def _told(house: House, words: str) -> list[str]:
    """What a few lines of Python print in the installation's own database."""
    url = json.loads((house.data / "run.json").read_text())["url"]
    env = {**house.env, "DATABASE_URL": url, "DJANGO_SETTINGS_MODULE": "bibrack.settings.live"}
    secret = os.fspath(house.data / "secret_key")
    start = "import django\ndjango.setup()\n"
    done = subprocess.run(
        [sys.executable, "-c", start + words],
        env={**env, "SECRET_KEY_FILE": secret},
        cwd=ROOT,
        text=True,
        capture_output=True,
        check=True,
    )
    return done.stdout.split()


def _timed(house: House, path: str, key: str) -> float:
    asked = urllib.request.Request(
        f"http://localhost:{house.port}{path}", headers={"Cookie": f"bibrack_session={key}"}
    )
    began = time.perf_counter()
    try:
        with urllib.request.urlopen(asked, timeout=60) as answer:
            answer.read()
            assert answer.url.endswith(path), "signed out"
    except urllib.error.HTTPError as missing:
        missing.read()  # one of the pages says that there is no such page
    return (time.perf_counter() - began) * 1000
