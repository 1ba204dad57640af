"""Jobs of the club app."""

from typing import Any

from procrastinate import RetryStrategy
from procrastinate.contrib.django import app
from procrastinate.exceptions import UniqueViolation
from procrastinate.jobs import Job, Status

from club import actions
from club.actions.mail import QUEUE, TASK

MOST_TRIES = 3
QUIET_S = 30  # a worker that was not heard of for so long has died
# After a clock that was set back, a dead worker would count as alive, and a job as not due, until that time comes again.
BACK_FROM_THE_FUTURE = (
    "UPDATE procrastinate_workers SET last_heartbeat = now() WHERE last_heartbeat > now() + interval '1 minute'",
    "UPDATE procrastinate_jobs SET scheduled_at = now() WHERE status = 'todo' AND scheduled_at > now() + interval '1 day'",
)


@app.periodic(cron="* * * * *")
@app.task(name="club.rescue_jobs", queue="quick")
async def rescue_jobs(timestamp: int) -> int:
    """Hand on the jobs of workers that died: they are not taken up again by themselves. The number handed on.

    A job that took its worker with it three times is given up.
    """
    for statement in BACK_FROM_THE_FUTURE:
        await app.job_manager.connector.execute_query_async(statement)
    stalled = await app.job_manager.get_stalled_jobs(seconds_since_heartbeat=QUIET_S)
    return sum([await _hand_on(job) for job in stalled])


async def _hand_on(job: Job) -> bool:
    if job.attempts < MOST_TRIES:
        try:
            await app.job_manager.retry_job(job)
        except UniqueViolation:  # the same waits already under its queueing lock: that one will do
            pass
        else:
            return True
    await app.job_manager.finish_job(job, status=Status.FAILED, delete_job=False)
    return False


# A server that is away, or that makes strangers wait before it takes their first mail: again after about 1, 2, 5, 23 minutes.
PATIENT = RetryStrategy(max_attempts=5, exponential_wait=6, wait=60, retry_exceptions={OSError})


@app.task(name=TASK, queue=QUEUE, retry=PATIENT)
def send_mail(kind: str, user_id: int | None, facts: dict[str, Any]) -> bool:
    """Write a mail and hand it over."""
    return actions.send_mail(kind=kind, user_id=user_id, facts=facts)


@app.periodic(cron="23 * * * *")
@app.task(name="club.prune", queue="quick", pass_context=False)
def prune(timestamp: int) -> int:
    """Delete what has run out: sessions, links, tokens, kept answers, notes of who read names."""
    return actions.prune()


@app.periodic(cron="43 * * * *")
@app.task(name="club.forget_jobs", queue="quick")
async def forget_jobs(timestamp: int) -> None:
    """Delete jobs that were done a day ago, or given up."""
    await app.job_manager.delete_old_jobs(
        nb_hours=24, include_failed=True, include_cancelled=True, include_aborted=True
    )
