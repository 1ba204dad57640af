"""The file by which PostgreSQL keeps two servers off one folder, and what to do when it is stale."""

import os
import signal
import time
from pathlib import Path

from bibrack.postgres import PostgresError, process

LOCK_FILE = "postmaster.pid"
SOCKET_FILES = ".s.PGSQL.*"
PID_LINE, STATUS_LINE = 0, 7  # the file's lines, as PostgreSQL's own pg_ctl reads them


def read(cluster: Path) -> tuple[int | None, str]:
    """Return the server's number and its status word ("ready", "starting" …) from the lock file."""
    try:
        lines = (cluster / LOCK_FILE).read_text(encoding="utf-8", errors="replace").splitlines()
    except FileNotFoundError:
        return None, ""
    number = lines[PID_LINE].strip() if lines else ""
    status = lines[STATUS_LINE].strip() if len(lines) > STATUS_LINE else ""
    return (int(number) if number.isdigit() else None), status


def clear(cluster: Path, socket: Path, *, patience_s: float = 30.0) -> None:
    """Leave the folder free for a new server, whose keeper holds the run lock already.

    A server still at work here has lost its keeper: it is given time to end, then asked to. After a
    hard stop the number in the file may since belong to anything: such a file is removed only once
    nothing of PostgreSQL works in the folder any more, and the other process is left alone. The same
    goes for the lock beside the socket: that folder is this cluster's alone.
    Raises PostgresError when a server here will not end.
    """
    deadline = time.monotonic() + patience_s
    asked = False
    while left := _still_here(cluster):
        if time.monotonic() > deadline:
            raise PostgresError(
                f"A database server (process {left[0]}) still works in {cluster} and does not end: stop it first."
            )
        if not asked and time.monotonic() > deadline - patience_s + min(5.0, patience_s / 2):
            _ask_to_end(cluster)
            asked = True
        time.sleep(0.05)
    (cluster / LOCK_FILE).unlink(missing_ok=True)
    for left_behind in socket.glob(SOCKET_FILES):
        left_behind.unlink(missing_ok=True)


def _still_here(cluster: Path) -> list[int]:
    named, _ = read(cluster)
    at_work = process.postgres_processes_on(cluster)
    if named is not None and named not in at_work and process.is_postgres_on(named, cluster):
        at_work.append(named)
    return at_work


def _ask_to_end(cluster: Path) -> None:
    """Ask the server itself, never its helpers: they follow it."""
    named, _ = read(cluster)
    if named is not None and process.is_postgres_on(named, cluster):
        os.kill(named, signal.SIGINT)  # "fast" shutdown
