"""Jobs of the house itself."""

from procrastinate.contrib.django import app
from procrastinate.jobs import Status

MOST_TRIES = 3
QUIET_S = 30  # a worker that was not heard of for so long has died


@app.periodic(cron="* * * * *")
@app.task(name="club.rescue_jobs", queue="quick")
async def rescue_jobs(timestamp: int) -> int:
    """Hand on the jobs of workers that died: they are not taken up again by themselves. The number handed on.

    A job that took its worker with it three times is given up.
    """
    rescued = 0
    for job in await app.job_manager.get_stalled_jobs(seconds_since_heartbeat=QUIET_S):
        if job.attempts < MOST_TRIES:
            await app.job_manager.retry_job(job)
            rescued += 1
        else:
            await app.job_manager.finish_job(job, status=Status.FAILED, delete_job=False)
    return rescued
