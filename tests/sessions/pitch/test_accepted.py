"""A set-up accepted without signal stands on the session's page once the phone has sent its events."""

import json
from typing import Any

import pytest

from club.queries import actor_of
from drills import queries as drills
from sessions import actions, bridge, queries
from sessions.models import Station
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World, signed_in
from tests.sessions.pitch.evening import Evening, put_drills
from tests.sessions.proposing.evening import HARDER, PLAIN
from tests.sessions.set_ups import setup_of

pytestmark = pytest.mark.django_db


def sent(world: World, session: Any, *events: dict[str, Any]) -> Any:
    actions.append_events(
        actor=actor_of(world.people.coach), session=session, device="test", events=list(events)
    )
    return queries.session_by_id(session.public_id).parts.all()[0].stations.all()[0]


def test_it_is_written_to_the_station_with_the_rung_it_is_played_on(world: World) -> None:
    drill = shared_drill(owner=world.people.coach, **{**PLAIN, "variations": HARDER})
    session = planned_session(place=world.own, by=world.people.coach, parts=[part_input(drill=drill)])
    part = str(session.parts.all()[0].public_id)
    starts = session.period.lower
    event = Evening(session, world.people, [], "", "", starts, [part]).event
    near = {"numbers": "2 × 4v1", "grids": 2, "players_total": 10, "length_m": 8, "width_m": 8, "waiting": 0}
    first = event("fit_accepted", 3, part=part, setup=near)
    station = sent(world, session, event("harder", 2, part=part, to="two"), first)
    assert (setup_of(station).numbers, station.variation_key) == ("2 × 4v1", "two")
    assert station.evening["players"] == 10
    impossible = event("fit_accepted", 5, part=part, setup={**near, "numbers": "9v9", "grids": 1})
    station = sent(world, session, first, impossible)
    assert setup_of(station).numbers == "2 × 4v1"


def whole(station: Any, players: int, rung: str = "") -> dict[str, Any]:
    """What the phone sends of an answer that it was shown: its headline, and all of it."""
    from sessions.pages import pitch
    from sessions.queries.evening import station_evening, with_players

    session = queries.session_by_id(station.part.session.public_id)
    at = pitch.station_at(session, str(station.part.public_id), rung)
    assert at is not None
    evening = with_players(station_evening(session, at), players)
    found = actions.fitted(at, evening)
    return json.loads(pitch.fit_shown(at, found, evening)[0].event)


def test_a_set_up_that_came_whole_is_kept_as_it_came(evening: Evening) -> None:
    session = put_drills(evening, "all-aboard")
    station = Station.objects.get(part__session=session)
    setup = whole(station, 13)
    evening.append(
        evening.event(
            "fit_accepted",
            3,
            part=str(station.part.public_id),
            station=str(station.public_id),
            rung="",
            setup=setup,
        )
    )
    station.refresh_from_db()
    assert station.setup == setup["kept"]
    assert bridge.setup_kept(station).setup.players_total == 13
    told = evening.read().delivery["parts"][0]["setups"][str(station.public_id)]
    assert "kept" not in told
    assert told["numbers"] == setup["numbers"]


def test_another_variation_that_is_set_up_is_played_and_the_planned_one_remembered(evening: Evening) -> None:
    session = put_drills(evening, "all-aboard")
    station = Station.objects.get(part__session=session)
    rung = drills.station_drill(station.revision).document.variations[0].key
    setup = whole(station, 12, rung)
    evening.append(evening.event("fit_accepted", 3, part=str(station.part.public_id), rung=rung, setup=setup))
    station.refresh_from_db()
    assert (station.variation_key, station.planned_key) == (rung, "")


@pytest.mark.parametrize(
    "spoil", [{"grids": 0}, {"grid_formats": []}, {"grid_sizes": [[0, 0]]}, {"waiting": 900}]
)
def test_a_set_up_that_nobody_could_play_is_left_to_the_events(
    evening: Evening, spoil: dict[str, Any]
) -> None:
    session = put_drills(evening, "all-aboard")
    station = Station.objects.get(part__session=session)
    setup = whole(station, 13)
    setup["kept"]["setup"] |= spoil
    (outcome,) = evening.append(
        evening.event("fit_accepted", 3, part=str(station.part.public_id), setup=setup)
    )
    station.refresh_from_db()
    assert (outcome.outcome, station.setup) == ("taken", None)
    client = signed_in(evening.people.coach)
    for address in ("", "pitch/"):
        assert client.get(f"/sessions/{session.public_id}/{address}").status_code == 200
