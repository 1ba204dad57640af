"""The worker, run until nothing is left to do; the queue, empty after each test that commits."""

import asyncio
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor

import pytest

TABLES = "procrastinate_jobs, procrastinate_workers, procrastinate_periodic_defers"


@pytest.fixture(autouse=True)
def queue_left_empty(request: pytest.FixtureRequest) -> Iterator[None]:
    """Leave no job behind: the queue's tables are not Django's, so nothing else empties them after a test that commits.

    A worker that ran in the seconds after a periodic job's time has queued that job, for whichever test came next.
    """
    marker = request.node.get_closest_marker("django_db")
    commits = {"transactional_db", "live_server"} & set(request.fixturenames) or (
        marker is not None and marker.kwargs.get("transaction")
    )
    if not commits or "demo_site" in request.fixturenames:  # the demo club's database is dropped whole
        yield
        return
    request.getfixturevalue("transactional_db")
    yield
    from django.db import connection

    with connection.cursor() as cursor:
        cursor.execute(f"TRUNCATE {TABLES} CASCADE")


async def _jobs(queue: str) -> None:
    from procrastinate.contrib.django import app

    async with app.open_async():
        await app.run_worker_async(
            queues=[queue], wait=False, install_signal_handlers=False, listen_notify=False
        )


def run_jobs(queue: str) -> None:
    """What `manage.py work` does, until nothing is left to do."""
    from procrastinate.contrib.django import app

    # In a thread of its own: the browser's driver of an earlier test keeps an event loop in this one.
    with app.replace_connector(app.connector.get_worker_connector()), ThreadPoolExecutor(1) as apart:
        apart.submit(lambda: asyncio.run(_jobs(queue))).result()
