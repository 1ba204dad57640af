"""A proposal belongs to the session that it was asked for: under another one's address it is not there."""

from datetime import timedelta

import pytest

from club.errors import Refused
from club.queries import actor_of, today
from sessions.models import Computation, Part
from sessions.proposals import actions
from tests.factories_sessions import planned_session
from tests.people import World, signed_in
from tests.sessions.proposing.evening import asked, evening, library

pytestmark = pytest.mark.django_db


def test_it_is_not_found_under_another_session_of_the_same_coach(world: World) -> None:
    library(world)
    session = evening(world)
    other = planned_session(place=world.own, day=today() + timedelta(days=1))
    row = asked(world, session)
    coach = signed_in(world.people.coach)
    own, others = (f"/sessions/{each.public_id}/propose/" for each in (session, other))
    assert coach.get(f"{own}{row.public_id}/").status_code == 200
    assert coach.get(f"{own}?from={row.public_id}").status_code == 200
    assert coach.get(f"{others}{row.public_id}/").status_code == 404
    assert coach.get(f"{others}?from={row.public_id}").status_code == 404
    for what in ("again", "stop", "take"):
        assert coach.post(f"{others}{row.public_id}/{what}/", {"version": other.version}).status_code == 404
    assert [each.state for each in Computation.objects.all()] == [row.state]


def test_nobody_takes_it_into_another_session(world: World) -> None:
    library(world)
    row = asked(world, evening(world))
    other = planned_session(place=world.own, day=today() + timedelta(days=1))
    with pytest.raises(Refused, match="made for another session"):
        actions.apply_proposal(
            actor=actor_of(world.people.coach), session=other, version=other.version, computation=row
        )
    assert not Part.objects.filter(session=other).exists()
