"""The keepers apart for one part: asked for by form and API, put together from the library's rows, and taken over."""

from typing import Any

import pytest

from club.queries import actor_of
from sessions import queries
from sessions.models import Computation, Station
from sessions.proposals import actions
from sessions.proposals.queries import Shelf
from sessions.proposals.wish import WishedPart
from tests.factories import KitStockFactory
from tests.factories_sessions import shared_drill
from tests.people import World, signed_in
from tests.sessions.api.test_sessions_api import client_of, pointers
from tests.sessions.proposing.evening import PLAIN, clash_of, evening, library, titles, wished, worked_out
from tests.sessions.proposing.test_pages_and_api import ASSEMBLE, page_of, typed
from tests.sessions.proposing.test_proposals import said
from tests.sessions.set_ups import setup_of

pytestmark = pytest.mark.django_db
APART = (
    WishedPart(kind="arrival"),
    WishedPart(kind="practice", keepers_apart=True),
    WishedPart(kind="game"),
)
TWELVE: dict[str, Any] = {"players": 12, "keepers": 2, "adults": 2, "parts": APART}


def hands(world: World, **changes: Any) -> Any:
    """A drill for two keepers and two who serve; with two keepers one serves the other."""
    given = {
        "title": "Safe Hands",
        "activity": "keeper",
        "format": "2+2GK",
        "goals": [{"key": "main", "edge": "right", "defended_by": "A", "keeper": True}],
        "groups": [
            {
                "key": "K",
                "name": "keepers",
                "plays_for": "A",
                "place": "goal",
                "least": 2,
                "most": 3,
                "role": "keeper",
            },
            {
                "key": "S",
                "name": "servers",
                "plays_for": "B",
                "place": "inside",
                "least": 1,
                "most": 3,
                "role": "server",
            },
        ],
        "grids": [{"key": "box", "length_m": 14, "width_m": 14, "purpose": "shots to be seen"}],
        "queue": {
            "work_s": 45,
            "wait_s": 45,
            "next": "change after four shots",
            "cycle": ["in goal", "fielding"],
        },
        "kit": [{"kind": "cones", "count": 6}],
        "restarts": [{"after": "side-out", "who": "S", "how": "pass in"}],
        "on_winning": None,
        "questions": [
            {"key": "q", "role": "K", "moment": "between bouts", "ask": "Set?", "listen_for": "Before it."}
        ],
        "work": {"minutes": 14, "effort": 4.0},
    }
    return shared_drill(owner=world.people.coach, **{**PLAIN, **given, **changes})


def test_they_get_a_drill_a_strip_and_an_adult_and_the_others_the_rest(world: World) -> None:
    made, keepers = library(world), hands(world)
    session = evening(world)
    row = worked_out(world, session, **TWELVE)
    parts = row.result["session"]["parts"]
    assert titles(row)[1] in ("Lamp Keepers", "Lamp Thieves")
    assert [bool(part["keepers"]) for part in parts] == [False, True, False]
    found = parts[1]["keepers"]
    assert (found["drill"], found["players"], found["numbers"]) == (str(keepers.public_id), 2, "1+GK")
    strip, rest = found["ground_m"], found["others_ground_m"]
    free = sorted((wished(session).length, wished(session).width))
    assert (strip[0] + 3 + rest[0], strip[1], rest[1]) == (free[1], free[0], free[0])
    assert parts[1]["numbers"] == "2 × 4v1"
    assert {"part_keepers", "part_runs"} <= {each["code"] for each in parts[1]["reasons"]}
    assert parts[1]["drill"] == str(made[titles(row)[1]].public_id)


def test_it_costs_three_queries_more(world: World, django_assert_num_queries: Any) -> None:
    library(world)
    hands(world)
    session = evening(world)
    shelf = Shelf(actor_of(world.people.coach), wished(session, **TWELVE), (12, 12), session)
    # Beside the three of every evening: drills for keepers, what the others can play, and how both went.
    with django_assert_num_queries(6):
        offers = shelf.fitted()
    assert {each.title for each in offers if any(way.apart for way in each.ways)} == {
        "Lamp Keepers",
        "Lamp Thieves",
    }


