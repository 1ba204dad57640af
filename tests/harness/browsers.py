"""Which Chromium the journeys run in, and the two sizes they run at."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from tests.harness.whole_pages import wait_for_whole_pages

# Without a window first: it is the same engine, and asks for a third less of the processor.
NAMES = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
PHONE = {
    "viewport": {"width": 360, "height": 740},
    "has_touch": True,
    "is_mobile": True,
}
DESK = {"viewport": {"width": 1280, "height": 800}}
PACKAGES = ("chromium-headless-shell", "chromium")  # the first that the system has
PATIENCE_MS = 10_000
WHAT_TO_DO = "No Chromium found: install your system's chromium, or set CHROMIUM to the program's path."


def installed() -> str | None:
    """Return the path of a Chromium on this machine: `CHROMIUM`, else one of the usual names."""
    named = os.environ.get("CHROMIUM", "")
    if named:
        return named
    return next((path for name in NAMES if (path := shutil.which(name))), None)


def find() -> str | None:
    """Return a Chromium, installing the system's own when we may; None means the driver's own build.

    Raises RuntimeError with one line that says what to do.
    """
    found = installed()
    if found is None and os.geteuid() == 0 and shutil.which("apt-get"):
        subprocess.run(["apt-get", "update", "-q"], check=False, capture_output=True)
        for package in PACKAGES:
            command = ["apt-get", "install", "-qy", "--no-install-recommends", package, "fonts-dejavu-core"]
            if subprocess.run(command, check=False, capture_output=True).returncode == 0:
                break
        found = installed()
    if found is not None or _drivers_own_exists():
        return found
    raise RuntimeError(WHAT_TO_DO)


def _drivers_own_exists() -> bool:
    home = Path.home()
    folders = {"darwin": home / "Library/Caches/ms-playwright"}
    folder = folders.get(sys.platform, home / ".cache/ms-playwright")
    return any(folder.glob("chromium*"))


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict[str, Any]) -> dict[str, Any]:
    """Start the Chromium that was found, once per worker, quiet towards the network."""
    wait_for_whole_pages()
    found = find()
    own = {} if found is None else {"executable_path": found}
    return {**browser_type_launch_args, **own, "args": list(FLAGS)}


@pytest.fixture(scope="session")
def browser_context_args(browser_context_args: dict[str, Any]) -> dict[str, Any]:
    """Give `page` the size of a desk, British dates and no motion."""
    return {**browser_context_args, **DESK, "locale": "en-GB", "timezone_id": "Europe/London"}


@pytest.fixture
def phone(browser: Any, browser_context_args: dict[str, Any]) -> Iterator[Any]:
    """A page on a phone, 360 pixels wide, in a context of its own."""
    with _page(browser, {**browser_context_args, **PHONE}) as page:
        yield page


@pytest.fixture
def desk(browser: Any, browser_context_args: dict[str, Any]) -> Iterator[Any]:
    """A page at a desk, 1280 pixels wide, in a context of its own."""
    with _page(browser, {**browser_context_args, **DESK}) as page:
        yield page


@contextmanager
def _page(browser: Any, options: dict[str, Any]) -> Iterator[Any]:
    context = browser.new_context(**options)
    context.set_default_timeout(PATIENCE_MS)
    yield context.new_page()
    context.close()


@pytest.fixture(params=["phone", "desk"])
def sized_page(request: pytest.FixtureRequest) -> Any:
    """The same test at both sizes."""
    return request.getfixturevalue(request.param)
