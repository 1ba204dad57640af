"""Print an API token of one person."""

from knox.models import get_token_model

from bibrack.management.for_person import PersonCommand
from club.models import User


class Command(PersonCommand):
    """Print an API token."""

    help = "Print an API token of this person and nothing else; only its hash is kept."

    def answer(self, user: User) -> str:
        """A new token."""
        token: str = get_token_model().objects.create(user=user)[1]
        return token
