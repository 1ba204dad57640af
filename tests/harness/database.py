"""One private PostgreSQL per test run, in memory where the machine allows, shared by all workers."""

import fcntl
import os
import shutil
import tempfile
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from bibrack.postgres.runlock import RUN_LOCK
from bibrack.postgres.server import Server

# Folders whose tests need neither Django nor a database: a run of these alone starts neither.
PURE = (
    "tests/drills/game",
    "tests/drills/drawing",
    "tests/sessions/planning",
    "tests/sessions/pictures",
    "tests/bibrack/postgres",
    "tests/docker",
    "tests/mutants",
)
MEMORY = Path("/dev/shm")
PREFIX = "bibrack-tests-"


def is_pure(path: str) -> bool:
    """Tell whether a test's path, from the repository's root, lies in a pure folder."""
    return any(path == folder or path.startswith(f"{folder}/") for folder in PURE)


def only_pure(arguments: Sequence[str], root: Path, invoked_in: Path) -> bool:
    """Tell whether everything that was asked for is pure."""
    asked = [(invoked_in / argument.split("::")[0]).resolve() for argument in arguments]
    inside = [path.relative_to(root).as_posix() for path in asked if path.is_relative_to(root)]
    return bool(asked) and len(inside) == len(asked) and all(is_pure(path) for path in inside)


def sweep(base: Path) -> None:
    """Remove what runs that were killed left behind: folders whose lock nobody holds any more."""
    for lock in base.glob(f"{PREFIX}*/{RUN_LOCK}"):
        with lock.open("a") as handle, suppress(BlockingIOError):
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            shutil.rmtree(lock.parent, ignore_errors=True)


class PrivateDatabase:
    """A server of this run alone, its files thrown away afterwards."""

    def __init__(self) -> None:
        base = MEMORY if MEMORY.is_dir() and os.access(MEMORY, os.W_OK) else Path(tempfile.gettempdir())
        sweep(base)
        self.folder = Path(tempfile.mkdtemp(prefix=PREFIX, dir=base))
        self.folder.chmod(0o711)  # as root, the database's own account must pass
        self.server = Server(self.folder, kept=False)

    def start(self) -> str:
        """Start it and return its URL."""
        self.server.start()
        return self.server.url

    def stop(self) -> None:
        """Stop it and remove its files."""
        self.server.stop()
        shutil.rmtree(self.folder, ignore_errors=True)
