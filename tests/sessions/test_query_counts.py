"""Each page and list asks the database the same few times, however many rows there are."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from club.queries import actor_of, today
from sessions import actions
from tests.factories import ZoneFactory
from tests.factories_sessions import part_input, planned_session, shared_drill, weekly_slot
from tests.people import World, signed_in

Address = Callable[[World, Any], str]


def plain(name: str) -> Address:
    return lambda world, session: reverse(name)


def of_session(name: str) -> Address:
    return lambda world, session: reverse(name, args=[session.public_id])


def station_fit(world: World, session: Any) -> str:
    station = session.parts.all()[0].stations.all()[0]
    address = reverse("sessions:fit", args=[session.public_id, station.public_id])
    return f"{address}?players=12&adults=2&length=50&width=40"


def by_link(world: World, session: Any) -> str:
    actor = actor_of(world.people.director)
    return reverse("sessions:shared", args=[actions.share_session(actor=actor, session=session, days="7")])


def turns_of_station(world: World, session: Any) -> str:
    station = session.parts.all()[0].stations.all()[0]
    return reverse("sessions:turns", args=[session.public_id, station.public_id])


def week_of_group(world: World, session: Any) -> str:
    """The week that the sessions are in, whenever the tests are run."""
    year, week, _ = session.day.isocalendar()
    return reverse("api-age-group-week", args=[world.own.age_group.public_id, f"{year}-W{week:02}"])


# Session, account, roles and club settings are four of each page's.
PAGES: list[tuple[str, Address, int]] = [
    ("tonight", plain("tonight"), 11),
    ("list", plain("sessions:list"), 8),
    ("week", plain("sessions:week"), 13),
    ("slots", plain("sessions:slots"), 5),
    (
        "new",
        plain("sessions:new"),
        13,
    ),  # two for the next free slot, two for session templates and their drills
    ("ready for", plain("sessions:ready-for"), 7),
    ("ready", of_session("sessions:ready"), 9),
    ("orders", plain("sessions:orders"), 6),
    ("api part orders", plain("api-part-orders"), 6),
    ("session", of_session("sessions:session"), 11),
    ("share", of_session("sessions:share"), 8),
    ("shared", by_link, 14),  # five of them count how often it was opened
    ("edit", of_session("sessions:edit"), 10),
    ("move", of_session("sessions:move"), 7),
    ("parts", of_session("sessions:parts"), 10),
    ("fit", station_fit, 9),
    ("set up all", of_session("sessions:set-up-all"), 8),
    ("wish", of_session("sessions:propose"), 11),
    ("again", of_session("sessions:reuse"), 9),
    ("turns", turns_of_station, 12),  # reading names is written down the first time
    ("squad", lambda world, session: reverse("sessions:squad", args=[world.own.squad.public_id]), 12),
    ("api sessions", plain("api-sessions"), 6),
    ("api session", of_session("api-session"), 10),
    ("api slots", plain("api-slots"), 6),
    ("api week", week_of_group, 11),
]


def fill(world: World, rows: int) -> Any:
    """So many sessions, each with so many parts, as many slots and ready sessions."""
    drill = shared_drill(owner=world.people.coach)
    for index in range(rows):
        weekly_slot(place=world.own, coaches=[world.people.coach, world.people.helper])
        session = planned_session(
            place=world.own,
            by=world.people.coach,
            day=today() + timedelta(days=index),
            zones=[ZoneFactory(), ZoneFactory()],
            staff=[world.people.coach, world.people.helper],
            parts=[part_input(drill=drill) for _ in range(rows)],
        )
        coach = actor_of(world.people.coach)
        actions.keep_order(actor=coach, session=session, name=f"Evening {index}", with_drills=True)
    return session


@pytest.mark.parametrize("rows", [1, 3])
@pytest.mark.parametrize(("address", "count"), [page[1:] for page in PAGES], ids=[page[0] for page in PAGES])
def test_queries_of_a_page(world: World, address: Address, count: int, rows: int) -> None:
    session = fill(world, rows)
    client = signed_in(world.people.director)
    url = address(world, session)
    with CaptureQueriesContext(connection) as asked:
        response = client.get(url)
    assert (response.status_code, len(asked)) == (200, count), [each["sql"][:120] for each in asked]
