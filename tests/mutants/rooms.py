"""Which files get faults: the glue between rows, rules and pages. The sample takes as many from each room."""

from __future__ import annotations

from pathlib import Path

ROOMS: dict[str, tuple[str, ...]] = {
    "folds": (
        "sessions/planning/fold/*.py",
        "sessions/queries/recorded/*.py",
        "sessions/actions/projections.py",
    ),
    "ledger": (
        "sessions/planning/account.py",
        "sessions/planning/load.py",
        "sessions/actions/accounts.py",
        "sessions/actions/ledger.py",
        "sessions/queries/counted.py",
    ),
    "access": ("*/access.py", "sessions/proposals/access.py", "club/queries/vetting.py"),
    "actions": ("*/actions/*.py", "sessions/proposals/actions/*.py"),
    "pages": ("*/pages/**/*.py", "sessions/proposals/pages.py"),
}
ASIDE = {"club/actions/guidelines.py"}  # published figures: rows, each held by tests/published
APPS = ("club", "drills", "sessions")


def files(root: Path) -> dict[str, str]:
    """Path → room, both from the root; a file belongs to the first room that names it."""
    found: dict[str, str] = {}
    for room, patterns in ROOMS.items():
        for pattern in patterns:
            for path in sorted(root.glob(pattern)):
                name = path.relative_to(root).as_posix()
                if name.split("/")[0] in APPS and name not in ASIDE:
                    found.setdefault(name, room)
    return found
