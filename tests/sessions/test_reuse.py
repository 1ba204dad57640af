"""A session used again: for another group, over weeks, on half the space; orders of parts that the club keeps."""

from datetime import timedelta
from typing import Any

import pytest
from django.test import Client

from club.queries import actor_of, today
from drills.game.evening import Piece
from drills.game.space import ALL_EDGES
from sessions import actions, queries
from sessions.choices import PartKind
from sessions.queries.reuse import other_ground
from tests.factories import ZoneFactory
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World
from tests.sessions.set_ups import setup_of

pytestmark = pytest.mark.django_db
BARE: dict[str, Any] = {key: [] for key in ("goals", "groups", "conditions", "phases")}
GRID = {"key": "usual", "length_m": 30, "width_m": 24, "purpose": "usual"}


def rung(key: str, way: str) -> dict[str, Any]:
    return {
        "key": key,
        "title": key.title(),
        "rung": way,
        "changes": [{"type": "set_format", "format": {"calm": "4v3", "wild": "5v5"}.get(key, "6v6")}],
    }


@pytest.fixture
def session(world: World) -> Any:
    rungs = [rung("calm", "easier"), rung("wild", "harder"), rung("wilder", "harder")]
    drill = shared_drill(
        owner=world.people.coach,
        **{**BARE, "format": "4v4", "grids": [GRID], "variations": rungs, "queue": None},
    )
    game = part_input(drill=drill)
    return planned_session(
        place=world.own,
        by=world.people.director,
        zones=[ZoneFactory(length_m=60, width_m=40)],
        parts=[part_input(drill=drill), actions.PartInput(**{**vars(game), "kind": PartKind.GAME})],
        players_expected=8,
        title="Locks",
    )


@pytest.fixture
def director(world: World, client: Client) -> Client:
    client.force_login(world.people.director, backend="django.contrib.auth.backends.ModelBackend")
    return client


def rungs(session: Any) -> list[str]:
    fresh = queries.session_by_id(session.public_id)
    return [each.variation_key for part in fresh.parts.all() for each in part.stations.all()]


def test_the_game_climbs_a_rung_a_week_and_a_taken_place_is_named(world: World, session: Any) -> None:
    zone = queries.zones_of(session)[0]["pk"]
    second = today() + timedelta(weeks=2)
    planned_session(
        place=world.colleague, by=world.people.director, day=second, zones=[_Pk(zone)], title="Cup"
    )
    made = actions.plan_series(actor=actor_of(world.people.director), source=session, weeks=3)
    assert [rungs(each.session) if each.session else None for each in made] == [
        ["", "wild"],
        None,
        ["", "wilder"],
    ]
    assert world.colleague.squad.name in made[1].problems[0]
    assert [each.code for each in made[2].changes] == ["carry_rung_up"]


class _Pk:
    def __init__(self, pk: int) -> None:
        self.pk = pk


def test_a_copy_is_fitted_to_the_other_group(world: World, session: Any, director: Client) -> None:
    zone = ZoneFactory(length_m=24, width_m=18)
    sent = {
        "squad": str(world.colleague.squad.public_id),
        "day": str(today() + timedelta(days=3)),
        "starts": "17:00",
        "ends": "17:40",
        "zones": [str(zone.public_id)],
        "players_expected": 10,
        "title": "Locks",
    }
    url = f"/api/v1/sessions/{session.public_id}/copies/"
    answer = director.post(url, sent, content_type="application/json")
    assert answer.status_code == 201
    codes = [each["code"] for each in answer.json()["changes"]]
    assert codes.count("carry_minutes") == codes.count("carry_setup") == 2
    made = queries.session_by_id(answer.json()["session"])
    assert made is not None
    assert sum(part.minutes for part in made.parts.all()) <= 40 - 5
    setups = [setup_of(each) for part in made.parts.all() for each in part.stations.all()]
    assert {each.players_total for each in setups} == {10}
    assert all(each.length_m <= 24 for each in setups)


@pytest.mark.parametrize("do", ["look", "plan"])
def test_more_players_than_anything_is_fitted_to_are_refused_beside_their_field(
    do: str, world: World, session: Any, director: Client
) -> None:
    sent = {
        "squad": str(world.colleague.squad.public_id),
        "day": str(today()),
        "starts": "17:00",
        "ends": "17:40",
        "players_expected": 61,
        "do": do,
    }
    answer = director.post(f"/sessions/{session.public_id}/again/group/", sent)
    assert answer.status_code == 400
    assert "Say how many players you expect, from 1 to 60." in answer.content.decode()


