"""A command about one person, who is named by an address."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from club.models import User
from club.queries.people import user_by_email


class PersonCommand(BaseCommand):
    """Prints what `answer` says for a person, and nothing else."""

    def add_arguments(self, parser: Any) -> None:
        """Name the person."""
        parser.add_argument("email")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the answer. CommandError for an address that nobody here signs in with."""
        user = user_by_email(options["email"])
        if user is None or not user.is_active:
            raise CommandError(f"Nobody here has the address {options['email']}.")
        self.stdout.write(self.answer(user))

    def answer(self, user: User) -> str:
        """What is printed."""
        raise NotImplementedError
