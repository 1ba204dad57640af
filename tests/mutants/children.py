"""A run of tests in a child of this process, which has imported everything already but the installation's own modules.

What a run costs is then its tests, and a second for the installation itself.
"""

from __future__ import annotations

import gc
import importlib
import os
import resource
import signal
import sys
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

OURS = {"bibrack", "club", "drills", "sessions", "tests"}
# None of these asks for settings when it is imported.
HEAVY = (
    "argon2", "astral", "asyncio", "cachetools", "cryptography.x509", "django.contrib.auth.hashers",
    "django.core.management", "django.db.models", "django.forms", "django.template", "django.test", "django.urls",
    "environs", "factory", "fido2.webauthn", "hypothesis.strategies", "jsonschema", "msgspec", "numpy",
    "ortools.sat.python.cp_model", "playwright.sync_api", "procrastinate", "psycopg", "psycopg_pool", "pytest",
    "pytest_django.plugin", "pytest_playwright.pytest_playwright", "requests", "segno", "structlog", "time_machine", "typst",
    "uritemplate", "waitress", "xdist.plugin", "yaml", "zeal",
)  # fmt: skip
OPTIONS = ("-x", "-q", "--tb=line", "--no-header", "-p", "no:cacheprovider", "-p", "no:randomly", "-n0")
WAITS_S, WAITS_TIMES = 120.0, 10.0


def prepare() -> None:
    """Import what the children share; as a tool may have none of it, what is missing is left to them."""
    for name in HEAVY:
        with suppress(ImportError):
            importlib.import_module(name)
    gc.collect()
    gc.freeze()


@dataclass
class Child:
    """A run that is going on. `log` is what it prints."""

    pid: int
    log: Path
    deadline: float
    code: int | None = None

    @property
    def timed_out(self) -> bool:
        """Whether it used up its seconds of processor, or hung."""
        return self.code in {-signal.SIGXCPU, -signal.SIGKILL}

    def ended(self) -> bool:
        """Whether it has; one that is past its time is ended, with all that it started."""
        if self.code is None:
            found, status = os.waitpid(self.pid, os.WNOHANG)
            if found:
                self.code = os.waitstatus_to_exitcode(status)
            elif time.monotonic() > self.deadline:
                self.stop()
        return self.code is not None

    def stop(self) -> None:
        """End it."""
        with suppress(ProcessLookupError):
            os.killpg(self.pid, signal.SIGKILL)
        self.code = os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])


def start(copy: Path, tests: list[str], *, server: str, log: Path, processor_s: float) -> Child:
    """Run tests in a child, inside a copy of the source; stop at the first that fails, or after so many seconds of processor.

    By the clock it may take ten times as long, on a busy machine; longer than that it only waits.
    """
    sys.stdout.flush()
    pid = os.fork()
    if pid == 0:
        code = 3
        try:
            code = _run(copy, tests, server, log, processor_s)
        finally:
            os._exit(code)
    with suppress(OSError):
        os.setpgid(pid, pid)  # by parent and child: whoever comes first
    return Child(pid, log, time.monotonic() + WAITS_S + WAITS_TIMES * processor_s)


def _run(copy: Path, tests: list[str], server: str, log: Path, processor_s: float) -> int:
    used = time.process_time()
    resource.setrlimit(resource.RLIMIT_CPU, (int(used + processor_s) + 1,) * 2)
    with suppress(OSError):
        os.setpgid(0, 0)
    handle = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    os.dup2(handle, 1)
    os.dup2(handle, 2)
    here = os.getcwd()
    sys.path[:] = [str(copy), *(each for each in sys.path if each not in {here, ""})]
    os.chdir(copy)
    os.environ |= {"BIBRACK_TEST_DATABASE_URL": server, "PYTHONPATH": str(copy)}
    for name in [each for each in sys.modules if each.split(".")[0] in OURS]:
        del sys.modules[name]
    import pytest

    return int(pytest.main([*OPTIONS, *tests]))
