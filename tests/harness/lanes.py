"""Lanes: every test belongs to one of pure, db, tx and browser, found out from its folder and fixtures; or says "sweep"."""

from collections.abc import Sequence

import pytest

from tests.harness.database import is_pure

BROWSER_FIXTURES = {"page", "context", "browser", "phone", "desk", "demo_site"}
TX_FIXTURES = {"transactional_db", "live_server", "demo_site", "django_db_reset_sequences"}
SUMMARY = {
    "sweep": "goes through every one of many: with `make sweep`, not with `make test`",
    "pure": "no Django, no database",
    "db": "one database transaction per test",
    "tx": "commits for real: workers, locks, kills",
    "browser": "a real browser",
}


def describe(config: pytest.Config) -> None:
    """Register the lanes as markers."""
    for lane, meaning in SUMMARY.items():
        config.addinivalue_line("markers", f"{lane}: {meaning}")


def lane_of(item: pytest.Item, root: str) -> str:
    """Return the lane of a test."""
    for lane in SUMMARY:
        if item.get_closest_marker(lane):
            return lane  # the test's own word goes first
    fixtures = set(getattr(item, "fixturenames", ()))
    if fixtures & BROWSER_FIXTURES:
        return "browser"
    marker = item.get_closest_marker("django_db")
    if fixtures & TX_FIXTURES or (marker is not None and marker.kwargs.get("transaction")):
        return "tx"
    path = item.path.as_posix().removeprefix(f"{root}/")
    return "pure" if is_pure(path) else "db"


def assign(items: Sequence[pytest.Item], config: pytest.Config) -> None:
    """Mark every test with its lane."""
    root = config.rootpath.as_posix()
    for item in items:
        item.add_marker(lane_of(item, root))
