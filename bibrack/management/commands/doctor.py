"""Look the installation over and say what is wrong, in plain lines."""

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core import checks
from django.core.mail import get_connection
from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError, connection

from bibrack import queries
from bibrack.blot import blot

LEAST_FREE_MB = 500
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
        yield False, f"The database is away: {str(error).splitlines()[0]}"
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
    yield number >= OLDEST_POSTGRES, f"PostgreSQL {version}."
    yield (
        safe,
        "Rows outlive a power cut (fsync is on)." if safe else "fsync is off: a power cut loses the club.",
    )
    readiness = queries.readiness()
    waiting = readiness["migrations_waiting"]
    yield (
        waiting == 0,
        f"{waiting} migrations wait: run prepare." if waiting else "All migrations are applied.",
    )
    beat = readiness["worker_heartbeat_s"]
    yield (
        beat is not None and beat < 60,
        f"The worker was last heard of {beat} s ago." if beat else "No worker runs.",
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
    free_mb = shutil.disk_usage(settings.DATA_DIR if key.exists() else settings.BASE_DIR).free // 1_000_000
    yield free_mb > LEAST_FREE_MB, f"{free_mb} MB free for data."
