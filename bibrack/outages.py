"""What stands in the way when the database or the disk gives up: one cause, one sentence, one status, one line in the log."""

import errno
import os
import shutil
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import psycopg
import structlog
from django.conf import settings
from django.db import InterfaceError, OperationalError, connection
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _
from psycopg_pool import PoolTimeout

log = structlog.get_logger("bibrack.outage")

LOW_MB = 500  # below this there is time to make room
FULL_MB = 20  # PostgreSQL writes its log in pieces of 16 MB
SEEN_LATELY_S = 60.0  # where the database's disk is another's, a refused write is all that we see of it


@dataclass(frozen=True)
class Outage:
    """A cause. `retry_s`: when asking again may help, in seconds; None when somebody has to do something first."""

    name: str
    status: int
    words: str | Promise
    retry_s: int | None = None


DISK_FULL = Outage(
    "disk full",
    507,
    _(
        "The server's disk is full: what is saved can be read, and nothing can be saved until somebody makes room there."
    ),
)
READ_ONLY = Outage(
    "read-only",
    503,
    _("The database only answers questions just now: nothing can be saved until it takes writes again."),
)
DISK_FAILS = Outage(
    "disk fails",
    503,
    _("The database can't read or write its files. Whoever runs the server has to look at its disk."),
)
TOO_MANY = Outage("too many connections", 503, _("Too many are asking at once. Try again in a moment."), 5)
TOO_SLOW = Outage(
    "took too long", 503, _("That took too long and was stopped; nothing was saved. Try again."), 5
)
SAME_MOMENT = Outage(
    "same moment", 503, _("Somebody saved at the same moment; nothing of yours was saved. Try again."), 1
)
RESTARTS = Outage(
    "database restarts", 503, _("The database is stopping or starting. Try again in a minute."), 10
)
AWAY = Outage("database away", 503, _("The database is away."), 10)

# PostgreSQL, appendix A: error codes.
BY_CODE = {
    "53100": DISK_FULL,
    "25006": READ_ONLY,
    "58030": DISK_FAILS,
    "53300": TOO_MANY,
    "53200": TOO_MANY,  # out of memory
    "57014": TOO_SLOW,
    "55P03": SAME_MOMENT,  # a lock that was not to be had
    "40P01": SAME_MOMENT,
    "40001": SAME_MOMENT,
    "57P01": RESTARTS,
    "57P02": RESTARTS,
    "57P03": RESTARTS,
    "57P05": RESTARTS,
}
CONNECTION_LOST = "08"
# A connection that is refused comes without a code, with the server's words alone.
BY_WORDS = {
    "No space left on device": DISK_FULL,
    "too many": TOO_MANY,
    "remaining connection slots": TOO_MANY,
    "the database system is": RESTARTS,  # starting up, shutting down, in recovery mode
    "administrator command": RESTARTS,
}
DISK_IS_FULL = (errno.ENOSPC, errno.EDQUOT)


def outage_of(error: BaseException | None) -> Outage | None:
    """Return what caused the error, or None for one that is a mistake of ours. What it was raised from counts too."""
    chain = list(_chain(error))
    for each in chain:
        found = _by_itself(each)
        if found is not None:
            return found
    if any(isinstance(each, OperationalError | InterfaceError | psycopg.OperationalError) for each in chain):
        return _without_an_answer(chain)
    return None


def note(error: BaseException) -> Outage | None:
    """Return what caused the error, and write it down. Call it once per failed request or command."""
    found = outage_of(error)
    if found is not None:
        log.error("outage", cause=found.name, sqlstate=_code(error), detail=first_line(error))
    if found is DISK_FULL:
        _Seen.disk_full_at = time.monotonic()
    return found


def known(error: Exception) -> Outage:
    """Return and write down what caused the error. Raises it again when it is a mistake of ours."""
    found = note(error)
    if found is None:
        raise error
    return found


def first_line(error: BaseException) -> str:
    """The error in one line, as its maker says it."""
    return next(iter(str(error).splitlines()), type(error).__name__)


class _Seen:
    disk_full_at: float | None = None


def free_mb() -> int:
    """Return how much room is left for data on this machine, in MB."""
    folder = Path(settings.DATA_DIR)
    while not folder.exists():
        folder = folder.parent
    return shutil.disk_usage(folder).free // 1_000_000


def disk_is_full() -> bool:
    """Tell whether there is no room on this machine, or the database said so within the last minute."""
    seen = _Seen.disk_full_at
    return free_mb() < FULL_MB or (seen is not None and time.monotonic() - seen < SEEN_LATELY_S)


def disk_is_low() -> bool:
    """Tell whether there is little room left: time to make some."""
    return free_mb() < LOW_MB


def data_folder_refuses() -> str:
    """Return why nothing can be written into the data folder, in the system's words; empty when it can."""
    try:
        with tempfile.TemporaryFile(dir=settings.DATA_DIR):
            return ""
    except OSError as error:
        return os.strerror(error.errno or errno.EIO)


def _chain(error: BaseException | None) -> Iterator[BaseException]:
    seen: set[int] = set()
    while error is not None and id(error) not in seen:
        seen.add(id(error))
        yield error
        error = error.__cause__ or error.__context__


def _by_itself(error: BaseException) -> Outage | None:
    if isinstance(error, psycopg.Error) and error.sqlstate:
        return AWAY if error.sqlstate.startswith(CONNECTION_LOST) else BY_CODE.get(error.sqlstate)
    if isinstance(error, psycopg.OperationalError):
        return next((cause for words, cause in BY_WORDS.items() if words in str(error)), None)
    return DISK_FULL if isinstance(error, OSError) and error.errno in DISK_IS_FULL else None


def _without_an_answer(chain: list[BaseException]) -> Outage:
    """Nobody answered. A server whose disk is full ends and does not come back, so the disk is asked first."""
    if disk_is_full():
        return DISK_FULL
    return _why_none_was_free() if any(isinstance(each, PoolTimeout) for each in chain) else AWAY


def _why_none_was_free() -> Outage:
    """The pool waits in vain for a connection both when all are in use and when none can be made: make one."""
    given = {**connection.get_connection_params(), "connect_timeout": 2}
    given.pop("pool", None)
    try:
        psycopg.connect(**given).close()
    except psycopg.Error as error:
        return _by_itself(error) or AWAY
    return TOO_MANY


def _code(error: BaseException) -> str | None:
    codes = (each.sqlstate for each in _chain(error) if isinstance(each, psycopg.Error))
    return next((code for code in codes if code), None)
