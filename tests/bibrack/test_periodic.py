"""Periodic jobs when the clock jumps: a missed one runs once, and one that waits is not queued again."""

import asyncio
from collections import Counter
from collections.abc import Awaitable, Callable, Coroutine
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime

import pytest
from django.db import connection
from procrastinate.contrib.django import app

from bibrack.management.commands import work
from bibrack.periodic import OnceDeferrer, OnceWorker

NOON = datetime(2026, 11, 29, 12, 0, 0, 500_000, tzinfo=UTC).timestamp()
YEAR_S = 365 * 24 * 3600.0


def apart(what: Coroutine[object, object, object]) -> None:
    """Run this in a thread of its own: the browser's driver of an earlier test keeps an event loop in this one."""
    with ThreadPoolExecutor(1) as threads:
        threads.submit(asyncio.run, what).result()


def due(deferrer: OnceDeferrer, at: float) -> Counter[str]:
    return Counter(periodic.task.name for periodic, _ in deferrer.get_previous_tasks(at))


def everything() -> Counter[str]:
    return Counter(name for name, _ in app.periodic_registry.periodic_tasks)


def test_after_a_jump_each_task_is_due_once_forward_and_back() -> None:
    deferrer = OnceDeferrer(app.periodic_registry)
    assert everything()["club.rescue_jobs"] == 1
    assert due(deferrer, NOON) == everything(), "what was missed while nothing ran"
    assert due(deferrer, NOON + 1) == Counter()
    assert due(deferrer, NOON + 60)["club.rescue_jobs"] == 1
    assert due(deferrer, NOON + YEAR_S) == everything()
    assert due(deferrer, NOON + YEAR_S + 1) == Counter()
    assert due(deferrer, NOON - YEAR_S) == everything()
    assert due(deferrer, NOON - YEAR_S + 60)["club.rescue_jobs"] == 1


def test_the_times_are_those_due_last() -> None:
    deferrer = OnceDeferrer(app.periodic_registry)
    times = {periodic.task.name: at for periodic, at in deferrer.get_previous_tasks(NOON + 30)}
    assert times["club.rescue_jobs"] == int(NOON)
    assert all(0 <= NOON + 30 - at <= 31 * 24 * 3600 for at in times.values())


def test_it_looks_at_the_clock_at_least_once_a_minute(monkeypatch: pytest.MonkeyPatch) -> None:
    slept: list[float] = []

    async def sleep(seconds: float) -> None:
        slept.append(seconds)

    monkeypatch.setattr("bibrack.periodic.asyncio.sleep", sleep)
    for next_tick in (YEAR_S, 2.0):
        apart(OnceDeferrer(app.periodic_registry).wait(next_tick))
    assert slept == [60.5, 2.5]


# --- in the database ----------------------------------------------------------------------------------------


def run(what: Callable[[], Awaitable[object]]) -> None:
    """Run this with the jobs' own connections."""

    async def opened() -> None:
        async with app.open_async():
            await what()

    with app.replace_connector(app.connector.get_worker_connector()):
        apart(opened())


def rows(statement: str) -> list[tuple]:
    with connection.cursor() as cursor:
        cursor.execute(statement)
        return cursor.fetchall()


def execute(statement: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(statement)


def test_a_year_of_jumps_leaves_one_waiting_job_of_each(transactional_db: None) -> None:
    """Two machines defer, nobody works, and the clock goes forward and back by a year and by minutes."""

    async def jump() -> None:
        machines = [OnceDeferrer(app.periodic_registry) for _ in range(2)]
        for at in (NOON, NOON + YEAR_S, NOON + YEAR_S + 61, NOON - YEAR_S, NOON, NOON + 61):
            for each in machines:
                await each.defer_jobs(each.get_previous_tasks(at))

    run(jump)
    waiting = rows("SELECT task_name, status::text FROM procrastinate_jobs")
    assert Counter(waiting) == {(name, "todo"): 1 for name in everything()}


def test_the_worker_that_is_started_has_this_deferrer(monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[OnceWorker] = []
    deferring: list[OnceDeferrer] = []

    async def run_once(self: OnceWorker) -> None:
        made.append(self)

    async def noted(self: OnceDeferrer) -> None:
        deferring.append(self)

    monkeypatch.setattr(OnceWorker, "run", run_once)
    monkeypatch.setattr(OnceDeferrer, "worker", noted)
    with pytest.raises(RuntimeError, match="quick stopped by itself"):
        apart(work._worker("quick"))
    apart(made[0]._periodic_deferrer())
    assert ([(each.worker_name, each.concurrency) for each in made], len(deferring)) == ([("quick", 3)], 1)


def test_a_worker_that_ends_by_itself_ends_the_process(
    transactional_db: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Else one queue would stand still beside a living process, and nobody would start it again."""

    async def ends(self: OnceWorker) -> None:
        if self.worker_name == "quick":
            await asyncio.Event().wait()

    monkeypatch.setattr(OnceWorker, "run", ends)
    monkeypatch.setattr(asyncio.SelectorEventLoop, "add_signal_handler", lambda *given: None)
    with pytest.raises(RuntimeError, match="solver stopped by itself"):
        run(lambda: work.work(["quick", "solver"]))


def stalled(lock: str, worker: int) -> None:
    execute(
        "INSERT INTO procrastinate_jobs (queue_name, task_name, status, worker_id, queueing_lock) "
        f"VALUES ('quick', 'club.rescue_jobs', 'doing', {worker}, '{lock}')"
    )


def rescue() -> None:
    from club.tasks import rescue_jobs

    run(lambda: rescue_jobs.func(timestamp=0))


def dead_worker(heard: str) -> int:
    execute(f"INSERT INTO procrastinate_workers (last_heartbeat) VALUES (now() + interval '{heard}')")
    return rows("SELECT max(id) FROM procrastinate_workers")[0][0]


def test_a_job_whose_twin_waits_does_not_stop_the_rescue(transactional_db: None) -> None:
    worker = dead_worker("-1 minute")
    stalled("twin", worker)
    stalled("alone", worker)
    execute(
        "INSERT INTO procrastinate_jobs (queue_name, task_name, queueing_lock) VALUES ('quick', 'club.rescue_jobs', 'twin')"
    )
    rescue()
    found = rows(
        "SELECT queueing_lock, status::text FROM procrastinate_jobs ORDER BY queueing_lock, status::text"
    )
    assert found == [("alone", "todo"), ("twin", "failed"), ("twin", "todo")]


def test_after_a_clock_set_back_nothing_waits_for_the_future(transactional_db: None) -> None:
    """A worker that died before the jump is found dead half a minute later; a job retried before it is due now."""
    stalled("mine", dead_worker("365 days"))
    execute(
        "INSERT INTO procrastinate_jobs (queue_name, task_name, scheduled_at) "
        "VALUES ('quick', 'club.rescue_jobs', now() + interval '365 days')"
    )
    rescue()
    assert rows("SELECT count(*) FROM procrastinate_workers WHERE last_heartbeat > now()") == [(0,)]
    assert rows("SELECT count(*) FROM procrastinate_jobs WHERE scheduled_at > now()") == [(0,)]
    assert rows("SELECT status::text FROM procrastinate_jobs WHERE queueing_lock = 'mine'") == [("doing",)]
    execute("UPDATE procrastinate_workers SET last_heartbeat = last_heartbeat - interval '31 seconds'")
    rescue()
    assert rows("SELECT status::text FROM procrastinate_jobs WHERE queueing_lock = 'mine'") == [("todo",)]
