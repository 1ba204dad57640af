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
from tests.harness.house import House, until

LONGEST_S = 60.0
PATIENCE_S = 280.0  # the machine may be busy with something else


def making_the_cluster(house: House) -> bool:
    return any(house.data.glob("postgres.new*/global"))


def collecting_static_files(house: House) -> bool:
    static = house.data / "static"
    return (static / "bibrack").exists() and not (static / ".stamp").exists()


def migrating(house: House) -> bool:
    """Tables there are, and no epoch yet."""
    return answer(
        house, "SELECT count(*) > 25 AND to_regclass('bibrack_epoch') IS NULL FROM django_migrations"
    )


def loading_the_demo_club(house: House) -> bool:
    """Some of its rows are written, in the transaction that writes all."""
    return answer(house, "SELECT count(*) > 0 FROM pg_stat_activity WHERE query LIKE '%INTO \"drills_%'")


MOMENTS: tuple[Callable[[House], bool], ...] = (
    making_the_cluster,
    collecting_static_files,
    migrating,
    loading_the_demo_club,
)


def answer(house: House, question: str) -> bool:
    """What the house's database says; no while it is not there."""
    url = house.database_url()
    if url is None:
        return False
    with suppress(psycopg.Error), psycopg.connect(url, connect_timeout=5) as connection:
        row = connection.execute(question).fetchone()
        return bool(row and row[0])
    return False


def crash(house: House) -> None:
    """Kill everything of this house at once, as a power cut does."""
    database, _ = lock.read(house.data / "postgres")
    assert house.child is not None
    for pid in (house.child.pid, *house.children(), database):
        if pid is not None:
            with suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)
    house.child.communicate()


def healed(house: House) -> bool:
    """Tell whether the start after it ends in a working demo club with its links."""
    house.start()
    works = until(house.answers, PATIENCE_S) and until(lambda: house.answers("/readyz"), PATIENCE_S)
    status, printed = house.stop()
    return works and status == 0 and "director" in printed and "Sign in to the demo club" in printed


def sweep(step_s: float) -> int:
    """Kill a first start after each of many spans of time; return how many did not heal."""
    after, ill = step_s, 0
    while after < LONGEST_S:
        base = Path(tempfile.mkdtemp(prefix="bibrack-killed-"))
        base.chmod(0o711)
        house = House(base / "data", free_port(), demo=True)
        house.start()
        time.sleep(after)
        done = house.answers()
        crash(house)
        good = healed(house)
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
