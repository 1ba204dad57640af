"""Print a link that makes the first administrator."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from bibrack.sign_in_links import set_up_link
from club.queries.people import administrator_exists


class Command(BaseCommand):
    """Print a one-time set-up link."""

    help = "Print a link that makes whoever opens it first the administrator, once, within a week."

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the link and nothing else."""
        if administrator_exists():
            raise CommandError(
                "This club has an administrator: `sign_in_link EMAIL` prints a link for one person."
            )
        self.stdout.write(set_up_link())
