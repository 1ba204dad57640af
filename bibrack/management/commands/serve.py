"""Prepare the database and serve the site from one process, so that Django is loaded once."""

import os
import sys
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand
from django.urls import reverse

from bibrack.management.commands import prepare
from bibrack.sign_in_links import way_in
from bibrack.web.limits import RequestLimits
from bibrack.web.server import WebServer, listen, raise_file_limit, serve, spool_in

# Where a file is sent: of drills, or of days, which itself says in words that 50 MB are too many.
LARGE = ("drills:bring-in", "api-drills-import", "sessions:days-matches", "sessions:days-closed")
PHOTOS = ("/sketches/",)  # how the addresses end where a photo is sent


class Command(BaseCommand):
    """Serve the site on one machine."""

    help = "Bring everything up to date, then serve the site (what `make run` starts)."
    requires_system_checks: list[str] = []  # the server's own process makes them when it loads the addresses

    def add_arguments(self, parser: Any) -> None:
        """Say where to listen."""
        here = f"{os.environ.get('HOST') or '0.0.0.0'}:{os.environ.get('PORT') or 8000}"
        parser.add_argument(
            "--bind", default=here, help="host:port (HOST and PORT, else all addresses, 8000)"
        )
        parser.add_argument("--threads", type=int, default=int(os.environ.get("WEB_THREADS") or 8))
        parser.add_argument("--ways-in", type=Path, help="write one-time links to this file")
        parser.add_argument("--prepared", action="store_true", help="the database is up to date already")

    def handle(self, *args: Any, **options: Any) -> None:
        """Prepare, write the links, serve."""
        if not options["prepared"]:
            preparing = prepare.Command()
            call_command(preparing, no_links=True)
            if preparing.has_built:
                start_again()
        if options["ways_in"]:
            write_privately(options["ways_in"], "\n".join(way_in()))
        self.check(display_num_errors=False)
        host, _, port = options["bind"].rpartition(":")
        raise_file_limit()
        spool_in(settings.DATA_DIR / "spool")
        serve(site(host.strip("[]"), int(port), options["threads"]))


def start_again() -> None:
    """Become a new process of the same number: what building tables and a demo club left in memory goes, here and in
    the database's process beside us (45 MB)."""
    os.execv(sys.executable, [sys.executable, *sys.argv, "--prepared"])


def site(host: str, port: int, threads: int) -> WebServer:
    """The web server: one process, since its threads share memory. It is made only now: it looks once at which static
    files there are, and has to find them all."""
    from bibrack.wsgi import application

    limits = RequestLimits(large_paths=frozenset(reverse(name) for name in LARGE), large_endings=PHOTOS)
    proxied = settings.TRUSTED_PROXIES > 0
    return WebServer(application, listen(host, port), limits=limits, threads=threads, behind_proxy=proxied)


def write_privately(path: Path, text: str) -> None:
    """Write a file that only we can read: the links in it open accounts."""
    path.unlink(missing_ok=True)
    with os.fdopen(
        os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8"
    ) as handle:
        handle.write(text)
