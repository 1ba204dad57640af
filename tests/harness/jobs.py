"""The worker, run until nothing is left to do."""

import asyncio
from concurrent.futures import ThreadPoolExecutor

from procrastinate.contrib.django import app


async def _jobs(queue: str) -> None:
    async with app.open_async():
        await app.run_worker_async(
            queues=[queue], wait=False, install_signal_handlers=False, listen_notify=False
        )


def run_jobs(queue: str) -> None:
    """What `manage.py work` does, until nothing is left to do."""
    # In a thread of its own: the browser's driver of an earlier test keeps an event loop in this one.
    with app.replace_connector(app.connector.get_worker_connector()), ThreadPoolExecutor(1) as apart:
        apart.submit(lambda: asyncio.run(_jobs(queue))).result()
