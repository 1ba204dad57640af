"""Why a kept set-up is not one for tonight: page, list, API and pitch say the same, and nothing once it is done."""

import json
import re
from dataclasses import replace
from html import unescape
from typing import Any

import pytest
from django.test import Client

from club.queries import actor_of
from drills.game.evening import Piece
from drills.game.fits import fits
from sessions import actions, bridge, queries
from sessions.actions import DayAndTimes, ZonesAndStaff
from sessions.models import TrainingSession
from tests.factories import KitStockFactory, ZoneFactory
from tests.people import World, signed_in
from tests.sessions.proposing.evening import HARDER
from tests.sessions.setting_up import again, drill, part_input, planned, record, set_up, stations_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def session(world: World) -> Any:
    """Two parts of the same rondo, set up for twelve on a zone of 50 × 40 m."""
    rondo = drill(world)
    made = planned(
        world, part_input(drill=rondo), part_input(drill=rondo), zones=[ZoneFactory(name="Far end")]
    )
    set_up(world, made)
    return again(made)


def moved(session: Any, zone: Any) -> Any:
    """The session on another zone."""
    actions.change_session(
        session=session,
        version=session.version,
        when=DayAndTimes(session.day, session.starts, session.ends),
        place=ZonesAndStaff((zone.pk,), ()),
        title=session.title,
        theme_id=session.theme_id,
        players_expected=session.players_expected,
    )
    return again(session)


def listed(html: str) -> list[str]:
    """The reasons on a page, in order."""
    found = re.findall(r'data-level="warning">\s*<b>[^<]*</b>\s*<span>([^<]*)</span>', html)
    return [unescape(each).replace("\xa0", " ") for each in found]  # sizes are kept on one line


def of_page(client: Client, session: Any) -> list[str]:
    parts = client.get(f"/sessions/{session.public_id}/").context["page"].parts
    return [reason.text for part in parts for each in part.stations for reason in each.view.stale]


def of_list(client: Client, session: Any) -> list[str]:
    found = client.get(f"/sessions/{session.public_id}/set-up/").context["found"]
    return [text for line in found.lines for text in line.stale]


def of_api(client: Client, session: Any) -> list[str]:
    body = client.get(f"/api/v1/sessions/{session.public_id}/").json()
    stations = [each for part in body["parts"] for each in part["stations"]]
    assert [each["setup_is_stale"] for each in stations] == [
        bool(each["setup_stale_reasons"]) for each in stations
    ]
    return [reason["text"] for each in stations for reason in each["setup_stale_reasons"]]


def of_pitch(client: Client, session: Any) -> list[str]:
    html = client.get(f"/sessions/{session.public_id}/pitch/").content.decode()
    data = re.search(r'<script id="evening" type="application/json">(.*?)</script>', html)
    assert data is not None
    found = [text for part in json.loads(data[1])["parts"] for text in part["stale"]]
    shown = re.findall(r'<ul class="stale problems"[^>]*>(.*?)</ul>', html)
    assert [unescape(each) for ul in shown for each in re.findall(r"<li>(.*?)</li>", ul)] == found
    return found


DOORS = (of_page, of_list, of_api, of_pitch)


def said(world: World, session: Any) -> list[str]:
    """What every door says, which is the same."""
    client = signed_in(world.people.coach)
    by_door = [door(client, session) for door in DOORS]
    assert all(each == by_door[0] for each in by_door), by_door
    html = client.get(f"/sessions/{session.public_id}/").content.decode()
    assert [each for each in listed(html) if each in by_door[0]] == by_door[0]
    return by_door[0]


def expected(session: Any, players: int) -> Any:
    TrainingSession.objects.filter(pk=session.pk).update(players_expected=players)
    return again(session)


def test_what_was_just_set_up_says_nothing(world: World, session: Any) -> None:
    assert said(world, session) == []
    assert "Everything is set up for 12" in _page(world, session)


def _page(world: World, session: Any) -> str:
    return signed_in(world.people.coach).get(f"/sessions/{session.public_id}/").content.decode()


def test_other_numbers_are_said(world: World, session: Any) -> None:
    session = expected(session, 15)
    assert said(world, session) == ["Set up for 12, and there are 15 now."] * 2
    assert "Set everything up for 15" in _page(world, session)


def test_a_session_that_moved_to_smaller_ground_says_so_at_its_parts(world: World, session: Any) -> None:
    zone = session.bookings.get().zone
    type(zone).objects.filter(pk=zone.pk).update(length_m=14, width_m=9)
    session = again(session)
    texts = said(world, session)
    assert len(texts) == 2
    assert all(re.fullmatch(r"Too little space: .* and tonight has 14 × 9 m\.", each) for each in texts)
    assert "Set everything up for 12" in _page(world, session)


