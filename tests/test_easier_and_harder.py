"""Drill page, pitch, sheet and API name the same next easier and next harder rung, and the same way back."""

import re
from datetime import timedelta
from html import unescape
from typing import Any

import pytest

from club.queries import actor_of, today
from drills.game.steps import in_order, steps
from drills.game.variations import find
from sessions import actions, queries
from sessions.pages.sheet.parts import parts_on_sheet
from sessions.proposals.queries import Shelf
from sessions.proposals.wish import Wish
from sessions.queries.plan import session_view
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World, signed_in
from tests.sessions.pitch.evening import Evening
from tests.sessions.pitch.test_page import data_of

pytestmark = pytest.mark.django_db
BARE: dict[str, Any] = {key: [] for key in ("goals", "groups", "conditions", "phases")}
GRID = {"key": "usual", "length_m": 30, "width_m": 24, "purpose": "usual"}


def variation(key: str, way: str, length_m: int) -> dict[str, Any]:
    return {
        "key": key,
        "title": f"The {key} one",
        "rung": way,
        "changes": [{"type": "set_grid", "length_m": length_m, "width_m": 24}],
    }


RUNGS = [
    variation("wide", "easier", 34),
    variation("widest", "easier", 38),
    variation("tight", "harder", 26),
    variation("tightest", "harder", 22),
    variation("odd", "sideways", 31),
]
KEYS = ("", *(each["key"] for each in RUNGS))


@pytest.fixture
def drill(world: World) -> Any:
    whole = {**BARE, "format": "4v4", "grids": [GRID], "queue": None, "variations": RUNGS, "faults": []}
    return shared_drill(owner=world.people.coach, **whole)


def session_of(world: World, drill: Any, key: str) -> Any:
    return planned_session(
        place=world.own, by=world.people.director, parts=[part_input(drill=drill, variation_key=key)]
    )


def ways(document: Any, key: str) -> dict[str, str]:
    """What the pure function says: by way, the title that it leads to."""
    found = steps(document, key)
    named = {"easier": found.easier, "harder": found.harder, "back": found.back}
    return {way: title(document, to) for way, to in named.items() if to is not None}


def title(document: Any, key: str) -> str:
    rung = find(document, key)
    return rung.title if rung else "the drill as written"


def on_page(html: str) -> dict[str, tuple[str, str]]:
    """By way, where its link leads to and what it says."""
    links = re.findall(r'data-step="(\w+)" href="([^"]*)">([^<]*)</a>', html)
    return {way: (unescape(address), unescape(text).split(": ", 1)[1]) for way, address, text in links}


@pytest.mark.parametrize("key", KEYS)
def test_all_four_say_the_same(world: World, drill: Any, key: str) -> None:
    session = session_of(world, drill, key)
    document = session_view(session).parts[0].stations[0].drill.document
    expected = ways(document, key)
    person = world.people.coach
    client = signed_in(person)

    html = client.get(f"/library/{drill.public_id}/" + (f"?variation={key}" if key else "")).content.decode()
    steps_only = {way: text for way, text in expected.items() if way != "back"}
    back = (
        {"back": "the drill as written"} if key and "the drill as written" not in steps_only.values() else {}
    )
    assert {way: text for way, (_address, text) in on_page(html).items()} == {**steps_only, **back}
    for way, (address, _text) in on_page(html).items():
        to = getattr(steps(document, key), way)
        assert address == f"/library/{drill.public_id}/" + (f"?variation={to}" if to else "")
        assert client.get(address).status_code == 200

    pitch = data_of(client.get(f"/sessions/{session.public_id}/pitch/"))["parts"][0]
    shown = {each["key"]: each for each in pitch["rungs"]}
    assert set(shown) == {*in_order(document), key}
    assert pitch["rungs"][pitch["rung"]]["key"] == key
    for each in shown.values():
        named = {way: each[way] for way in ("easier", "harder", "back") if each[way] is not None}
        assert {way: title(document, to) for way, to in named.items()} == ways(document, each["key"])
        assert set(named.values()) <= set(shown)

    (part,) = parts_on_sheet(session_view(session), [""], without_colour=False)
    said = part.stations[0].ladder
    for way, text in (("harder", said.easy), ("easier", said.hard)):
        wanted = expected.get(way, "")
        assert text.startswith(
            "Back to the drill as it is written." if wanted == "the drill as written" else wanted
        )
        assert bool(text) == bool(wanted)

    api = {each["key"]: each for each in client.get(f"/api/v1/drills/{drill.public_id}/").json()["rungs"]}
    assert set(api) == set(KEYS)
    named = {way: api[key][way] for way in ("easier", "harder", "back") if api[key][way] is not None}
    assert {way: title(document, to) for way, to in named.items()} == expected
    station = client.get(f"/api/v1/sessions/{session.public_id}/").json()["parts"][0]["stations"][0]
    assert station["steps"] == {way: api[key][way] for way in ("easier", "harder", "back")}


def test_back_to_the_drill_as_written_is_taken_from_the_pitch(world: World, drill: Any) -> None:
    session = session_of(world, drill, "")
    part = str(session.parts.all()[0].public_id)
    event = Evening(session, world.people, [], "", "", session.period.lower, [part]).event
    up, down = event("harder", 2, part=part, to="tight"), event("easier", 3, part=part, to="")
    actions.append_events(
        actor=actor_of(world.people.coach), session=session, device="test", events=[up, down]
    )
    fresh = queries.session_by_id(session.public_id)
    (kept,) = fresh.delivery["parts"]
    assert kept["variation"] == ""


def test_one_rung_up_in_a_proposal_is_the_next_and_no_other(world: World, drill: Any) -> None:
    for days, key in ((5, "wide"), (7, "tight")):
        planned_session(
            place=world.own,
            by=world.people.director,
            day=today() - timedelta(days=days),
            parts=[part_input(drill=drill, variation_key=key)],
        )
    tonight = session_of(world, drill, "")
    wish = Wish(age_group_id=world.own.age_group.pk, minutes=75, players=8, length=None, width=None, parts=())
    shelf = Shelf(actor_of(world.people.director), wish, (12, 12), tonight)
    assert shelf._last_week() == {
        f"{drill.public_id} {key}": word
        for key, word in (
            ("wide", "same rung"),
            ("tight", "same rung"),
            ("", "one rung up"),
            ("tightest", "one rung up"),
        )
    }
