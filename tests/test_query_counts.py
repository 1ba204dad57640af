"""Every list costs the same number of queries with one row and with three; no page costs more than ten.

Other rooms add their lists to LISTS and their rows in a `fill` of their own.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from sessions.models import Register
from tests.access.rows import Row
from tests.access.walker import tables
from tests.factories import (
    AgeGroupFactory,
    BibStockFactory,
    GuidelineFactory,
    KitStockFactory,
    ThemeFactory,
    UserFactory,
    ZoneFactory,
    placed_squad,
    player_in,
    role_for,
)
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db
MOST = 10


@dataclass(frozen=True)
class List:
    """A route that lists: the queries it costs for the director, and how one more row is made."""

    route: str
    queries: int
    fill: Callable[[World], Any]
    kwargs: Callable[[World], dict[str, Any]] = lambda world: {}
    query: Callable[[World], dict[str, Any]] = lambda world: {}


def another_group(world: World) -> None:
    AgeGroupFactory(season=world.season)


def another_squad(world: World) -> None:
    placed_squad(age_group=world.own.age_group)


def another_player(world: World) -> None:
    player_in(squad=world.own.squad)


def another_attended(world: World) -> None:
    """One more session, with one more player on its register and a guest who may be new."""
    from tests.sessions.attending import held

    days_ago = 1 + Register.objects.values("session").distinct().count()
    guest = player_in(squad=world.colleague.squad)
    held(world, world.own, days_ago, {player_in(squad=world.own.squad): "arrived", guest: "guest"})


def another_pitch(world: World) -> None:
    ZoneFactory()


def another_colleague(world: World) -> None:
    from club.choices import Role

    role_for(user=UserFactory(), role=Role.COACH, age_group=world.own.age_group)


def another_of_the_bag(world: World) -> None:
    KitStockFactory()
    BibStockFactory()


def season(world: World) -> dict[str, Any]:
    return {"public_id": world.season.public_id}


def own_group(world: World) -> dict[str, Any]:
    return {"public_id": world.own.age_group.public_id}


def of_own_squad(world: World) -> dict[str, Any]:
    return {"squad": world.own.squad.public_id}


def own_squad(world: World) -> dict[str, Any]:
    return {"public_id": world.own.squad.public_id}


def own_player(world: World) -> dict[str, Any]:
    return {"public_id": world.own.player.public_id}


# Each signed-in page reads the session, the account, its roles and the club's settings: four before its own.
LISTS = [
    List("club:home", 5, lambda world: None),
    List("club:season", 6, another_group, season),
    List("club:age-groups", 6, another_group),
    List("club:age-group", 8, another_squad, own_group),
    List("club:pitches", 6, another_pitch),
    List("club:kit", 6, another_of_the_bag),
    List("club:themes", 5, lambda world: ThemeFactory()),
    List("club:guidelines", 5, lambda world: GuidelineFactory()),
    List("club:staff", 7, another_colleague),
    List("club:squads", 6, another_squad),
    List("club:squad", 7, another_player, own_squad),
    List("club:squad-player", 10, another_attended, own_player),
    List("sessions:attendance", 8, another_attended),
    List("sessions:squad-attendance", 9, another_attended, own_squad),
    List("api-attendance", 9, another_attended, query=of_own_squad),
    List("club:account", 6, lambda world: None),
    List("api-age-groups", 5, another_group),
    List("api-squads", 6, another_squad),
    List("api-players", 7, another_player, own_squad),
    List("api-pitches", 6, another_pitch),
    List("api-kit", 6, another_of_the_bag),
    List("api-themes", 5, lambda world: ThemeFactory()),
    List("api-guidelines", 5, lambda world: GuidelineFactory()),
]


@pytest.mark.parametrize("rows", [1, 3])
@pytest.mark.parametrize("each", LISTS, ids=lambda each: each.route)
def test_a_list_costs_the_same_with_one_row_and_with_three(
    each: List, rows: int, world: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    for _ in range(rows):
        each.fill(world)
    client = signed_in(world.people.director)
    address = reverse(each.route, kwargs=each.kwargs(world))
    query = each.query(world)
    client.get(address, query)  # what is noted once, such as who read names, is noted now
    with django_assert_num_queries(each.queries):
        response = client.get(address, query)
    assert response.status_code == 200


def test_no_list_costs_more_than_ten() -> None:
    assert [each.route for each in LISTS if each.queries > MOST] == []


# Rooms whose pages are held to the limit one by one.
ROOMS = ("bibrack", "club")
PAGES = [row for room in ROOMS for row in tables()[room] if row.method == "get" and not row.is_api]


@pytest.mark.parametrize("row", PAGES, ids=str)
def test_no_page_costs_more_than_ten(row: Row, world: World) -> None:
    client = signed_in(world.people.director)
    address = reverse(row.route, kwargs=row.kwargs(world, world.own))
    client.get(address)  # what is noted once is noted now
    with CaptureQueriesContext(connection) as asked:
        response = client.get(address)
    assert response.status_code in (200, 503)
    assert len(asked) <= MOST
