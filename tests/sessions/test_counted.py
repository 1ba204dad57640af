"""What a session counts for where it is read: as it was recorded, else as its plan is expected to come out."""

from datetime import timedelta

import pytest

from club import queries as club
from sessions.models import TrainingSession
from sessions.queries.counted import counted
from tests.factories_sessions import part_input, planned_session
from tests.people import World


def test_a_recorded_session_without_a_load_counts_no_load() -> None:
    """The youngest have minutes and no load."""
    session = TrainingSession()
    session.ledger_row = {"minutes": 40, "load_au": None, "headers": 0, "is_estimated": False}
    assert (counted(session).minutes, counted(session).load_au) == (40.0, 0.0)


@pytest.mark.django_db
def test_what_is_to_come_is_expected_by_the_factor_given_else_by_the_teams_own(world: World) -> None:
    session = planned_session(
        place=world.own,
        by=world.people.coach,
        day=club.today() + timedelta(days=2),
        parts=[part_input(minutes=10), part_input(minutes=20)],
    )
    plain = counted(session, k=1.0).load_au
    session.load_ratios = [1.5] * 4
    assert plain > 0
    assert counted(session).load_au == pytest.approx(1.5 * plain)
    assert counted(session, k=2.0).load_au == pytest.approx(2 * plain)
