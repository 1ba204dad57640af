"""The page at the pitch on a slow phone: how soon the clock stands, with a slow signal and without any; what a session weighs.

Slow 4G as page-speed tools simulate it (150 ms there and back, 1.6 Mbit/s down, 0.75 Mbit/s up; values from memory), and a
processor four times as slow as this one.
"""

import statistics
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.bench.installation import start, told
from tests.bench.processes import SIGN_IN
from tests.harness.browsers import PHONE
from tests.harness.free_port import free_port
from tests.harness.installation import Installation

TIMES = 5
SLOW_4G = {"offline": False, "latency": 150, "downloadThroughput": 204_800, "uploadThroughput": 93_750}
# As soon as the script has put the time of day beside the clock, the page runs.
WATCH = """
const at = setInterval(() => {
  if (!document.querySelector(".of-part:not([hidden]) .clock-now")?.textContent) return;
  clearInterval(at);
  window.stands = performance.now();
}, 10);
"""
SEEN = "() => window.stands && [performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? 0, window.stands]"


def test_the_first_view(tmp_path: Path, browser: Any) -> None:
    tmp_path.chmod(0o755)  # the database may run as another account
    installation = Installation(tmp_path / "data", free_port(), demo=True)
    start(installation)
    try:
        key, session = told(installation, SIGN_IN)
        url = f"http://localhost:{installation.port}"
        path = f"{url}/sessions/{session}/pitch/"
        slow = [_opened(browser, url, path, key) for _ in range(TIMES + 1)][1:]
        weighs, offline = _without_signal(browser, url, path, key)
    finally:
        installation.stop()
    for name, times in (("slow 4G, nothing of it there yet", slow), ("no signal, saved", offline)):
        seen, runs = (statistics.median(each) for each in zip(*times, strict=True))
        print(
            f"\npitch page, processor ÷ 4, {name}: first seen {seen:.0f} ms, clock runs {runs:.0f} ms", end=""
        )
    print(
        f"\nover the wire: one session, its page and all that is saved with it {weighs['session']:.1f} kB, "
        f"the program, once for all of them, {weighs['program']:.1f} kB"
    )


def _whose(url: str) -> str:
    return "program" if "/static/" in url else "session"


@contextmanager
def _phone(browser: Any, url: str, key: str) -> Iterator[tuple[Any, Any]]:
    context = browser.new_context(**PHONE)
    context.add_cookies([{"name": "bibrack_session", "value": key, "url": url}])
    page = context.new_page()
    page.add_init_script(WATCH)
    yield context, page
    context.close()


def _opened(browser: Any, url: str, path: str, key: str) -> list[float]:
    with _phone(browser, url, key) as (context, page):
        told = context.new_cdp_session(page)
        told.send("Network.enable")
        told.send("Network.emulateNetworkConditions", SLOW_4G)
        told.send("Emulation.setCPUThrottlingRate", {"rate": 4})
        page.goto(path, wait_until="commit")
        return list(page.wait_for_function(SEEN).json_value())


def _without_signal(
    browser: Any, url: str, path: str, key: str
) -> tuple[dict[str, float], list[list[float]]]:
    weights: dict[str, list[int]] = {"program": [], "session": []}
    of: dict[str, str] = {}
    with _phone(browser, url, key) as (context, page):
        told = context.new_cdp_session(page)
        told.send("Network.enable")
        told.on(
            "Network.requestWillBeSent", lambda each: of.update({each["requestId"]: each["request"]["url"]})
        )
        told.on(
            "Network.loadingFinished",
            lambda each: weights[_whose(of.get(each["requestId"], ""))].append(
                int(each["encodedDataLength"])
            ),
        )
        page.goto(path)
        page.wait_for_function("() => navigator.serviceWorker.controller !== null")
        page.wait_for_selector('#pitch[data-kept="saved"]')
        page.wait_for_load_state("networkidle")
        weighs = {name: sum(each) / 1000 for name, each in weights.items()}
        context.set_offline(True)
        page.close()
        times = []
        for _ in range(TIMES + 1):
            page = context.new_page()
            page.add_init_script(WATCH)
            context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
            page.goto(path, wait_until="commit")
            times.append(list(page.wait_for_function(SEEN).json_value()))
            page.close()
    return weighs, times[1:]
