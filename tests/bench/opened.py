"""How many of our files somebody opens who follows one thing through the installation: those of which a function runs for it."""

import inspect
import sys
import threading
from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

from django.test import Client
from procrastinate.contrib.django import app

from tests.bench.pages import _client
from tests.browser.addresses import COACH, session_tonight
from tests.browser.pages import PAGES

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("bibrack", "club", "drills", "sessions")


def followed(work: Callable[[], Any]) -> set[str]:
    """Our files of which a function ran, in any thread."""
    found: set[str] = set()

    def seen(frame: Any, event: str, argument: Any) -> None:
        # What is run to put a module or a class together is followed by nobody.
        if event == "call" and frame.f_code.co_flags & inspect.CO_OPTIMIZED:
            found.add(frame.f_code.co_filename)

    threading.setprofile(seen)
    sys.setprofile(seen)
    try:
        work()
    finally:
        sys.setprofile(None)
        threading.setprofile(None)  # type: ignore[arg-type]
    inside = {path.relative_to(ROOT).as_posix() for path in map(Path, found) if path.is_relative_to(ROOT)}
    return {path for path in inside if path.split("/")[0] in ROOMS}


def test_opened(demo_database: Any) -> None:
    client = _client(COACH)
    client.get("/")
    client.get("/api/v1/themes/")
    drill = next(page for page in PAGES if page.name == "drill").path()
    journeys: dict[str, Callable[[], Any]] = {
        "a drill page": lambda: client.get(drill),
        "an event to the ledger": lambda: _recorded(client),
        "a proposal, from asking to taking": lambda: _proposed(client),
    }
    print(f"\n{'followed':<40}{'files':>8}  by room")
    for name, work in journeys.items():
        files = followed(work)
        rooms = Counter("/".join(path.split("/")[:2]) for path in files)
        print(f"{name:<40}{len(files):>8}  {', '.join(f'{room} {n}' for room, n in sorted(rooms.items()))}")


def _recorded(client: Client) -> None:
    """A part begun, ended and rated, and the session over."""
    from sessions.models import TrainingSession

    session = TrainingSession.objects.get(public_id=session_tonight().split("/")[2])
    begins = session.period.lower
    kinds: list[tuple[str, int, dict[str, Any]]] = [
        ("part_started", 0, {"part": 1}),
        ("part_ended", 15, {"part": 1}),
        ("effort", 80, {"part": 1, "value": 4}),
        ("delivered", 90, {}),
    ]
    events = [
        {"id": str(uuid4()), "kind": kind, "at": (begins + timedelta(minutes=minute)).isoformat(), **body}
        for kind, minute, body in kinds
    ]
    address = f"/api/v1/sessions/{session.public_id}/events/"
    answer = client.post(address, {"events": events}, content_type="application/json")
    print(answer.status_code, answer.content[:300]) if answer.status_code != 200 else None


def _proposed(client: Client) -> None:
    from sessions.models import Computation

    page = f"{session_tonight()}propose/"
    form = client.get(page).context["form"]
    typed = {name: _typed(form[name].value()) for name in form.fields}
    asked = client.post(page, {**typed, "instead": "1"})
    assert asked.status_code == 302, asked.context["form"].errors
    row = Computation.objects.latest("made_at")
    app.tasks["sessions.work_out_proposal"](computation=str(row.public_id))
    assert client.get(asked.url).status_code == 200
    client.post(f"{asked.url}take/", {"version": row.session.version, "which": 0})


def _typed(value: Any) -> str:
    return "" if value in (None, False) else str(value)
