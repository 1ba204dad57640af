"""Pages for others while five hundred connections stand half-sent, against the same pages without them, in turns in one run."""

import contextlib
import socket
import statistics
from collections.abc import Iterator
from pathlib import Path

from tests.bench.installation import start, timed, told
from tests.harness.free_port import free_port
from tests.harness.installation import Installation

STALLED, TURNS, EACH = 500, 12, 5
HALF_A_HEAD = b"GET / HTTP/1.1\r\nHost: localhost\r\nX-Half: "
HALF_A_BODY = b"POST /accounts/login/ HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1000\r\n\r\nlogin="
PATHS = ("/", "/library/", "/sessions/weeks/", "/sessions/")
KEY = """
from tests.harness.people import session_key
print(session_key("coach@demo.example"))
"""


def test_half_sent_requests_cost_others_next_to_nothing(tmp_path: Path) -> None:
    installation = Installation(tmp_path / "data", free_port(), demo=True)
    tmp_path.chmod(0o755)
    start(installation)
    try:
        (key,) = told(installation, KEY)
        for path in PATHS:
            timed(installation, path, key)
        alone: list[float] = []
        beside: list[float] = []
        for _ in range(TURNS):
            alone += [timed(installation, path, key) for path in PATHS for _ in range(EACH)]
            with stalled(installation.port):
                beside += [timed(installation, path, key) for path in PATHS for _ in range(EACH)]
    finally:
        installation.stop()
    print(f"\n{'ms':<10}{'alone':>8}{'beside':>8}{'ratio':>8}   beside {STALLED} half-sent requests")
    for name, of in (("p50", statistics.median), ("p95", lambda each: statistics.quantiles(each, n=20)[-1])):
        print(f"{name:<10}{of(alone):>8.1f}{of(beside):>8.1f}{of(beside) / of(alone):>8.2f}")


@contextlib.contextmanager
def stalled(port: int) -> Iterator[None]:
    """Hold connections open that never finish what they began to say."""
    with contextlib.ExitStack() as stack:
        for number in range(STALLED):
            each = stack.enter_context(socket.create_connection(("127.0.0.1", port), 10))
            each.sendall(HALF_A_BODY if number % 2 else HALF_A_HEAD)
        yield
