"""Print a link that signs one person in, once."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from bibrack.sign_in_links import sign_in_link
from club.queries.people import user_by_email


class Command(BaseCommand):
    """Print a one-time sign-in link."""

    help = "Print a link that signs this person in, once, within a day."

    def add_arguments(self, parser: Any) -> None:
        """Name the person."""
        parser.add_argument("email")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the link and nothing else."""
        user = user_by_email(options["email"])
        if user is None or not user.is_active:
            raise CommandError(f"Nobody here has the address {options['email']}.")
        self.stdout.write(sign_in_link(user))
