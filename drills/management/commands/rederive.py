"""Rebuild the library's derived rows."""

from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from drills.actions import rederive_all
from drills.game.rooms import ENGINE_VERSION


class Command(BaseCommand):
    help = "Throw away and rebuild what is derived from the drills: columns, rungs, rooms."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--outdated", action="store_true", help="only rows that an older engine made")

    def handle(self, *args: Any, **options: Any) -> None:
        done = rederive_all(older_than=ENGINE_VERSION if options["outdated"] else None)
        self.stdout.write(f"{done} drills rederived")
