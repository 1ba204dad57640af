"""What a phone keeps for times without signal: what a page says of itself, the shell, and the worker between page and network."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.contrib.staticfiles import finders
from django.contrib.staticfiles.storage import staticfiles_storage
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from club import lasting
from club.actor import Actor
from club.letters import isolated

if TYPE_CHECKING:
    from sessions.models import TrainingSession

SCHEMA = 1  # of a saved page; the shell opens those of its own, others are fetched anew
SCRIPTS = ("sessions/pitch", "sessions/pitch/tonight", "sessions/phone")
FILES = (
    "bibrack/css/tokens.css",
    "bibrack/css/base.css",
    "bibrack/css/drawing.css",
    "bibrack/css/pitch.css",
    "sessions/pitch/pitch.css",
    "sessions/pitch/later.css",
    "bibrack/js/scheme.js",
    "bibrack/icon.svg",
)


def about(session: TrainingSession, actor: Actor) -> dict[str, Any]:
    """What the page says of itself to whatever keeps it: whose it is, when it is, and where things are. No query."""
    at = session.public_id
    return {
        **about_any(session),
        "account": actor.account,
        "title": f"{session.age_group.label} {isolated(session.squad.name)}",
        "url": reverse("sessions:pitch", args=[at]),
        "along": reverse("sessions:pitch-along", args=[at]),
        "events": reverse("api-session-events", args=[at]),
        "phone": reverse("sessions:phone"),
    }


def about_any(session: TrainingSession) -> dict[str, Any]:
    """What every page at the pitch says of itself, whoever's it is. No query."""
    return {
        "session": str(session.public_id),
        "schema": SCHEMA,
        "starts": _ms(session.period.lower),
        "off": _ms(session.period.upper),
        "until": _ms(session.period.upper + lasting.PHONE_COPIES),
        "now": _ms(timezone.now()),
        "plan": plan_tag(session),
        "worker": reverse("worker"),
    }


def plan_tag(session: TrainingSession) -> str:
    """Changes with what was planned: time, place, parts, drills. Not with what happens at the pitch. No query."""
    parts = [
        (
            str(part.public_id),
            part.minutes,
            part.bouts,
            part.bout_s,
            part.rest_s,
            [(str(each.public_id), each.revision_id) for each in part.stations.all()],
        )
        for part in session.parts.all()
    ]
    times = (session.period.lower.isoformat(), session.period.upper.isoformat())
    return _digest([*times, session.squad_id, parts])


def week_along(actor: Actor, sessions: Sequence[UUID]) -> dict[str, Any]:
    """What Today's page takes along, and the words for it. No query."""
    return {
        "account": actor.account,
        "urls": [reverse("sessions:pitch", args=[each]) for each in sessions],
        "phone": reverse("sessions:phone"),
        "worker": reverse("worker"),
        "words": {
            "taking": _("Saving {n} of {all} …"),
            "taken": _("{n} of {all} sessions are saved on this phone."),
            "here": _("{n} of this week's {all} sessions are on this phone already."),
            "opens": _("They open without signal."),
            "no_https": _(
                "At this address they open only while the page stays open (without signal takes https)."
            ),
            "not_signal": _("The signal went. Try again."),
            "not_full": _("This phone is full, or saves nothing for pages."),
            "one_left": _("1 thing you recorded is still on this phone."),
            "left": _("{n} things you recorded are still on this phone."),
            "others_left": _("Some are of another account, and wait until it signs in."),
            "gone": _("Their session is not there any more."),
        },
    }


def _ms(moment: Any) -> int:
    return int(moment.timestamp() * 1000)


def _digest(value: Any) -> str:
    return hashlib.sha256(json.dumps(value).encode()).hexdigest()[:16]


def shell() -> str:
    """The page that stands in without signal: the same for everybody, with nobody's name in it."""
    return render_to_string("sessions/pitch/shell.html", {"schema": SCHEMA, "words": shell_words()})


def shell_words() -> dict[str, str]:
    """What the shell says."""
    return {
        "no_signal": _("No signal. What is saved on this phone opens without."),
        "not_saved": _("No signal, and this session is not saved on this phone."),
        "too_old": _(
            "No signal, and this session was saved by another version. With signal it is saved again."
        ),
        "no_storage": _("No signal, and this browser keeps nothing for pages."),
        "saved_at": _("saved {time}"),
    }


def worker_script() -> str:
    """The service worker (W3C, Service Workers): which files it holds, and their version by their content."""
    settings = {
        "version": _version(),
        "files": files(),
        "shell": reverse("sessions:saved"),
        "phone": reverse("sessions:phone"),
    }
    source = staticfiles_storage.url("sessions/phone/worker.js")
    return f"import {{ work }} from {json.dumps(source)};\n\nwork({json.dumps(settings, indent=2)});\n"


def files() -> list[str]:
    """Addresses of all files that a session at the pitch needs."""
    return [staticfiles_storage.url(name) for name in _names()]


@cache
def _names() -> tuple[str, ...]:
    return (*FILES, *(f"{folder}/{path.name}" for folder in SCRIPTS for path in _scripts(folder)))


def _scripts(folder: str) -> list[Path]:
    return sorted(Path(str(finders.find(folder))).glob("*.js"))


@cache
def _contents() -> str:
    """Of the files as they are: a running server's do not change."""
    return _digest(
        [hashlib.sha256(Path(str(finders.find(name))).read_bytes()).hexdigest() for name in _names()]
    )


def _version() -> str:
    return _digest([_contents(), files(), shell()])
