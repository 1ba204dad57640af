"""Django's own `migrate`, which also writes down the epoch of a database that it has made."""

from typing import Any

from django.core.management.base import CommandError
from django.core.management.commands import migrate

from bibrack import epoch


class Command(migrate.Command):
    """Migrate; a database of another epoch is `prepare`'s to judge."""

    def handle(self, *args: Any, **options: Any) -> None:
        """Migrate as Django does."""
        stored = epoch.stored_epoch()
        if stored not in (None, epoch.SCHEMA_EPOCH) and not (options["check_unapplied"] or options["plan"]):
            raise CommandError(
                "This database is half-made, or of another unreleased version: run `python manage.py prepare`, which "
                "mends it or says what to do."
            )
        super().handle(*args, **options)
        if stored is None and epoch.is_migrated():
            epoch.store_epoch()
