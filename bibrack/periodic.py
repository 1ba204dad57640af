"""Periodic jobs under a clock that may jump: each is asked for once, however often its time went by."""

import asyncio
from collections.abc import Iterable

from croniter import croniter
from procrastinate.periodic import MARGIN, PeriodicDeferrer, PeriodicRegistry, TaskAtTime
from procrastinate.worker import Worker

LONGEST_WAIT_S = 60.0  # a sleep is counted on a clock that stands still while the machine sleeps


class OnceDeferrer(PeriodicDeferrer):
    """Defers of each periodic task only the run that was due last.

    The library's own defers every run between the last one and now, a year of minutes after a clock that was
    set forward, and none until then after one that was set back. A task that still waits is not queued again.
    """

    def __init__(self, registry: PeriodicRegistry) -> None:
        super().__init__(registry)
        for periodic in registry.periodic_tasks.values():
            lock = periodic.task.queueing_lock or periodic.task.name
            periodic.configure_kwargs.setdefault("queueing_lock", lock)

    def get_previous_tasks(self, at: float) -> Iterable[TaskAtTime]:
        """Yield the tasks whose latest run, as of `at` (seconds since 1970), is another than the one deferred last."""
        for key, periodic in self.registry.periodic_tasks.items():
            due = round(croniter(periodic.cron, start_time=at).get_prev(ret_type=float))
            if self.last_defers.get(key) != due:
                self.last_defers[key] = due
                yield periodic, due

    async def wait(self, next_tick: float) -> None:
        """Wait for the next run, looking at the clock at least once a minute."""
        await asyncio.sleep(min(next_tick, LONGEST_WAIT_S) + MARGIN)


class OnceWorker(Worker):
    """A worker with that deferrer: the library offers no other way to put it in."""

    async def _periodic_deferrer(self) -> None:
        await OnceDeferrer(self.app.periodic_registry).worker()
