"""Prepare the database and serve the site from one process, so that Django is loaded once."""

import os
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand
from django.db import connections
from django.urls import get_resolver
from gunicorn.app.base import BaseApplication

from bibrack.house import way_in

THREADS = 8


class Command(BaseCommand):
    """Serve the site on one machine."""

    help = "Bring everything up to date, then serve the site (what `make run` starts)."
    requires_system_checks: list[str] = []  # the server's own process makes them when it loads the addresses

    def add_arguments(self, parser: Any) -> None:
        """Say where to listen."""
        parser.add_argument("--bind", required=True, help="host:port")
        parser.add_argument("--ways-in", type=Path, help="write one-time links to this file")

    def handle(self, *args: Any, **options: Any) -> None:
        """Prepare, write the links, serve."""
        call_command("prepare", no_links=True)
        if options["ways_in"]:
            write_privately(options["ways_in"], "\n".join(way_in()))
        self.check(display_num_errors=False)
        _ = get_resolver().url_patterns  # load all pages before the fork: the child shares them
        for connection in connections.all(initialized_only=True):
            connection.close()
            connection.close_pool()  # type: ignore[attr-defined]  # its threads would not outlive the fork
        Site(options["bind"]).run()


class Site(BaseApplication):
    """The web server: one process, since its threads share memory."""

    def __init__(self, bind: str) -> None:
        self.bind = bind
        super().__init__()

    def load_config(self) -> None:
        """Set what differs from the server's defaults."""
        wanted = {
            "bind": self.bind,
            "worker_class": "gthread",
            "workers": 1,
            "threads": THREADS,
            "preload_app": True,
            "timeout": 60,
            "graceful_timeout": 5,
            "control_socket_disable": True,
            "loglevel": "warning",
            "proc_name": "bibrack",
        }
        for name, value in wanted.items():
            self.cfg.set(name, value)

    def load(self) -> Any:
        """Return the site. It is made only now: it looks once at which static files there are, and has to find them all."""
        from bibrack.wsgi import application

        return application


def write_privately(path: Path, text: str) -> None:
    """Write a file that only we can read: the links in it open accounts."""
    path.unlink(missing_ok=True)
    with os.fdopen(
        os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8"
    ) as handle:
        handle.write(text)
