"""The worker: short jobs beside one long computation at a time, in one process."""

import asyncio
import contextlib
import os
import signal
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError, connections
from procrastinate.app import WorkerOptions
from procrastinate.contrib.django import app
from procrastinate.exceptions import ProcrastinateException

from bibrack import outages
from bibrack.periodic import OnceWorker
from club.actions.jobs import QUICK, SOLVER
from drills.actions import ask_to_rederive
from sessions.sheet.typeset import NICER_BY

GRACE_S = 10.0
QUEUES = {QUICK: ([QUICK, "default"], 3), SOLVER: ([SOLVER], 1)}


class Command(BaseCommand):
    """Run jobs until told to stop."""

    help = "Run the jobs that pages hand over, until told to stop."

    def add_arguments(self, parser: Any) -> None:
        """Let a bigger club split the queues over machines."""
        parser.add_argument("--queue", choices=sorted(QUEUES), action="append", help="only this queue")

    def handle(self, *args: Any, **options: Any) -> None:
        """Run jobs."""
        os.nice(NICER_BY)
        try:
            # By the worker, since it is the new version's: one left from before would see nothing to do.
            ask_to_rederive()
            connections.close_all()
            with app.replace_connector(app.connector.get_worker_connector()):  # type: ignore[attr-defined]
                asyncio.run(work(options["queue"] or sorted(QUEUES)))
        except (DatabaseError, ProcrastinateException) as error:
            raise CommandError(f"{outages.known(error).words} ({outages.first_line(error)})") from error


async def work(names: list[str]) -> None:
    """Run one worker per queue until SIGTERM or SIGINT, then let running jobs finish for a while."""
    loop = asyncio.get_running_loop()
    async with app.open_async():
        workers = asyncio.gather(*(_worker(name) for name in names))
        for number in (signal.SIGTERM, signal.SIGINT):
            loop.add_signal_handler(number, workers.cancel)
        with contextlib.suppress(asyncio.CancelledError):
            await workers


async def _worker(name: str) -> None:
    queues, concurrency = QUEUES[name]
    options: WorkerOptions = {
        **app.worker_defaults,
        "name": name,
        "queues": queues,
        "concurrency": concurrency,
        "install_signal_handlers": False,
        "shutdown_graceful_timeout": GRACE_S,
    }
    await OnceWorker(app, **options).run()
    # Nobody told it to: the database went away, say. Whoever watches this process starts it again.
    raise RuntimeError(f"The worker of the queue {name} stopped by itself.")
