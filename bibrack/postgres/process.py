"""Processes by identity: a number alone is not enough, since numbers are handed out again."""

import contextlib
import ctypes
import itertools
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

PR_SET_PDEATHSIG = 1  # linux/prctl.h
PROC = Path("/proc")


@dataclass(frozen=True)
class Identity:
    """A process and when it started: the pair is never used twice on one machine."""

    pid: int
    started: str


def identify(pid: int) -> Identity | None:
    """Return the living process with this number, or None."""
    started = _started_linux(pid) if sys.platform == "linux" else _ps(pid, "lstart=")
    return Identity(pid, started) if started else None


def is_alive(identity: Identity) -> bool:
    """Tell whether this very process still lives."""
    return identify(identity.pid) == identity


def _started_linux(pid: int) -> str:
    try:
        stat = (PROC / str(pid) / "stat").read_text(encoding="utf-8", errors="replace")
        boot = (PROC / "sys/kernel/random/boot_id").read_text(encoding="utf-8").strip()
    except OSError:
        return ""
    # The name stands in brackets and may hold anything, brackets and spaces included.
    fields = stat.rpartition(")")[2].split()
    state, ticks_since_boot = fields[0], fields[19]
    return "" if state in ("Z", "X") else f"{boot}:{ticks_since_boot}"


def _ps(pid: int, column: str) -> str:
    answer = subprocess.run(
        ["ps", "-o", column, "-p", str(pid)],
        capture_output=True,
        text=True,
        check=False,
        env={"LC_ALL": "C", "PATH": os.defpath},
    )
    return answer.stdout.strip()


def is_postgres_on(pid: int, cluster: Path) -> bool:
    """Tell whether this process is a PostgreSQL server working in this folder."""
    if identify(pid) is None:
        return False
    if sys.platform != "linux":
        command = _ps(pid, "args=")
        return "postgres" in command and str(cluster) in command
    return _name(pid) == "postgres" and cluster in _folders_of(pid)


def postgres_processes_on(cluster: Path) -> list[int]:
    """Return the server and its helpers that work in this folder, as far as we may see them.

    Elsewhere than on Linux the list is empty: PostgreSQL's own check of its shared memory stands guard.
    """
    if sys.platform != "linux":
        return []
    numbers = (int(entry.name) for entry in PROC.iterdir() if entry.name.isdigit())
    return sorted(pid for pid in numbers if is_postgres_on(pid, cluster))


def _name(pid: int) -> str:
    try:
        return (PROC / str(pid) / "comm").read_text(encoding="utf-8", errors="replace").strip()
    except OSError:
        return ""


def _folders_of(pid: int) -> set[Path]:
    """Return where the process stands, and the folder that its command line names after -D."""
    folders = set()
    with contextlib.suppress(OSError):  # another user's process: its command line is open to everybody
        folders.add(Path(os.readlink(PROC / str(pid) / "cwd")))
    try:
        words = (PROC / str(pid) / "cmdline").read_bytes().decode(errors="replace").split("\0")
    except OSError:
        return folders
    folders.update(Path(value) for flag, value in itertools.pairwise(words) if flag == "-D")
    return folders


def ends_with_parent(number: signal.Signals) -> Callable[[], None] | None:
    """Return what a child must run before it starts, to be sent this signal when its parent dies.

    Only Linux can do this, and there "parent" means the *thread* that started the child: call it from
    the main thread. Change the user first, since that clears the setting (subprocess does so).
    """
    if sys.platform != "linux":
        return None
    libc = ctypes.CDLL(None)  # loaded before the fork: nothing may be loaded after it
    parent = os.getpid()

    def before_start() -> None:
        libc.prctl(PR_SET_PDEATHSIG, int(number), 0, 0, 0)
        if os.getppid() != parent:  # it died before we asked
            os.kill(os.getpid(), number)

    return before_start


def end_with_my_parent(number: signal.Signals) -> None:
    """Have this very process sent the signal when the one that started it dies (on Linux)."""
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, int(number), 0, 0, 0)
