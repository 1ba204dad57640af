"""Two people book one zone at the same moment: exactly one of them has it, and the other is told who."""

import threading
from typing import Any

import pytest
from django.db import connection

from club.errors import Clash
from tests.factories import ZoneFactory
from tests.factories_sessions import planned_session
from tests.people import make_world


@pytest.mark.django_db(transaction=True)
def test_exactly_one_of_two_bookings_wins() -> None:
    from sessions.models import SessionZone

    world, zone = make_world(), ZoneFactory()
    together, outcomes = threading.Barrier(2, timeout=20), []

    def book(place: Any) -> None:
        try:
            together.wait()
            planned_session(place=place, zones=[zone])
            outcomes.append("booked")
        except Clash as clash:
            outcomes.append(clash.problems[0].field)
        finally:
            connection.close()

    threads = [threading.Thread(target=book, args=(place,)) for place in (world.own, world.colleague)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=30)
    assert sorted(outcomes) == ["booked", "zones"]
    assert SessionZone.objects.count() == 1
