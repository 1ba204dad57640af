"""Look the installation over and say what is wrong, in plain lines."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core import checks
from django.core.mail import get_connection
from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError, connection

from bibrack import outages, queries
from bibrack.blot import blot

OLDEST_POSTGRES = 150000
OLD_JOB_S = 600


class Command(BaseCommand):
    """Look over settings, database, worker, mail, files and space."""

    help = "Look the installation over: settings, database, migrations, worker, mail, secret key, disk space."

    def handle(self, *args: Any, **options: Any) -> None:
        """Print one line per finding; fail when any is bad."""
        findings = list(look_over())
        for good, line in findings:
            self.stdout.write(f"{'ok ' if good else 'BAD'}  {line}")
        bad = sum(1 for good, _ in findings if not good)
        if bad:
            raise CommandError(f"{bad} of {len(findings)} need attention.")


def look_over() -> Iterator[tuple[bool, str]]:
    """Yield findings: whether it is good, and what was seen."""
    yield from _settings()
    try:
        yield from _database()
    except DatabaseError as error:
        cause = outages.note(error)
        words = cause.words if cause else "The database answers with an error."
        yield False, f"{words} ({blot(outages.first_line(error))})"
    yield _mail()
    yield from _files()


def _settings() -> Iterator[tuple[bool, str]]:
    found = checks.run_checks()
    for message in found:
        yield not message.is_serious(), f"{message.id}: {message.msg} {message.hint or ''}".strip()
    if not found:
        yield True, f"Settings for {settings.SITE_URL}, version {settings.VERSION}."


def _database() -> Iterator[tuple[bool, str]]:
    with connection.cursor() as cursor:
        cursor.execute("SELECT current_setting('server_version_num')::int, current_setting('server_version')")
        number, version = cursor.fetchone()
        cursor.execute("SELECT current_setting('fsync')")
        safe = cursor.fetchone()[0] == "on"
        cursor.execute("SHOW transaction_read_only")
        takes_writes = cursor.fetchone()[0] == "off"
    yield number >= OLDEST_POSTGRES, f"PostgreSQL {version}."
    yield (
        safe,
        "Rows outlive a power cut (fsync is on)." if safe else "fsync is off: a power cut loses the club.",
    )
    yield takes_writes, "The database takes writes." if takes_writes else str(outages.READ_ONLY.words)
    readiness = queries.readiness()
    waiting = readiness["migrations_waiting"]
    yield (
        waiting == 0,
        f"{waiting} migrations wait: run prepare." if waiting else "All migrations are applied.",
    )
    beat = readiness["worker_heartbeat_s"]
    yield (
        beat is not None and abs(beat) < 60,
        f"The worker was last heard of {beat} s ago." if beat is not None else "No worker runs.",
    )
    outdated = readiness["drills_to_rederive"]
    yield (
        outdated == 0,
        f"{outdated} drills are found by what an older version worked out; the worker is working them out anew."
        if outdated
        else "What drills are found by is up to date.",
    )
    oldest = readiness["oldest_job_s"] or 0
    yield oldest < OLD_JOB_S, f"The oldest waiting job is {oldest:.0f} s old."


def _mail() -> tuple[bool, str]:
    if not settings.MAIL_IS_SET:
        return (
            True,
            "No mail (EMAIL_URL is not set): who forgets a password needs a sign-in link from the director.",
        )
    where = f"{settings.EMAIL_HOST}:{settings.EMAIL_PORT}"
    try:
        with get_connection():
            return True, f"Mail goes through {where}, from {settings.DEFAULT_FROM_EMAIL}."
    except OSError as error:  # SMTP's own errors are such
        return False, f"Mail can't be handed over to {where}: {blot(str(error))}"


def _files() -> Iterator[tuple[bool, str]]:
    key = Path(settings.DATA_DIR) / "secret_key"
    if key.exists():
        private = key.stat().st_mode & 0o077 == 0
        yield private, f"{key} is {'private' if private else 'open to other users: chmod 600'}."
    if Path(settings.DATA_DIR).exists():
        refused = outages.data_folder_refuses()
        words = "can be written to" if not refused else f"cannot be written to: {refused}"
        yield not refused, f"The data folder {settings.DATA_DIR} {words}."
    yield _space()


def _space() -> tuple[bool, str]:
    free = outages.free_mb()
    if outages.disk_is_full():
        return False, f"The disk is full ({free} MB free): nothing can be saved. Make room now."
    if outages.disk_is_low():
        return (
            False,
            f"{free} MB free for data, below {outages.LOW_MB} MB: make room before the disk is full.",
        )
    return True, f"{free} MB free for data."
