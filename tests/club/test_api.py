"""The club over the API: shapes, names for those who may, problem details, limits."""

from typing import Any

import pytest
from django.test import Client

from club import actions
from club.models import AccessLog, AgeGroup
from tests.factories import BibStockFactory, KitStockFactory, ThemeFactory, ZoneFactory
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db
V1 = "/api/v1"


def get(person: Any, path: str, **more: Any) -> Any:
    return signed_in(person).get(f"{V1}{path}", **more)


def test_age_groups_come_youngest_first_with_their_budget(world: World) -> None:
    answer = get(world.people.reader, "/age-groups/").json()
    assert (answer["count"], [each["label"] for each in answer["results"]]) == (3, ["U9", "U12", "U16"])
    first = answer["results"][1]
    assert {name: first[name] for name in ("id", "season", "under", "match_format", "week_load_au")} == {
        "id": str(world.own.age_group.public_id),
        "season": world.season.name,
        "under": 12,
        "match_format": "9v9",
        "week_load_au": 1000,
    }
    ages = {name: first[name] for name in ("years", "over", "under_low", "under_high", "youngest_years")}
    assert ages == {"years": 1, "over": None, "under_low": 12, "under_high": 12, "youngest_years": 11}


def test_adults_are_an_age_group_without_an_upper_end(world: World) -> None:
    AgeGroup.objects.filter(pk=world.own.age_group.pk).update(under=None, over=35)
    found = get(world.people.reader, f"/age-groups/{world.own.age_group.public_id}/").json()
    names = ("under", "over", "under_low", "under_high", "youngest_years")
    assert [found[name] for name in names] == [None, 35, 36, None, 35]


def test_lists_take_a_page_size_up_to_a_hundred(world: World) -> None:
    answer = get(world.people.reader, "/age-groups/?page_size=2").json()
    assert (answer["count"], len(answer["results"]), answer["next"].split("?")[1]) == (
        3,
        2,
        "page=2&page_size=2",
    )
    assert len(get(world.people.reader, "/age-groups/?page_size=9999").json()["results"]) == 3


def test_one_age_group_and_one_squad_carry_their_version(world: World) -> None:
    group = get(world.people.reader, f"/age-groups/{world.own.age_group.public_id}/")
    squad = get(world.people.reader, f"/squads/{world.own.squad.public_id}/")
    assert (group.json()["label"], group["ETag"]) == ("U12", '"v1"')
    assert squad.json() == {
        "id": str(world.own.squad.public_id),
        "name": "Otters",
        "age_group": "U12",
        "player_count": 1,
        "version": 1,
    }


def test_players_are_read_by_those_who_may_and_the_reading_is_noted(world: World) -> None:
    path = f"/squads/{world.own.squad.public_id}/players/"
    answer = get(world.people.helper, path).json()
    assert answer["results"] == [
        {
            "id": str(world.own.player.public_id),
            "display_name": "Ottilie Own",
            "shirt": 7,
            "is_keeper": False,
            "out_until_lifted": False,
            "version": 1,
        }
    ]
    assert get(world.people.colleague, path).status_code == 404
    assert AccessLog.objects.get().page == "api players"


def test_a_refusal_is_a_problem_document(world: World) -> None:
    response = get(world.people.stranger, "/squads/")
    assert response["Content-Type"] == "application/problem+json"
    assert response.json() == {
        "type": "about:blank",
        "title": "Forbidden",
        "status": 403,
        "detail": "Your role doesn't include this.",
    }
    unknown = Client().get(f"{V1}/squads/")
    assert (unknown.status_code, unknown["Content-Type"]) == (401, "application/problem+json")


def test_places_kit_and_themes(world: World) -> None:
    zone = ZoneFactory(pitch__name="Long Meadow", name="North", length_m=50, width_m=40)
    KitStockFactory(kind="balls", count=12)
    BibStockFactory(colour="red", count=8)
    ThemeFactory(key="press", title="Press")
    (pitch,) = get(world.people.reader, "/pitches/").json()["results"]
    assert (pitch["name"], pitch["zones"][0]["id"], pitch["zones"][0]["length_m"]) == (
        "Long Meadow",
        str(zone.public_id),
        50.0,
    )
    assert get(world.people.reader, "/kit/").json()["results"] == [
        {"kind": "balls", "colour": "", "count": 12},
        {"kind": "bibs", "colour": "red", "count": 8},
    ]
    assert [each["key"] for each in get(world.people.reader, "/themes/").json()["results"]] == ["press"]


def test_guidelines_of_one_age_with_their_source(world: World) -> None:
    """The FA, heading guidance for training in youth football, 2020: under-12 at most 5 headers a session."""
    actions.load_guidelines()
    rows = get(world.people.reader, "/guidelines/?under=12&page_size=100").json()["results"]
    (headers,) = [each for each in rows if each["rule"] == "headers per session"]
    assert (headers["value"], headers["valid_from"], headers["valid_before"]) == (5.0, "2000-01-01", None)
    assert headers["source"].startswith("The FA, heading guidance")
    assert all(each["under_low"] <= 12 <= each["under_high"] for each in rows)
    lengths = [each["a_side"] for each in rows if each["rule"] == "match pitch length"]
    assert lengths == [3, 5, 7, 9]  # of every format, whichever they play; U12 have none for 11 a side


@pytest.mark.parametrize("under", ["x", "-3", "1000", "1.5", "²"])
def test_an_age_that_is_none_is_named(world: World, under: str) -> None:
    response = get(world.people.reader, "/guidelines/", data={"under": under})
    assert (response.status_code, response.json()["errors"]) == (
        400,
        [{"pointer": "/under", "detail": "An age group by its number: 12 for U12."}],
    )


def test_writing_where_nothing_is_written_is_refused(world: World) -> None:
    response = signed_in(world.people.director).post(f"{V1}/squads/", {}, content_type="application/json")
    assert (response.status_code, response.json()["title"]) == (405, "Method Not Allowed")
