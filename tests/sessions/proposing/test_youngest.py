"""Up to U10 a suggestion asks, limits and says nothing in AU: form, answer, clash and API go by one value."""

import re
from typing import Any

import pytest

from sessions.proposals import actions
from sessions.proposals.queries import wish_for
from tests.factories_sessions import shared_drill
from tests.people import World, signed_in
from tests.sessions.api.test_sessions_api import client_of, pointers
from tests.sessions.proposing.evening import DRILLS, PLAIN, evening, worked_out

pytestmark = pytest.mark.django_db
ASSEMBLE = "/api/v1/sessions/assemble/"


def main_of(response: Any) -> str:
    """What stands on the page; tokens of forms are random, and may hold any two letters."""
    main = " ".join(response.content.decode().split()).partition("<main")[2]
    return re.sub(r'name="csrfmiddlewaretoken" value="[^"]{1,100}"', "", main)


@pytest.fixture
def tonight(world: World) -> Any:
    """A session of under-tens, whose budget still has AU from before, and drills for them."""
    group = world.own.age_group
    group.under, group.years = 10, 1
    group.save()
    assert group.session_load_au
    for title, facts in DRILLS.items():
        ages = {"under_from": 8, "under_to": 10}
        shared_drill(owner=world.people.coach, **{**PLAIN, **ages, "title": title, **facts})
    return evening(world)


def typed(**changes: Any) -> dict[str, Any]:
    given = {"minutes": "75", "players": "10", "adults": "1", "length": "50", "width": "40"}
    return {**given, "part0": "arrival", "part1": "practice", "part2": "game", **changes}


def test_form_and_answer_say_nothing_in_au(world: World, tonight: Any) -> None:
    coach = signed_in(world.people.coach)
    form = main_of(coach.get(f"/sessions/{tonight.public_id}/propose/"))
    assert "AU" not in form
    assert 'name="load"' not in form
    assert 'name="hardest"' in form
    asked = coach.post(f"/sessions/{tonight.public_id}/propose/", typed(load="40"))
    assert asked.status_code == 302
    actions.work_out_proposal(public_id=asked["Location"].rstrip("/").rpartition("/")[2])
    answer = main_of(coach.get(asked["Location"]))
    assert "Use this session" in answer  # and 40 limited nothing
    assert "AU" not in answer


def test_what_clashes_is_said_without_au(world: World, tonight: Any) -> None:
    row = worked_out(world, tonight, hardest=0.0)
    page = main_of(
        signed_in(world.people.coach).get(f"/sessions/{tonight.public_id}/propose/{row.public_id}/")
    )
    assert "No part may be harder than 0 of 10." in page
    assert "AU" not in page


def test_the_api_refuses_a_limit_in_au_and_answers_none(world: World, tonight: Any) -> None:
    coach = client_of(world.people.coach)
    body = {"session": str(tonight.public_id), "parts": [{"kind": "practice"}]}
    refused = coach.post(ASSEMBLE, {**body, "load_au": 100}, format="json")
    assert (refused.status_code, set(pointers(refused))) == (400, {"/load_au"})
    assert "looked after by minutes and days, not by load" in refused.content.decode()
    asked = coach.post(ASSEMBLE, {**body, "load_au": None}, format="json")
    actions.work_out_proposal(public_id=asked.json()["id"])
    best = coach.get(f"/api/v1/proposals/{asked.json()['id']}/").json()["best"]
    assert [best["load_au"], *(each["load_au"] for each in best["parts"])] == [None, None]


def test_from_u11_on_all_of_them_say_it(world: World, tonight: Any) -> None:
    world.own.age_group.under = 11
    world.own.age_group.save()
    tonight.refresh_from_db()
    assert wish_for(tonight).by_load
    form = main_of(signed_in(world.people.coach).get(f"/sessions/{tonight.public_id}/propose/"))
    assert "Load at most, AU" in form


def test_a_drill_for_the_youngest_has_no_load(world: World, tonight: Any) -> None:
    from drills.models import Drill

    coach = signed_in(world.people.coach)
    young = Drill.objects.get(title="Chain Tag")
    older = shared_drill(owner=world.people.coach, **{**PLAIN, "title": "Rope Walk", "under_from": 10})
    assert "AU" not in main_of(coach.get(f"/library/{young.public_id}/"))
    assert "AU" in main_of(coach.get(f"/library/{older.public_id}/"))


def test_the_page_of_the_age_group_says_what_it_goes_by(world: World, tonight: Any) -> None:
    page = main_of(signed_in(world.people.director).get(f"/club/age-groups/{world.own.age_group.public_id}/"))
    assert "looked after by minutes and days, not by load" in page
    assert ">AU<" not in page