def test_kit_of_both_stations_counts_at_the_same_time(world: World) -> None:
    library(world)
    hands(world)
    KitStockFactory(kind="cones", count=9)
    session = evening(world)
    drills = Shelf(actor_of(world.people.coach), wished(session, **TWELVE), (12, 12), session).fitted()
    way = next(way for each in drills for way in each.ways if way.apart)
    assert way.apart is not None
    both = way.apart.keepers.kit["cones"] + way.apart.others.kit.get("cones", 0)
    assert (way.kit["cones"], way.adults) == (both, 2)


def test_without_a_drill_for_so_few_keepers_it_says_so(world: World) -> None:
    library(world)
    row = worked_out(world, evening(world), **TWELVE)
    assert clash_of(row) == {"part:2"}
    assert said(row)[0].startswith(
        "With the keepers at a station of their own nothing in the library suits part 2"
    )


def test_a_coach_ticks_it_and_takes_two_stations_with_their_set_ups(world: World) -> None:
    library(world)
    keepers, session = hands(world), evening(world)
    coach = signed_in(world.people.coach)
    sent = typed(players="12", keepers="2", adults="2", keepers_apart="1")
    for wrong, field in (
        ({"keepers": ""}, "keepers"),
        ({"adults": "1"}, "adults"),
        ({"keepers_apart": "2"}, "keepers_apart"),  # the game
        ({"keepers_apart": "5"}, "keepers_apart"),  # no such part
        ({"keepers": "12"}, "keepers"),
    ):
        refused = coach.post(page_of(session), {**sent, **wrong})
        assert list(refused.context["form"].errors) == [field], wrong
    coach.post(page_of(session), sent)
    row = Computation.objects.get()
    actions.work_out_proposal(public_id=str(row.public_id))
    page = coach.get(f"{page_of(session)}{row.public_id}/")
    assert "Keepers separate:" in page.content.decode()
    assert page.context["shown"].best.parts[1].keepers_picture
    fresh = queries.session_by_id(session.public_id)
    assert fresh is not None
    coach.post(f"{page_of(session)}{row.public_id}/take/", {"version": fresh.version, "which": 0})
    first, second = Station.objects.filter(part__session=session, part__position=1)
    assert (setup_of(first).numbers, first.evening["players"], first.evening["keepers"]) == (
        "2 × 4v1",
        10,
        0,
    )
    assert (setup_of(second).numbers, second.evening["players"], second.evening["adults"]) == (
        "1+GK",
        2,
        1,
    )
    taken = queries.session_by_id(session.public_id)
    assert taken is not None
    both = queries.session_view(taken, judged=False).parts[1].stations
    assert [(each.setup_for, each.setup_is_stale) for each in both] == [(12, False)] * 2
    # Fitted anew, each begins with its own players, not with an even share.
    html = coach.get(f"/sessions/{session.public_id}/").content.decode()
    for station, players in ((first, 10), (second, 2)):
        fit = f'<input id="fit-{station.public_id}" name="players" inputmode="numeric" size="3" value="{players}">'
        assert fit in html
    assert (second.group, second.stays, second.revision.drill_id) == ("keepers", True, keepers.pk)
    again = coach.post(f"{page_of(session)}{row.public_id}/again/", {"refuse": [str(keepers.public_id)]})
    refused_row = Computation.objects.get(public_id=again["Location"].split("/")[-2])
    assert refused_row.request["parts"][1]["keepers_apart"]
    actions.work_out_proposal(public_id=str(refused_row.public_id))
    refused_row.refresh_from_db()
    assert clash_of(refused_row) == {"part:2"}


def test_the_api_asks_for_it_part_by_part(world: World) -> None:
    library(world)
    keepers, session = hands(world), evening(world)
    api = client_of(world.people.coach)
    parts = [{"kind": "arrival"}, {"kind": "practice", "keepers_apart": True}, {"kind": "game"}]
    sent = {"session": str(session.public_id), "players": 12, "keepers": 2, "adults": 2, "parts": parts}
    alone = api.post(ASSEMBLE, {**sent, "adults": 1}, format="json")
    assert (alone.status_code, list(pointers(alone))) == (400, ["/adults"])
    asked = api.post(ASSEMBLE, sent, format="json")
    actions.work_out_proposal(public_id=asked.json()["id"])
    found = api.get(asked["Location"]).json()["best"]["parts"]
    assert [each["keepers"] and each["keepers"]["drill"] for each in found] == [
        None,
        str(keepers.public_id),
        None,
    ]
