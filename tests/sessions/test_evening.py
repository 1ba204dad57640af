"""What a session's evening is: as booked and staffed, as typed, and what is empty where nobody said."""

from dataclasses import replace
from typing import Any

import pytest
from django.test import Client

from club.errors import Refused
from drills.game.evening import Evening, Piece, as_plain, players_of
from sessions import queries
from sessions.queries.evening import with_players
from tests.factories import KitStockFactory, ZoneFactory
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db


def planned(world: World, **more: Any) -> Any:
    parts = more.pop("parts", [part_input(drill=shared_drill(owner=world.people.coach))])
    made = planned_session(place=world.own, by=world.people.coach, parts=parts, **more)
    return queries.session_by_id(made.public_id)


def two_pieces() -> list[Any]:
    return [ZoneFactory(length_m=50, width_m=30), ZoneFactory(length_m=44, width_m=33)]


def test_what_nobody_said_stays_unsaid(world: World) -> None:
    evening = queries.evening_of(planned(world, staff=[]))
    assert evening.unsaid == {"keepers", "adults", "pieces", "kit"}
    assert evening.chosen
    group = world.own.age_group
    assert evening.ages == players_of(group.ages, group.a_side)


def test_it_is_as_booked_staffed_and_counted(world: World) -> None:
    KitStockFactory(kind="balls", count=11)
    staff = [world.people.coach, world.people.helper]
    session = planned(world, zones=two_pieces(), staff=staff)
    evening = queries.evening_of(session, players=9)
    assert (evening.players, evening.adults, evening.kit) == (9, 2, {"balls": 11})
    assert sorted((each.length_m, each.width_m) for each in evening.pieces) == [(44, 33), (50, 30)]
    assert len({each.key for each in evening.pieces}) == 2


@pytest.mark.parametrize(
    ("typed", "sides"),
    [
        ({}, [(50, 30), (44, 33)]),
        ({"length_m": 44, "width_m": 33}, [(44, 33)]),
        ({"length_m": 20, "width_m": 10}, [(20, 10)]),
        ({"length_m": 20}, [(20, 30)]),  # of a side that nobody typed there is what the largest piece has
    ],
)
def test_lengths_that_are_a_booked_pieces_mean_that_piece(world: World, typed: Any, sides: Any) -> None:
    session = planned(world, zones=two_pieces())
    booked = queries.evening_of(session).pieces
    found = queries.evening_typed(session, players=12, **typed).pieces
    assert [(each.length_m, each.width_m) for each in found] == sides
    assert all(
        (each in booked) == ((each.length_m, each.width_m) not in {(20, 10), (20, 30)}) for each in found
    )


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"players": 61}, "players"),
        ({"length_m": 131}, "length"),
        ({"width_m": 0}, "width"),
        ({"keepers": 13}, "keepers"),
        ({"adults": 21}, "adults"),
    ],
)
def test_what_was_typed_wrong_is_said_beside_it(world: World, wrong: dict[str, Any], field: str) -> None:
    with pytest.raises(Refused) as refused:
        queries.evening_typed(planned(world), **{"players": 12, **wrong})
    assert list(refused.value.by_field()) == [field]


def test_stations_at_the_same_time_start_from_their_share_or_from_what_they_keep(world: World) -> None:
    one = part_input(drill=shared_drill(owner=world.people.coach))
    two = replace(one, stations=one.stations * 2)
    session = planned(world, parts=[two], zones=two_pieces()[:1], players_expected=13)
    stations = list(session.parts.all()[0].stations.all())
    starts = queries.starting_evening(session, stations[0])
    assert (starts.players, starts.adults) == (7, 1)
    kept = Evening(7, 1, 1, pieces=(Piece("", 20, 15),))
    stations[0].evening = as_plain(kept)
    assert queries.starting_evening(session, stations[0]) == kept
    assert with_players(kept, 12) == Evening(12, 1, 1, pieces=(Piece("", 20, 15),))
    assert with_players(Evening(5, 3), 2).keepers == 2


# ---- on the pages ------------------------------------------------------------------------------------------------


def fit_page(client: Client, session: Any, **asked: Any) -> Any:
    station = session.parts.all()[0].stations.all()[0]
    return client.get(f"/sessions/{session.public_id}/stations/{station.public_id}/fit/", asked)


def test_fields_are_empty_where_nobody_said_and_say_what_that_means(world: World) -> None:
    session, client = planned(world, staff=[]), signed_in(world.people.director)
    form = fit_page(client, session).context["form"]
    begins = {name: form[name].value() or "" for name in ("keepers", "adults", "length", "width")}
    assert set(begins.values()) == {""}
    assert form["length"].help_text == "Empty: as much as it takes."
    assert form["adults"].help_text == "Empty: as many as it takes."
    page = fit_page(client, session, players=12, adults="", length="", width="")
    assert page.context["first"]
    said = "Nobody said how much room, how many adults or how much kit: as much as it takes."
    assert said in page.content.decode()


def test_fields_begin_with_the_one_piece_that_is_booked(world: World) -> None:
    zones = two_pieces()
    client = signed_in(world.people.director)
    one = fit_page(client, planned(world, zones=zones[:1])).context["form"]
    assert (one["length"].value(), one["width"].value(), one["length"].help_text) == ("50", "30", "")


def test_of_several_pieces_an_empty_field_means_all(world: World) -> None:
    client = signed_in(world.people.director)
    form = fit_page(client, planned(world, zones=two_pieces())).context["form"]
    assert (form["length"].value(), form["length"].help_text) == ("", "Empty: all that is booked.")


def test_a_wish_asks_for_ground_where_none_is_booked(world: World) -> None:
    session, client = planned(world), signed_in(world.people.director)
    url = f"/sessions/{session.public_id}/propose/"
    form = client.get(url).context["form"]
    assert (form["length"].value(), form["width"].value()) == (None, None)
    assert form["length"].help_text == "Nothing is booked yet: say how much room there is."
    sent = {each.html_name: each.value() or "" for each in form}
    refused = client.post(url, sent).context["form"]
    assert set(refused.errors) == {"length", "width"}


def test_half_of_nothing_is_asked_for_beside_the_length(world: World) -> None:
    session, client = planned(world), signed_in(world.people.director)
    sent = {"space": "half", "players": "8", "version": session.version, "do": "look"}
    page = client.post(f"/sessions/{session.public_id}/again/space/", sent)
    assert page.status_code == 400
    said = page.context["spacing"].errors["length"]
    assert said == ["Nothing is booked for this session: say how long and how wide."]
