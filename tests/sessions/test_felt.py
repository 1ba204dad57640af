"""How hard the last sessions with a drill were found: page, session and API say one value."""

from typing import Any

import pytest
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from sessions.queries.recorded.felt import felt_lately
from tests.factories_sessions import shared_drill
from tests.people import World, signed_in
from tests.sessions.test_runs import evening, record

pytestmark = pytest.mark.django_db


def rated(world: World, drill: Any, days: int, cr10: float, *more: Any) -> Any:
    row = evening(world, drill, days=days, leads=world.people.coach)
    record(world, row, *more, ("effort", {"cr10": cr10}), ("delivered", {}))
    return row


def test_the_last_three_that_were_rated_latest_first(
    world: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    drill, other = (shared_drill(owner=world.people.coach, title=title) for title in ("Run it", "Never run"))
    for days, cr10 in ((9, 8), (7, 6), (5, 5), (3, 6.5)):
        rated(world, drill, days, cr10)
    record(
        world, evening(world, drill, days=1, leads=world.people.coach), ("delivered", {})
    )  # nobody rated it
    with django_assert_num_queries(1):
        assert felt_lately([drill.pk, other.pk]) == {drill.pk: (6.5, 5.0, 6.0)}


def test_a_part_that_was_left_out_is_not_what_felt_so(world: World) -> None:
    drill = shared_drill(owner=world.people.coach)
    other = shared_drill(owner=world.people.coach, title="Begun")
    row = evening(world, other, days=1, leads=world.people.coach, parts=2)
    begun, left_out = row.parts.all()
    left_out.stations.update(revision=drill.current_revision)
    record(
        world,
        row,
        ("part_started", {"part": str(begun.public_id)}),
        ("effort", {"cr10": 7}),
        ("delivered", {}),
    )
    assert felt_lately([drill.pk, other.pk]) == {other.pk: (7.0,)}


def test_the_drill_the_part_and_the_api_say_the_same(world: World) -> None:
    drill = shared_drill(owner=world.people.coach)
    for days, cr10 in ((5, 5), (3, 6), (2, 5)):
        rated(world, drill, days, cr10)
    ahead = evening(world, drill, days=-3, leads=world.people.coach)
    client = signed_in(world.people.coach)
    words = "Sessions with it felt 5, 6, 5"
    assert words in client.get(reverse("drills:drill", args=[drill.public_id])).content.decode()
    assert words in client.get(reverse("sessions:session", args=[ahead.public_id])).content.decode()
    assert client.get(f"/api/v1/drills/{drill.public_id}/").json()["felt"] == [5, 6, 5]
