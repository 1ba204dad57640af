"""Jobs of training. Deferred by name, so that nothing that is needed in a request imports them."""

from procrastinate.contrib.django import app

from sessions import actions
from sessions.actions.proposing import QUEUE, TASK


@app.task(name=TASK, queue=QUEUE)
def work_out_proposal(computation: str) -> str:
    """Work out a proposal. Running it again changes nothing once it has its answer."""
    return actions.work_out_proposal(public_id=computation)


@app.periodic(cron="17 * * * *")
@app.task(name="sessions.forget_pairs", queue="quick", pass_context=False)
def forget_pairs(timestamp: int) -> int:
    """Forget who was kept with or from whom once the evening is over."""
    return actions.forget_pairs()


@app.periodic(cron="*/5 * * * *")
@app.task(name="sessions.give_up_lost_proposals", queue="quick", pass_context=False)
def give_up_lost_proposals(timestamp: int) -> int:
    """Say so where a proposal was never finished, and throw old ones away."""
    actions.bring_back_turns()
    return actions.give_up_lost_proposals() + actions.sweep_proposals()
