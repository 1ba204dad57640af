"""Load the demo club, or load it anew."""

from typing import Any

from django.core.management.base import BaseCommand

from bibrack import demo


class Command(BaseCommand):
    help = "Load the demo club into an empty database; with --anew, clear the old demo club first."

    def add_arguments(self, parser: Any) -> None:
        parser.add_argument(
            "--anew", action="store_true", help="clear the demo club first, and what was tried in it"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        if options["anew"]:
            demo.clear()
        made = demo.load()
        if options["verbosity"]:
            self.stdout.write(
                "The demo club is loaded." if made else "There is a club already; nothing was changed."
            )
