"""Rows of a session suggested by the app."""

from typing import Any

from tests.access.rows import COACHES, DIRECTOR, PLACES, PLANS, Row
from tests.access.table_sessions import GONE, NOT_JSON, planned
from tests.people import Place, World


def proposal(world: World, place: Place) -> dict[str, Any]:
    """The director's own proposal for a session of that place."""
    from msgspec.structs import replace

    from club.queries import actor_of
    from sessions import queries
    from sessions.proposals import actions
    from sessions.proposals.queries import wish_for

    kwargs = planned(world, place)
    session = queries.session_by_id(kwargs["public_id"])
    wish = replace(wish_for(session), length=40.0, width=30.0)
    made = actions.ask_for_proposal(actor=actor_of(world.people.director), wish=wish, session=session)
    return {**kwargs, "proposal_id": made.public_id}


def alone(world: World, place: Place) -> dict[str, Any]:
    return {"public_id": proposal(world, place)["proposal_id"]}


ROWS = [
    Row("sessions:weights", COACHES),
    Row("sessions:weigh", DIRECTOR, "post", through=400),
    Row("api-proposal-weights", COACHES),
    Row("api-proposal-weights", DIRECTOR, "patch", through=428),
    Row("sessions:propose", COACHES, kwargs=planned, at=PLACES, reach=PLANS),
    Row("sessions:proposal", COACHES, kwargs=proposal, at=PLACES, reach=PLANS),
    Row("sessions:propose-again", COACHES, "post", kwargs=proposal, at=PLACES, reach=PLANS, through=GONE),
    Row("sessions:stop-proposal", COACHES, "post", kwargs=proposal, at=PLACES, reach=PLANS, through=GONE),
    Row("sessions:take-proposal", COACHES, "post", kwargs=proposal, at=PLACES, reach=PLANS, through=GONE),
    Row("api-assemble", COACHES, "post", through=NOT_JSON),
    Row("api-proposal", COACHES, kwargs=alone, at=PLACES, reach=PLANS),
    Row("api-proposal-cancel", COACHES, "post", kwargs=alone, at=PLACES, reach=PLANS),
    Row("api-proposal-take", COACHES, "post", kwargs=alone, at=PLACES, reach=PLANS, through=428),
]
