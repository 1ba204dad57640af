"""Print an API token of one person."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError
from knox.models import get_token_model

from club.queries.people import user_by_email


class Command(BaseCommand):
    """Print an API token."""

    help = "Print an API token of this person and nothing else; only its hash is kept."

    def add_arguments(self, parser: Any) -> None:
        """Name the person."""
        parser.add_argument("email")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the token and nothing else."""
        user = user_by_email(options["email"])
        if user is None or not user.is_active:
            raise CommandError(f"Nobody here has the address {options['email']}.")
        _, token = get_token_model().objects.create(user=user)
        self.stdout.write(token)
