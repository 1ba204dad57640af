"""A drill set up on its own page: run it now, or put it into a session, with the numbers that the page showed."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import time
from typing import Any
from urllib.parse import urlencode

import pytest
import time_machine
from django.urls import reverse

from club.models import ClubSettings
from club.queries import actor_of, club_now
from drills.bridge import document_of
from sessions.actions import parts_as_input
from sessions.bridge import setup_kept
from sessions.choices import PartKind
from sessions.forms import rows_of, seconds_text, with_drill
from sessions.models import Part, Station, TrainingSession
from sessions.planning.rounds import shared_out
from sessions.views.part_rows import picked_row
from tests.factories_sessions import part_input, planned_session
from tests.people import World, signed_in
from tests.sessions.setting_up import drill

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def evening_time() -> Iterator[None]:
    """Six in the evening of today, whenever the tests are run: a drill that would run past midnight is refused."""
    six = club_now(ClubSettings()).replace(hour=18, minute=0, second=0, microsecond=0)
    with time_machine.travel(six):
        yield


ASKED = {"players": 10, "length": 40, "width": 30}


def address(made: Any, **changes: Any) -> str:
    return f"{reverse('sessions:use', args=[made.public_id])}?{urlencode({**ASKED, **changes})}"


def headline(station: Station) -> tuple[str, int]:
    kept = setup_kept(station)
    assert kept is not None
    return kept.setup.numbers, kept.setup.players_total


def test_two_taps_from_the_answer_to_the_pitch(world: World) -> None:
    made, client = drill(world), signed_in(world.people.coach)
    page = client.get(f"{reverse('drills:drill', args=[made.public_id])}?{urlencode(ASKED)}")
    chosen = page.context["shown"].tonight.chosen
    link = f"{reverse('sessions:use', args=[made.public_id])}?{urlencode(ASKED)}&amp;fit=0"
    assert link.replace("&", "&amp;").replace("&amp;amp;", "&amp;") in page.content.decode()
    assert chosen.title in client.get(address(made)).content.decode()
    squad = world.own.squad
    response = client.post(address(made), {"do": "now", "squad": str(squad.public_id)})
    session = TrainingSession.objects.get()
    assert response["Location"] == reverse("sessions:pitch", args=[session.public_id])
    assert client.get(response["Location"]).status_code == 200
    assert (session.squad_id, session.day, session.players_expected) == (squad.pk, club_now().date(), 10)
    assert list(session.staff.values_list("user_id", flat=True)) == [world.people.coach.pk]
    assert headline(Station.objects.get()) == (chosen.setup.numbers, 10)


def test_it_is_added_as_the_last_part_of_a_session(world: World) -> None:
    made = drill(world)
    parts = [part_input(title="Begin")]
    session = planned_session(place=world.own, by=world.people.coach, parts=parts)
    client = signed_in(world.people.coach)
    assert str(session.public_id) in client.get(address(made)).content.decode()
    client.post(address(made), {"do": "add", "session": str(session.public_id)})
    parts = list(Part.objects.filter(session=session))
    assert len(parts) == 2
    assert headline(parts[1].stations.get())[1] == 10
    assert parts[1].minutes == document_of(made.current_revision).work.minutes


def test_it_fills_a_part_that_waits_for_a_drill_as_the_editor_does(world: World) -> None:
    made, client = drill(world), signed_in(world.people.coach)
    waiting = part_input(minutes=21, bouts=1, bout_s=1260, rest_s=0, changeover_s=90)
    parts = [replace(waiting, kind=PartKind.ARRIVAL), waiting, part_input(title="Match")]
    session = planned_session(place=world.own, by=world.people.coach, parts=parts)
    rows = with_drill(
        rows_of(parts_as_input(session)),
        picked_row(actor_of(world.people.coach), session, str(made.public_id)) or {},
        "",
        60,
    )
    client.post(address(made), {"do": "add", "session": str(session.public_id)})
    found = parts_as_input(TrainingSession.objects.get())
    assert [bool(each.stations) for each in found] == [False, True, False]
    assert (found[1].kind, found[1].minutes, found[1].changeover_s) == (PartKind.PRACTICE, 21, 90)
    assert (str(found[1].bouts), seconds_text(found[1].rest_s)) == (rows[1]["bouts"], rows[1]["rest"])
    assert found[1].bout_s == shared_out(21, found[1].bouts, found[1].rest_s)
    assert headline(Station.objects.get())[1] == 10


@pytest.mark.parametrize(("person", "status"), [("colleague", 404), ("helper", 403), ("reader", 403)])
def test_nobody_runs_it_with_a_team_that_is_not_theirs(world: World, person: str, status: int) -> None:
    made, client = drill(world), signed_in(getattr(world.people, person))
    asked = {"do": "now", "squad": str(world.own.squad.public_id)}
    assert client.post(address(made), asked).status_code == status
    assert not TrainingSession.objects.exists()


@pytest.mark.parametrize(
    "changes", [{"players": "x"}, {"players": 2}, {"fit": 999}, {"fit": "x"}, {"variation": "none"}]
)
def test_an_address_without_an_answer_is_not_there(world: World, changes: dict[str, Any]) -> None:
    assert signed_in(world.people.coach).get(address(drill(world), **changes)).status_code == 404


def test_whoever_leads_another_session_now_is_told_and_nothing_is_made(world: World) -> None:
    made = drill(world)
    planned_session(place=world.own, starts=time(17, 0), ends=time(20, 0), staff=[world.people.coach])
    asked = {"do": "now", "squad": str(world.own.squad.public_id)}
    response = signed_in(world.people.coach).post(address(made), asked)
    assert response.status_code == 400
    assert 'role="alert"' in response.content.decode()
    assert TrainingSession.objects.count() == 1


def test_what_would_run_past_midnight_is_refused(world: World) -> None:
    made = drill(world)
    asked = {"do": "now", "squad": str(world.own.squad.public_id)}
    with time_machine.travel(club_now().replace(hour=23, minute=55)):
        response = signed_in(world.people.coach).post(address(made), asked)
    assert (response.status_code, TrainingSession.objects.count()) == (400, 0)
    assert "past midnight" in response.content.decode()
