"""Print a link that signs one person in, once."""

from bibrack.management.for_person import PersonCommand
from bibrack.sign_in_links import sign_in_link
from club.models import User


class Command(PersonCommand):
    """Print a one-time sign-in link."""

    help = "Print a link that signs this person in, once, within a day."

    def answer(self, user: User) -> str:
        """A new link."""
        return sign_in_link(user)
