"""One supervisor per data folder: a lock that the system itself lets go when its holder dies."""

import fcntl
import os
from pathlib import Path
from typing import IO

from bibrack.postgres import PostgresError, where

RUN_LOCK = "run.lock"


def take(data: Path) -> IO[str]:
    """Make the data folder when it is missing, and hold it until the returned file is closed.

    Raises PostgresError when another supervisor holds it or the folder cannot be used.
    """
    _make(data)
    handle = (data / RUN_LOCK).open("a+", encoding="utf-8")
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        handle.close()
        pid = where.read_run_file(data).get("supervisor_pid", "number unknown")
        raise PostgresError(
            f"Bibrack already runs on {data} (process {pid}): stop that one, or choose another DATA_DIR."
        ) from None
    return handle


def _make(data: Path) -> None:
    """Make the data folder; as root others may pass through it, since the database's account must."""
    try:
        data.mkdir(mode=0o711 if os.geteuid() == 0 else 0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise PostgresError(
            f"The data folder {data} cannot be made ({error.strerror}): choose another DATA_DIR."
        ) from error
    if not os.access(data, os.W_OK | os.X_OK):
        raise PostgresError(f"The data folder {data} cannot be written to: choose another DATA_DIR.")