def test_another_piece_is_said_by_both_names(world: World, session: Any) -> None:
    before = queries.evening_of(session).pieces[0].key
    other = ZoneFactory(name="Near end", length_m=60, width_m=45)
    session = moved(session, other)
    now = queries.evening_of(session).pieces[0].key
    assert said(world, session) == [f"Set up on {before}, and tonight is on {now}."] * 2
    changed = set_up(world, session)
    assert len(changed) == 2
    assert said(world, again(session)) == []
    assert {bridge.setup_kept(each).setup.piece for each in stations_of(session)} == {now}


def test_a_fence_that_was_put_up_is_said(world: World) -> None:
    game = drill(world, format="4v4", grids=[{"key": "g", "length_m": 34, "width_m": 26, "purpose": "play"}])
    zone = ZoneFactory(length_m=38, width_m=30)
    session = planned(world, part_input(drill=game), players_expected=8, zones=[zone])
    set_up(world, session)
    assert said(world, again(session)) == []
    fences = {f"edge_{edge}": "fence" for edge in ("left", "right", "bottom", "top")}
    type(zone).objects.filter(pk=zone.pk).update(**fences)
    (text,) = said(world, again(session))
    assert re.fullmatch(r"Only \d m to the edge of your space, and it was set up with 3 m\.", text)


def test_kit_that_is_gone_is_said(world: World) -> None:
    goals = KitStockFactory(kind="mini goals", count=4)
    game = drill(world, kit=[{"kind": "mini goals", "count": 2}])
    session = planned(world, part_input(drill=game), players_expected=10, zones=[ZoneFactory()])
    set_up(world, session)
    assert said(world, again(session)) == []
    type(goals).objects.filter(pk=goals.pk).update(count=1)
    (text,) = said(world, again(session))
    assert text.startswith("Too little kit: mini goals (")


def test_what_gets_better_and_what_happens_elsewhere_changes_nothing(world: World, session: Any) -> None:
    zone = session.bookings.get().zone
    type(zone).objects.filter(pk=zone.pk).update(length_m=60, width_m=45)
    KitStockFactory(kind="balls", count=40)
    planned(world, zones=[ZoneFactory(pitch=zone.pitch)], day=session.day)
    assert said(world, again(session)) == []


def test_stations_at_the_same_time_are_asked_for_what_each_has(world: World) -> None:
    one = part_input(drill=drill(world))
    session = planned(
        world, replace(one, stations=one.stations * 2), players_expected=15, zones=[ZoneFactory()]
    )
    set_up(world, session)
    assert said(world, again(session)) == []
    # Eight and seven become eight and eight: the first holds.
    assert said(world, expected(session, 16)) == ["Set up for 7, and there are 8 now."]
    zone = again(session).bookings.get().zone
    type(zone).objects.filter(pk=zone.pk).update(length_m=6, width_m=5)
    assert sum(each.startswith("Too little space") for each in said(world, again(session))) == 2


def test_a_part_that_has_begun_and_a_session_that_is_done_say_nothing(world: World, session: Any) -> None:
    first = str(session.parts.all()[0].public_id)
    session = record(world, expected(session, 15), ("part_started", {"part": first}))
    assert said(world, session) == ["Set up for 12, and there are 15 now."]
    TrainingSession.objects.filter(pk=session.pk).update(state="delivered")
    session = again(session)
    client = signed_in(world.people.coach)
    assert [door(client, session) for door in DOORS] == [[]] * 4


def test_a_variation_chosen_at_the_pitch_is_said(world: World) -> None:
    session = planned(world, part_input(drill=drill(world, variations=HARDER)), zones=[ZoneFactory()])
    set_up(world, session)
    part = str(session.parts.all()[0].public_id)
    session = record(world, again(session), ("harder", {"part": part, "to": "two"}))
    assert said(world, session) == ["Set up as another variation than the one that is played now."]


def test_lengths_that_were_typed_stand_while_there_is_room_for_them(world: World) -> None:
    session = planned(world, part_input(drill=drill(world)), zones=[ZoneFactory()])
    station = stations_of(session)[0]
    evening = queries.evening_typed(session, players=12, length_m=30, width_m=20)
    assert evening.pieces == (Piece("", 30, 20),)
    document = queries.station_of(session, station.public_id).drill.document
    best = fits(document, "", evening)[0]
    actions.accept_setup(
        actor=actor_of(world.people.coach), session=session, version=session.version, station=station, evening=evening,
        numbers=best.numbers, grids=best.grids,
    )  # fmt: skip
    session = again(session)
    assert said(world, session) == []
    assert queries.station_evening(session, stations_of(session)[0], kit={}).pieces == evening.pieces
    zone = session.bookings.get().zone
    type(zone).objects.filter(pk=zone.pk).update(length_m=10, width_m=8)
    (text,) = said(world, again(session))
    assert text.startswith("Too little space")
    assert queries.station_evening(again(session), stations_of(session)[0], kit={}).pieces[0].length_m == 10
