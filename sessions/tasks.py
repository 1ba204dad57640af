"""Jobs of training. Deferred by name, so that nothing that is needed in a request imports them."""

from procrastinate.contrib.django import app

from club.actions.jobs import QUICK
from sessions import actions


@app.periodic(cron="17 * * * *")
@app.task(name="sessions.forget_pairs", queue=QUICK, pass_context=False)
def forget_pairs(timestamp: int) -> int:
    """Forget who was kept with or from whom once the evening is over."""
    return actions.forget_pairs()


@app.periodic(cron="43 * * * *")
@app.task(name="sessions.forget_links", queue=QUICK, pass_context=False)
def forget_links(timestamp: int) -> int:
    """Delete links to sessions, and addresses of calendars, that have run out or were deleted."""
    return actions.forget_session_links() + actions.forget_calendar_links()
