"""Minutes in play, as run: one value on the page, on paper, in the API and in the attendance of the weeks."""

from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from club import queries as club
from sessions import actions, queries
from sessions.models import Register, Turns
from sessions.pages.happened import what_happened
from sessions.pages.sheet.session import session_sheet
from sessions.queries.turns import session_with_turns
from tests.factories import player_in
from tests.people import signed_in
from tests.sessions.pitch.evening import Evening, make_evening, put_drills

pytestmark = pytest.mark.django_db


@pytest.fixture
def evening(world: Any) -> Evening:
    return make_evening(world, place=world.own)


def turns_kept(evening: Evening, *, bouts: list[tuple[list[str], list[str]]]) -> None:
    """Turns of the first part, as they are kept: who is inside and who waits, round by round."""
    station = evening.read().parts.order_by("position")[0].stations.all()[0]
    kept = [
        {
            "number": number,
            "teams": [{"bib": "red", "place": "inside", "players": inside}],
            "waiting": waiting,
            "away": [],
            "loans": [],
        }
        for number, (inside, waiting) in enumerate(bouts, start=1)
    ]
    Turns.objects.create(session=evening.session, station_id=station.public_id, bouts=kept, facts={})


def run(evening: Evening) -> Any:
    """Two parts with drills; of the first the turns are known. Rounds of 5:30 with a rest of one minute, twice."""
    put_drills(evening, "bite-back", "three-rooms")
    ada, bo, cy = evening.players
    turns_kept(evening, bouts=[([ada, bo], [cy]), ([ada, cy], [bo])])
    first, second = (str(each.public_id) for each in evening.read().parts.order_by("position"))
    evening.append(
        evening.event("arrived", 0, player=ada),
        evening.event("arrived", 0, player=bo),
        evening.event("arrived", 0, player=cy),
        evening.event("left", 6, player=ada, minutes=5.5),
        evening.event("part_started", 0, part=first),
        evening.event("part_ended", 12, part=first),
        evening.event("part_started", 13, part=second),
        evening.event("part_ended", 25, part=second),
        evening.event("shortened", 42, minutes=30),
    )
    return queries.session_by_id(evening.session.public_id)


def test_page_paper_api_and_the_weeks_say_one_share(evening: Evening) -> None:
    """By hand: Ada 5½ of 5½ min, then gone; Bo 5½ of 11; Cy 5½ of 11. Together 16½ of 27½: 60 %."""
    session = run(evening)
    done = what_happened(queries.session_view(session), with_names=True)
    assert done is not None
    by_id = {each.id: (each.in_play.minutes, each.in_play.known_min) for each in done.players}
    ada, bo, cy = evening.players
    assert by_id == {ada: (5.5, 5.5), bo: (5.5, 11.0), cy: (5.5, 11.0)}
    assert (done.in_play.minutes, done.in_play.known_min) == (16.5, 27.5)
    assert [each.who_played for each in done.parts] == ["turns", "not_known"]
    assert done.who_played is not None
    assert "part 1." in done.who_played.text
    assert "part 2 is not known" in done.who_played.text
    coach: Client = signed_in(evening.people.coach)
    answer = coach.get(f"/api/v1/sessions/{session.public_id}/").json()["happened"]
    assert answer["share_in_play"] == 0.6
    assert {each["id"]: each["share_in_play"] for each in answer["players"]} == {ada: 1.0, bo: 0.5, cy: 0.5}
    page = coach.get(f"/sessions/{session.public_id}/").content.decode()
    assert "in play 6 of 11 (50 %)" in page
    assert done.who_played.text in page
    paper = session_sheet(session, link="/x").happened
    assert "60 % in play." in paper[0]
    assert not any(each.name in line for each in done.players for line in paper)
    weeks = coach.get(f"/api/v1/attendance/?squad={session.squad.public_id}").json()
    mine = {each["player"]: each for each in weeks["players"]}
    assert (mine[bo]["minutes_in_play"], mine[bo]["minutes_known"], mine[bo]["share_in_play"]) == (
        5.5,
        11.0,
        0.5,
    )
    table = coach.get(reverse("sessions:squad-attendance", args=[session.squad.public_id])).content.decode()
    assert "50 %" in table


def test_names_and_their_minutes_are_for_staff_alone(evening: Evening) -> None:
    session = run(evening)
    answer = signed_in(evening.people.reader).get(f"/api/v1/sessions/{session.public_id}/").json()["happened"]
    assert (answer["players"], answer["share_in_play"]) == ([], 0.6)


def test_without_turns_or_a_set_up_it_is_not_known(evening: Evening) -> None:
    ada = evening.players[0]
    evening.append(
        evening.event("arrived", 0, player=ada),
        evening.event("part_started", 0, part=evening.parts[0]),
        evening.event("part_ended", 10, part=evening.parts[0]),
        evening.event("shortened", 42, minutes=30),
    )
    session = queries.session_by_id(evening.session.public_id)
    done = what_happened(queries.session_view(session), with_names=True)
    assert done is not None
    assert (done.in_play.share, [each.in_play.share for each in done.players]) == (None, [None])
    page = signed_in(evening.people.coach).get(f"/sessions/{session.public_id}/").content.decode()
    assert "Who was in play is not known" in page


def test_turns_that_are_worked_out_afterwards_count_too(evening: Evening) -> None:
    session = run(evening)
    squad = evening.session.squad
    more = [player_in(squad=squad, display_name=f"Child {number}") for number in range(7)]
    evening.append(*(evening.event("arrived", 50, player=str(each.public_id)) for each in more))
    Turns.objects.all().delete()
    actions.rebuild(session=session)
    assert not Register.objects.filter(known_min__gt=0).exists()
    row = session_with_turns(session.public_id)
    assert row is not None
    part_and_station = actions.station_in_part(row, row.parts.all()[0].stations.all()[0].public_id)
    assert part_and_station is not None
    part, station = part_and_station
    actions.rotate_station(actor=club.actor_of(evening.people.coach), session=row, part=part, station=station)
    assert Register.objects.filter(known_min__gt=0).exists()
