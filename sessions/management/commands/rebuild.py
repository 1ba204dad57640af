"""Rebuild what follows from the events of sessions."""

from typing import Any

from django.core.management.base import BaseCommand

from sessions.actions import rebuild_all


class Command(BaseCommand):
    help = (
        "Throw away and rebuild what follows from what happened at the pitch: registers, ratings, the ledger."
    )

    def handle(self, *args: Any, **options: Any) -> None:
        self.stdout.write(f"{rebuild_all()} sessions rebuilt")
