"""A set-up accepted without signal stands on the session's page once the phone has sent its events."""

from typing import Any

import pytest

from club.queries import actor_of
from sessions import actions, queries
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World
from tests.sessions.kept import setup_of
from tests.sessions.pitch.evening import Evening
from tests.sessions.proposing.evening import HARDER, PLAIN

pytestmark = pytest.mark.django_db


def sent(world: World, session: Any, *events: dict[str, Any]) -> Any:
    actions.append_events(
        actor=actor_of(world.people.coach), session=session, device="test", events=list(events)
    )
    return queries.session_by_id(session.public_id).parts.all()[0].stations.all()[0]


def test_it_is_written_to_the_station_with_the_rung_it_is_played_on(world: World) -> None:
    drill = shared_drill(owner=world.people.coach, **{**PLAIN, "variations": HARDER})
    session = planned_session(place=world.own, by=world.people.coach, parts=[part_input(drill=drill)])
    part = str(session.parts.all()[0].public_id)
    starts = session.period.lower
    event = Evening(session, world.people, [], "", "", starts, [part]).event
    near = {"numbers": "2 × 4v1", "grids": 2, "players_total": 10, "length_m": 8, "width_m": 8, "waiting": 0}
    first = event("fit_accepted", 3, part=part, setup=near)
    station = sent(world, session, event("harder", 2, part=part, to="two"), first)
    assert (setup_of(station).numbers, station.variation_key) == ("2 × 4v1", "two")
    assert station.evening["players"] == 10
    impossible = event("fit_accepted", 5, part=part, setup={**near, "numbers": "9v9", "grids": 1})
    station = sent(world, session, first, impossible)
    assert setup_of(station).numbers == "2 × 4v1"
