"""Bring the database and the static files up to date; safe to run again at any time."""

import hashlib
import os
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError, connection

from bibrack import epoch, outages
from bibrack.sign_in_links import is_empty, way_in
from club.queries.people import administrator_exists

REBUILD = "REBUILD_DEMO"


class Command(BaseCommand):
    """Migrate, make the cache table, collect static files, load the demo club once, print links."""

    requires_system_checks: list[str] = []  # some ask the database, which is not ready before
    has_built = False  # whether tables or the demo club were made
    help = "Bring the database and the static files up to date; load the demo club into an empty database."

    def add_arguments(self, parser: Any) -> None:
        """Let a real club start empty."""
        parser.add_argument("--no-demo", action="store_true", help="leave an empty database empty")
        parser.add_argument("--only-static", action="store_true", help="collect static files and stop")
        parser.add_argument("--no-links", action="store_true", help="print no sign-in links")

    def handle(self, *args: Any, **options: Any) -> None:
        """Do only what is needed."""
        collect_static()
        if options["only_static"]:
            return
        try:
            self._bring_up_to_date(options)
        except DatabaseError as error:
            raise CommandError(f"{outages.known(error).words} ({outages.first_line(error)})") from error

    def _bring_up_to_date(self, options: dict[str, Any]) -> None:
        self._meet_epoch()
        self._migrate()
        wanted = not options["no_demo"] and os.environ.get("DEMO", "yes").lower() not in ("no", "0", "false")
        if wanted and is_empty():
            self.has_built = True
            call_command("demo", verbosity=0)
        if not options["no_links"]:
            for line in way_in():
                self.stdout.write(line)
        elif (
            not administrator_exists()
        ):  # what is written here may end in a log: the link opens the whole club
            self.stdout.write(
                "Nobody administers this club yet: `python manage.py set_up_link` prints the way in."
            )

    def _meet_epoch(self) -> None:
        stored = epoch.stored_epoch()
        if stored is None or stored == epoch.SCHEMA_EPOCH:
            return
        if epoch.holds_nothing():  # a first start that was killed half-way: made again from the beginning
            epoch.empty_the_database()
        elif stored == 0 and epoch.tables_are_ours():
            epoch.store_epoch()
        else:
            self._meet_another(stored)

    def _meet_another(self, stored: int) -> None:
        if not epoch.holds_only_demo_data():
            raise CommandError(
                f"This database was made by another unreleased version (epoch {stored or 'unknown'}, here "
                f"{epoch.SCHEMA_EPOCH}) and holds a real club: nothing was changed. Go back to that version "
                "and export, then import here."
            )
        if os.environ.get(REBUILD, "").lower() not in ("yes", "1", "true"):
            raise CommandError(
                f"The demo club was made by another unreleased version (epoch {stored}, here "
                f"{epoch.SCHEMA_EPOCH}). To make it anew, losing what was tried in it: {REBUILD}=yes make run"
            )
        epoch.empty_the_database()

    def _migrate(self) -> None:
        if not epoch.is_migrated():
            self.has_built = True
            call_command("migrate", interactive=False, verbosity=0)
        if settings.CACHES["default"]["LOCATION"] not in connection.introspection.table_names():
            call_command("createcachetable", verbosity=0)


def collect_static() -> None:
    """Collect static files when any has changed since the last time."""
    root = Path(settings.STATIC_ROOT)
    stamp = root / ".stamp"
    present = _fingerprint()
    if stamp.is_file() and stamp.read_text(encoding="utf-8") == present:
        return
    call_command("collectstatic", interactive=False, clear=root.exists(), verbosity=0)
    stamp.write_text(present, encoding="utf-8")


def _fingerprint() -> str:
    """Sum up every static file's path, size and time of change."""
    digest = hashlib.sha256(settings.VERSION.encode())
    for finder in get_finders():
        for name, storage in sorted(finder.list([]), key=lambda found: found[0]):
            facts = os.stat(storage.path(name))
            digest.update(f"{name} {facts.st_size} {facts.st_mtime_ns}\n".encode())
    return digest.hexdigest()
