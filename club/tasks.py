"""Jobs of the house itself."""

from procrastinate.contrib.django import app
from procrastinate.exceptions import UniqueViolation
from procrastinate.jobs import Job, Status

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
