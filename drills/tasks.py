"""Jobs of the library. Deferred by name, so that nothing that is needed in a request imports them."""

from procrastinate.contrib.django import app

from club import actions as club
from club.actions.jobs import QUICK, SOLVER
from drills import actions
from drills.actions.derive import TASK
from drills.actions.videos import TASK as MAKE_VIDEO


@app.periodic(
    cron="23 * * * *"
)  # an old worker beside a new one may have taken the job, and seen nothing to do
@app.task(name=TASK, queue=QUICK, lock=TASK, queueing_lock=TASK)
def rederive_outdated(timestamp: int = 0, after: int = 0) -> int:
    """Rebuild what an older engine derived, or what goes by other match pitches than the rows in force say now, a few
    drills at a time. The number rebuilt now.
    """
    if not after:
        club.renew_match_areas()  # a row may have come into force since, or have run out
    return actions.rederive_outdated(after=after)


@app.periodic(cron="33 * * * *")
@app.task(name="drills.forget_links", queue=QUICK, pass_context=False)
def forget_links(timestamp: int) -> int:
    """Delete share links that have run out or were taken back."""
    return actions.forget_links()


@app.task(name=MAKE_VIDEO, queue=SOLVER)
def make_video(video: str) -> str:
    """Make a moving plan into a video. Running it again changes nothing once it is done."""
    return actions.make_video(public_id=video)


@app.periodic(cron="*/5 * * * *")
@app.task(name="drills.give_up_lost_videos", queue=QUICK, pass_context=False)
def give_up_lost_videos(timestamp: int) -> int:
    """Say so where a video was never finished."""
    return actions.give_up_lost_videos()


@app.periodic(cron="53 3 * * *")
@app.task(name="drills.forget_videos", queue=QUICK, pass_context=False)
def forget_videos(timestamp: int) -> int:
    """Delete videos that nobody asked for lately."""
    return actions.forget_videos()
