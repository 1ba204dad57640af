"""What the benches of a whole installation share: starting it, asking it, and how much memory it takes."""

import json
import os
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

from tests.harness.installation import ROOT, Installation, until

# Run in a process that has the installation's database. There is one open proposal for each person: ten ask.
ASK = """
from datetime import date
from django.db.backends.postgresql.psycopg_any import DateRange
from club.models import StaffRole, User
from club.queries import actor_of, age_groups
from sessions.proposals import actions
from sessions.proposals.queries import wish_for_group
groups = list(age_groups())
for number in range({count}):
    name = f"asks-{{number}}@demo.example"
    user = User.objects.create_user(email=name, name=name)
    StaffRole.objects.create(user=user, role="director", period=DateRange(date(2020, 1, 1), None))
    wish = wish_for_group(groups[number % len(groups)], minutes=75, players=12 + number, length=60, width=40)
    print(actions.ask_for_proposal(actor=actor_of(user), wish=wish).public_id)
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


def start(installation: Installation) -> float:
    """Seconds until pages are answered and the worker has been heard of."""
    began = time.perf_counter()
    installation.start()
    assert until(lambda: installation.answers("/healthz"), 180)
    took = time.perf_counter() - began
    assert until(lambda: installation.answers("/readyz"), 60)
    return took


def memory_mb(installation: Installation) -> float:
    """Summed PSS of the supervisor and all below it, and of the database and its processes."""
    parents = {}
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            parents[int(folder.name)] = int((folder / "stat").read_text().rsplit(")", 1)[1].split()[1])
        except OSError:
            continue  # it has just ended
    assert installation.child is not None
    ours, more = set[int](), {installation.child.pid, int(str(installation.database()))}
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


def told(installation: Installation, words: str) -> list[str]:
    """What a few lines of Python print in the installation's own database."""
    url = json.loads((installation.data / "run.json").read_text())["url"]
    env = {**installation.env, "DATABASE_URL": url, "DJANGO_SETTINGS_MODULE": "bibrack.settings.live"}
    secret = os.fspath(installation.data / "secret_key")
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


def timed(installation: Installation, path: str, key: str) -> float:
    asked = urllib.request.Request(
        f"http://localhost:{installation.port}{path}", headers={"Cookie": f"bibrack_session={key}"}
    )
    began = time.perf_counter()
    try:
        with urllib.request.urlopen(asked, timeout=60) as answer:
            answer.read()
            assert answer.url.endswith(path), "signed out"
    except urllib.error.HTTPError as missing:
        missing.read()  # one of the pages says that there is no such page
    return (time.perf_counter() - began) * 1000