def test_a_copy_takes_zones_side_by_side_and_the_better_of_two_pieces(
    world: World, session: Any, director: Client
) -> None:
    left = ZoneFactory(name="Left", length_m=26, width_m=12)
    right = ZoneFactory(name="Right", pitch=left.pitch, length_m=26, width_m=12)
    lone = ZoneFactory(name="Corner", length_m=70, width_m=9)
    sent = {
        "squad": str(world.colleague.squad.public_id),
        "day": str(today() + timedelta(days=3)),
        "starts": "17:00",
        "ends": "18:00",
        "zones": [str(each.public_id) for each in (lone, left, right)],
        "players_expected": 8,
        "title": "Locks",
    }
    url = f"/api/v1/sessions/{session.public_id}/copies/"
    answer = director.post(url, sent, content_type="application/json").json()
    made = queries.session_by_id(answer["session"])
    assert made is not None
    stations = [each for part in made.parts.all() for each in part.stations.all()]
    assert {each.place for each in stations} == {f"{left.pitch.name}: Left, Right"}
    asked = [piece for each in stations for piece in each.evening["pieces"]]
    assert {(each["length_m"], each["width_m"]) for each in asked} == {(26, 24)}
    assert all(min(setup_of(each).length_m, setup_of(each).width_m) > 12 for each in stations)


def test_plan_b_is_looked_at_first_and_then_played(session: Any, director: Client) -> None:
    url = f"/sessions/{session.public_id}/again/space/"
    sent = {"space": "other", "length": "20", "width": "16", "players": "8", "version": session.version}
    looked = director.post(url, {**sent, "do": "look"})
    assert "on 20 × 16 m" in looked.content.decode() or "20 × 16 m with 8 players" in looked.content.decode()
    assert [each.numbers[0].isdigit() for each in looked.context["plan_b"].plans] == [True, True]
    assert queries.session_by_id(session.public_id).version == session.version
    played = director.post(url, {**sent, "do": "play"})
    assert played.status_code == 302
    fresh = queries.session_by_id(session.public_id)
    sizes = [setup_of(each).length_m for part in fresh.parts.all() for each in part.stations.all()]
    assert max(sizes) <= 20
    assert [part.minutes for part in fresh.parts.all()] == [part.minutes for part in session.parts.all()]


def test_an_order_is_kept_and_begun_with(world: World, session: Any, director: Client) -> None:
    kept = director.post(f"/sessions/{session.public_id}/again/order/", {"name": "Two games"})
    assert kept.status_code == 302
    order = queries.part_orders()[0]
    assert [each["kind"] for each in order.parts] == ["practice", "game"]
    made = actions.begin_session(
        actor=actor_of(world.people.director),
        when=actions.DayAndTimes(today() + timedelta(days=1), session.starts, session.ends),
        order=order,
        age_group_id=world.own.age_group.pk,
        squad_id=world.own.squad.pk,
    )
    assert [(each.kind, each.minutes) for each in made.parts.all()] == [("practice", 34), ("game", 34)]
    assert b"Two games" in director.get("/sessions/new/").content
    assert director.get("/api/v1/part-orders/").json()[0]["name"] == "Two games"


def test_the_page_offers_all_of_it(session: Any, director: Client) -> None:
    page = director.get(f"/sessions/{session.public_id}/again/").content
    for part in (b'id="space"', b'id="copy"', b'id="weeks"', b'id="order"'):
        assert part in page


def test_plan_b_is_the_other_half_of_another_group_a_hall_with_walls_or_open_ground(world: World) -> None:
    near = ZoneFactory(length_m=50, width_m=40, edge_bottom="fence")
    far = ZoneFactory(pitch=near.pitch, length_m=50, width_m=40, edge_top="fence")
    made = planned_session(place=world.own, by=world.people.director, zones=[near, far])
    half = other_ground(made, "half").evening.ground[0]
    assert half == Piece("", 50, 40, bottom="fence", top="group")
    hall = other_ground(made, "hall").evening.ground[0]
    assert (hall.length_m, hall.width_m, hall.edges("fence")) == (40, 20, ALL_EDGES)
    assert other_ground(made, "other", length_m=20, width_m=16).evening.ground[0] == Piece("", 20, 16)
