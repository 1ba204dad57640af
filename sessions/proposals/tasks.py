"""Jobs of proposals. Deferred by name, so that nothing that is needed in a request imports them."""

from procrastinate.contrib.django import app

from club.actions.jobs import QUICK, SOLVER
from sessions.proposals import actions
from sessions.proposals.actions.asking import TASK


@app.task(name=TASK, queue=SOLVER)
def work_out_proposal(computation: str) -> str:
    """Work out a proposal. Running it again changes nothing once it has its answer."""
    return actions.work_out_proposal(public_id=computation)


@app.periodic(cron="*/5 * * * *")
@app.task(name="sessions.give_up_lost_proposals", queue=QUICK, pass_context=False)
def give_up_lost_proposals(timestamp: int) -> int:
    """Say so where a proposal was never finished, and throw old ones away."""
    actions.bring_back_turns()
    return actions.give_up_lost_proposals() + actions.sweep_proposals()
