"""Jobs of the library. Deferred by name, so that nothing that is needed in a request imports them."""

from procrastinate.contrib.django import app

from drills import actions
from drills.game.rooms import ENGINE_VERSION


@app.task(name="drills.rederive_outdated", queue="quick")
def rederive_outdated() -> int:
    """After an upgrade: rebuild what an older engine derived. Running it again changes nothing."""
    return actions.rederive_all(older_than=ENGINE_VERSION)


@app.periodic(cron="33 * * * *")
@app.task(name="drills.forget_links", queue="quick", pass_context=False)
def forget_links(timestamp: int) -> int:
    """Delete share links that have run out or were taken back."""
    return actions.forget_links()
