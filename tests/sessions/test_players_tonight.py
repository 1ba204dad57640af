"""How many are there or expected is one number: session page, pitch page, sheet, list of set-ups and API say the same."""

import re
from typing import Any

import pytest
from django.utils.html import strip_tags

from club.actions.guidelines import load_guidelines
from club.queries import club_now
from sessions import pages, queries
from sessions.models import TrainingSession
from sessions.queries.set_up import looked_after_tonight, players_tonight
from tests.factories import player_in
from tests.people import World, signed_in
from tests.sessions.pitch.evening import Evening, make_evening

pytestmark = pytest.mark.django_db


@pytest.fixture
def evening(world: World) -> Evening:
    return make_evening(world, place=world.own)


def said(evening: Evening) -> dict[str, Any]:
    """The number as each place says it."""
    address = f"/sessions/{evening.session.public_id}/"
    coach = signed_in(evening.people.coach)
    session = queries.session_by_id(evening.session.public_id)
    assert session is not None
    sheet = pages.session_sheet(session, link="https://ashmere.example/")
    text = " ".join(strip_tags(coach.get(address).content.decode().replace("<", " <")).split())
    pitch = coach.get(f"{address}pitch/")
    return {
        "page": int(re.search(r"Players (?:here|expected) (\d+)", text)[1]),  # type: ignore[index]
        "sheet": int(dict(sheet.facts)["Players"]),
        "pitch": pitch.context["shown"].data["expected"],
        "api": coach.get(f"/api/v1{address}").json()["players_tonight"],
        "list": pages.all_set_up(session, kit={}).players,
    }


def test_expected_follows_the_register_everywhere(evening: Evening) -> None:
    assert set(said(evening).values()) == {12}
    evening.append(*[evening.event("arrived", player=each) for each in evening.players])
    assert set(said(evening).values()) == {3}
    evening.append(evening.event("left", 20, player=evening.players[0]))
    assert set(said(evening).values()) == {2}


def test_the_plan_keeps_its_own_number(evening: Evening) -> None:
    evening.append(*[evening.event("arrived", player=each) for each in evening.players])
    coach = signed_in(evening.people.coach)
    found = coach.get(f"/api/v1/sessions/{evening.session.public_id}/").json()
    assert (found["players_expected"], found["players_tonight"]) == (12, 3)
    shown = coach.get(f"/sessions/{evening.session.public_id}/").content.decode()
    assert "12 expected" in shown


def test_once_it_is_over_the_plan_speaks_and_attendance_says_who_came(evening: Evening) -> None:
    evening.append(
        *[evening.event("arrived", player=each) for each in evening.players],
        evening.event("left", 20, player=evening.players[0]),
        evening.event("delivered", 60),
    )
    session = evening.read()
    assert (players_tonight(session), looked_after_tonight(session)) == (12, 12)
    day = club_now().date()
    found = pages.team_attendance(session.squad, day, day, with_names=False)
    assert [(each.count.came, each.count.listed) for each in found.columns] == [(3, 3)]


def test_adults_are_needed_for_all_who_are_there_also_for_who_watches(evening: Evening, world: World) -> None:
    load_guidelines()
    more = [str(player_in(squad=world.own.squad).public_id) for _ in range(18)]
    evening.append(*[evening.event("arrived", player=each) for each in more])
    evening.append(*[evening.event("watching", player=each) for each in evening.players])
    TrainingSession.objects.filter(pk=evening.session.pk).update(players_expected=8)
    session = queries.session_by_id(evening.session.public_id)
    assert session is not None
    view = queries.session_view(session)
    assert (view.players, view.looked_after) == (18, 21)
    planned = queries.session_by_id(evening.session.public_id)
    assert planned is not None
    planned.delivery = {}
    assert view.adults_needed > queries.session_view(planned).adults_needed
    sheet = pages.session_sheet(session, link="https://ashmere.example/")
    assert any(text.startswith(f"21 players: {view.adults_needed} adults") for text, _source in sheet.safety)
