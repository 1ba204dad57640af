"""One installation as `make run` starts it: web, worker and database are processes of their own and share the machine.

How long a start takes, what every page takes over HTTP, what the page at the pitch weighs when a phone has nothing of it, what memory it all takes, and how
the pages do while ten proposals are worked out.
"""

import statistics
import time
from pathlib import Path
from typing import Any

from tests.bench.installation import ASK, LEFT, PAGES, memory_mb, start, timed, told
from tests.harness.browsers import PHONE
from tests.harness.free_port import free_port
from tests.harness.installation import Installation

PROPOSALS, ROUNDS = 10, 12
SIGN_IN = """
from tests.harness.people import session_key
from sessions.models import TrainingSession
from club.queries import today
print(session_key("coach@demo.example"), TrainingSession.objects.get(age_group__label="U12", day=today()).public_id)
"""


def test_an_installation(tmp_path: Path, browser: Any) -> None:
    installation = Installation(tmp_path / "data", free_port(), demo=True)
    tmp_path.chmod(0o755)  # the database may run as another account
    first, again = start(installation), 0.0
    try:
        installation.stop()
        again = start(installation)
        key, session = told(installation, SIGN_IN)
        print(f"\nstart with a new demo club {first:.1f} s, again {again:.1f} s")
        requests, weight = _cold(installation, browser, f"/sessions/{session}/pitch/", key)
        print(
            f"pitch page, nothing of it there yet: {requests} requests, {weight / 1000:.1f} kB over the wire"
        )
        _every_page(installation)
        pages = {
            "home": "/",
            "library, 14 players on 40 × 30 m": "/library/?players=14&length=40&width=30",
            "session": f"/sessions/{session}/",
            "weeks": "/sessions/weeks/",
            "pitch": f"/sessions/{session}/pitch/",
        }
        for path in pages.values():
            timed(installation, path, key)  # what the first look works out is not what is measured
        alone = {
            name: [timed(installation, path, key) for _ in range(ROUNDS)] for name, path in pages.items()
        }
        began = time.perf_counter()
        assert len(told(installation, ASK.format(count=PROPOSALS))) == PROPOSALS
        rested = memory_mb(installation)
        beside: dict[str, list[float]] = {name: [] for name in pages}
        left, done = PROPOSALS, 0
        while left:
            for name, path in pages.items():
                beside[name] += [timed(installation, path, key) for _ in range(3)]
            left, done = map(int, told(installation, LEFT))
        took = time.perf_counter() - began
        worked = memory_mb(installation)
    finally:
        installation.stop()
    assert done == PROPOSALS
    print(
        f"web + worker + database: {rested:.0f} MB summed PSS after some pages, {worked:.0f} MB after the proposals"
    )
    print(f"ten proposals at once: all answered {took:.0f} s after they were asked for")
    print(f"{'page over HTTP, ms':<36}{'alone':>8}{'beside':>8}{'worst':>8}{'ratio':>8}")
    for name, times in beside.items():
        quiet, busy = statistics.median(alone[name]), statistics.median(times)
        print(f"{name:<36}{quiet:>8.0f}{busy:>8.0f}{max(times):>8.0f}{busy / quiet:>8.1f}")


def _cold(installation: Installation, browser: Any, path: str, key: str) -> tuple[int, int]:
    """Requests and bytes over the wire of a page that a phone has never opened."""
    url, weights = f"http://localhost:{installation.port}", list[int]()
    context = browser.new_context(**PHONE)
    context.add_cookies([{"name": "bibrack_session", "value": key, "url": url}])
    page = context.new_page()
    wire = context.new_cdp_session(page)
    wire.send("Network.enable")
    wire.on("Network.loadingFinished", lambda event: weights.append(int(event["encodedDataLength"])))
    page.goto(url + path, wait_until="networkidle")
    context.close()
    return len(weights), sum(weights)


def _every_page(installation: Installation) -> None:
    """Print the slowest pages, and how many there are."""
    named = told(installation, PAGES)
    costs = {}
    for name, path, key in zip(named[::3], named[1::3], named[2::3], strict=True):
        timed(installation, path, key)
        costs[name] = statistics.median(timed(installation, path, key) for _ in range(7))
    slowest = sorted(costs, key=lambda name: -costs[name])[:8]
    print(
        f"{len(costs)} pages over HTTP, medians of 7: {min(costs.values()):.0f} to {max(costs.values()):.0f} ms"
    )
    print(", ".join(f"{name} {costs[name]:.0f}" for name in slowest))
