"""What an installation takes after a club's busy evening, and whether the next evening takes more.

200 sheets, 20 proposals and every page twice, then a minute of rest; and all of it once more.
"""

import itertools
import time
from pathlib import Path

from tests.bench.installation import ASK, LEFT, PAGES, memory_mb, start, timed, told
from tests.harness.free_port import free_port
from tests.harness.installation import Installation

SHEETS, PROPOSALS, REST_S = 200, 20, 60
SESSIONS = """
from tests.harness.people import session_key
from sessions.models import TrainingSession
print(session_key("director@demo.example"), *TrainingSession.objects.values_list("public_id", flat=True))
"""


def test_a_busy_evening_and_another(tmp_path: Path) -> None:
    installation = Installation(tmp_path / "data", free_port(), demo=True)
    tmp_path.chmod(0o755)
    start(installation)
    try:
        print(f"\nat rest {memory_mb(installation):.0f} MB")
        for evening in (1, 2, 3):
            print(f"evening {evening}: {_evening(installation, evening)}", flush=True)
    finally:
        installation.stop()


def _evening(installation: Installation, number: int) -> str:
    key, *sessions = told(installation, SESSIONS)
    said = []
    for place, (session, size) in enumerate(itertools.cycle(itertools.product(sessions, ("a4", "pocket")))):
        if place == SHEETS:
            break
        timed(
            installation,
            f"/api/v1/sessions/{session}/sheet.pdf?size={size}&ink={'colour' if place % 3 else 'black'}",
            key,
        )
    said.append(f"sheets {memory_mb(installation):.0f}")
    told(installation, ASK.format(count=PROPOSALS).replace("asks-", f"asks-{number}-"))
    while int(told(installation, LEFT)[0]):
        time.sleep(1)
    said.append(f"proposals {memory_mb(installation):.0f}")
    named = told(installation, PAGES)
    for _ in range(2):
        for path, who in zip(named[1::3], named[2::3], strict=True):
            timed(installation, path, who)
    said.append(f"pages {memory_mb(installation):.0f}")
    time.sleep(REST_S)
    rested = memory_mb(installation)
    return f"{', '.join(said)}; a minute later {rested:.0f} MB"
