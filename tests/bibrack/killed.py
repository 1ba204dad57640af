"""First starts that are killed half-way. `python -m tests.bibrack.killed` kills one after each of many moments."""

import os
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import psycopg

from bibrack.postgres import lock
from tests.harness.free_port import free_port
from tests.harness.installation import Installation, until

LONGEST_S = 60.0
PATIENCE_S = 280.0  # the machine may be busy with something else


def making_the_cluster(installation: Installation) -> bool:
    return any(installation.data.glob("postgres.new*/global"))


def collecting_static_files(installation: Installation) -> bool:
    static = installation.data / "static"
    return (static / "bibrack").exists() and not (static / ".stamp").exists()


def migrating(installation: Installation) -> bool:
    """Tables there are, and no epoch yet."""
    return answer(
        installation, "SELECT count(*) > 25 AND to_regclass('bibrack_epoch') IS NULL FROM django_migrations"
    )


def loading_the_demo_club(installation: Installation) -> bool:
    """Some of its rows are written, in the transaction that writes all."""
    return answer(
        installation, "SELECT count(*) > 0 FROM pg_stat_activity WHERE query LIKE '%INTO \"drills_%'"
    )


MOMENTS: tuple[Callable[[Installation], bool], ...] = (
    making_the_cluster,
    collecting_static_files,
    migrating,
    loading_the_demo_club,
)


def answer(installation: Installation, question: str) -> bool:
    """What the installation's database says; no while it is not there."""
    url = installation.database_url()
    if url is None:
        return False
    with suppress(psycopg.Error), psycopg.connect(url, connect_timeout=5) as connection:
        row = connection.execute(question).fetchone()
        return bool(row and row[0])
    return False


def crash(installation: Installation) -> None:
    """Kill everything of this installation at once, as a power cut does."""
    database, _ = lock.read(installation.data / "postgres")
    assert installation.child is not None
    for pid in (installation.child.pid, *installation.children(), database):
        if pid is not None:
            with suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)
    installation.child.communicate()


def healed(installation: Installation) -> bool:
    """Tell whether the start after it ends in a working demo club with its links."""
    installation.start()
    works = until(installation.answers, PATIENCE_S) and until(
        lambda: installation.answers("/readyz"), PATIENCE_S
    )
    status, printed = installation.stop()
    return works and status == 0 and "director" in printed and "Sign in to the demo club" in printed


def sweep(step_s: float) -> int:
    """Kill a first start after each of many spans of time; return how many did not heal."""
    after, ill = step_s, 0
    while after < LONGEST_S:
        base = Path(tempfile.mkdtemp(prefix="bibrack-killed-"))
        base.chmod(0o711)
        installation = Installation(base / "data", free_port(), demo=True)
        installation.start()
        time.sleep(after)
        done = installation.answers()
        crash(installation)
        good = healed(installation)
        ill += not good
        done_by_then = ", ready by then" if done else ""
        sys.stdout.write(f"killed after {after:.2f} s{done_by_then}: {'healed' if good else 'ILL'}\n")
        sys.stdout.flush()
        shutil.rmtree(base, ignore_errors=True)
        if done:
            break
        after += step_s
    return ill


if __name__ == "__main__":
    sys.exit(sweep(float(sys.argv[1]) if len(sys.argv) > 1 else 0.5))
