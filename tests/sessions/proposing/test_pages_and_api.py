"""The pages and the API of a proposal: ask, follow, stop, ask again, take over."""

from datetime import timedelta
from typing import Any

import pytest
from rest_framework.test import APIClient

from club.queries import today
from sessions import queries
from sessions.models import Computation
from sessions.proposals import actions
from tests.factories_sessions import planned_session
from tests.people import World, signed_in
from tests.sessions.api.test_sessions_api import client_of, pointers
from tests.sessions.proposing.evening import evening, library, titles, worked_out

pytestmark = pytest.mark.django_db
ASSEMBLE = "/api/v1/sessions/assemble/"


def page_of(session: Any) -> str:
    return f"/sessions/{session.public_id}/propose/"


def typed(**changes: Any) -> dict[str, Any]:
    given = {
        "minutes": "75",
        "players": "10",
        "adults": "1",
        "length": "50",
        "width": "40",
        "part0": "arrival",
        "part1": "practice",
        "part2": "game",
    }
    return {**given, **changes}


def words(response: Any) -> str:
    return " ".join(response.content.decode().split())


def test_a_coach_asks_waits_looks_keeps_one_refuses_one_and_takes_it(world: World) -> None:
    made, session = library(world), evening(world)
    coach = signed_in(world.people.coach)
    assert "What have you got tonight?" in words(coach.get(page_of(session)))
    asked = coach.post(page_of(session), typed())
    row = Computation.objects.get()
    assert (asked.status_code, asked["Location"]) == (302, f"{page_of(session)}{row.public_id}/")
    waiting = coach.get(asked["Location"])
    assert "Waiting for its turn" in words(waiting)
    assert '<noscript><meta http-equiv="refresh"' in words(waiting)
    actions.work_out_proposal(public_id=str(row.public_id))
    done = words(coach.get(asked["Location"], headers={"HX-Request": "true"}))
    assert "Lamp Keepers" in done
    assert "hx-get" not in done
    assert "Best possible under these limits: proven over the 5 drills" in done

    refuse = str(made["Lamp Keepers"].public_id)
    again = coach.post(f"{asked['Location']}again/", {"keep": ["1"], "refuse": [refuse]})
    second = Computation.objects.exclude(pk=row.pk).get()
    actions.work_out_proposal(public_id=str(second.public_id))
    second.refresh_from_db()
    assert titles(second)[1] == "Lamp Thieves"
    assert second.result["session"]["parts"][0]["pinned"]
    taken = coach.post(f"{again['Location']}take/", {"version": session.version, "which": "0"})
    assert taken["Location"] == f"/sessions/{session.public_id}/"
    assert [part.title for part in queries.session_view(queries.session_by_id(session.public_id)).parts] == (
        titles(second)
    )


def test_the_best_of_a_short_time_says_no_percentage_that_nobody_knows(world: World) -> None:
    library(world)
    session = evening(world)
    row = worked_out(world, session)
    for gap, said in (
        (None, "Best found in the time there was; others may be better."),
        (0.021, "Best found, at most 2.1 % better possible."),
    ):
        row.result = {**row.result, "proven": False, "gap": gap}
        row.save()
        page = words(signed_in(world.people.coach).get(f"{page_of(session)}{row.public_id}/"))
        assert said in page
        assert ("A better one could score 2.1 % more at most." in page) is (gap is not None)
        told = client_of(world.people.coach).get(f"/api/v1/proposals/{row.public_id}/").json()
        assert told["gap"] == gap


def test_what_clashes_is_said_in_words_with_what_would_clear_it(world: World) -> None:
    library(world)
    session = evening(world)
    row = worked_out(world, session, load_au=0)
    page = words(signed_in(world.people.coach).get(f"{page_of(session)}{row.public_id}/"))
    assert "A load of 0 AU at most." in page
    assert "AU: raise the limit, or shorten the session." in page


def test_what_can_not_be_read_stays_typed(world: World) -> None:
    response = signed_in(world.people.coach).post(page_of(evening(world)), typed(players="many", width="0"))
    assert "A whole number, please" in words(response)
    assert not Computation.objects.exists()


def test_a_worker_that_went_quiet_is_said_so_instead_of_spinning_on(world: World) -> None:
    from django.utils import timezone

    session = evening(world)
    row = worked_out(world, session)
    long_ago = timezone.now() - timezone.timedelta(minutes=2)
    Computation.objects.filter(pk=row.pk).update(state="working", seen_at=long_ago)
    coach = signed_in(world.people.coach)
    assert "The worker has gone quiet." in words(coach.get(f"{page_of(session)}{row.public_id}/"))
    Computation.objects.filter(pk=row.pk).update(seen_at=long_ago - timezone.timedelta(minutes=5))
    assert actions.give_up_lost_proposals() == 1
    assert "It could not be worked out" in words(coach.get(f"{page_of(session)}{row.public_id}/"))


def test_old_proposals_are_thrown_away_once_their_evening_is_over(world: World) -> None:
    from django.utils import timezone

    weeks_ago, today_ = evening(world, day=today() - timedelta(days=8)), planned_session(place=world.own)
    made = {"owner": world.people.coach, "age_group": world.own.age_group, "request": {}, "state": "done"}
    rows = [Computation.objects.create(session=each, **made) for each in (weeks_ago, today_, None)]
    assert actions.sweep_proposals() == 0
    Computation.objects.update(made_at=timezone.now() - timedelta(days=8))
    assert actions.sweep_proposals() == 2
    assert Computation.objects.get() == rows[1]


def test_the_api_asks_once_follows_stops_and_takes_over(world: World) -> None:
    library(world)
    session = evening(world)
    coach: APIClient = client_of(world.people.coach)
    body = {"session": str(session.public_id), "themes": ["keep-the-ball"], "parts": [{"kind": "practice"}]}
    once = {"HTTP_IDEMPOTENCY_KEY": "evening"}
    asked = coach.post(ASSEMBLE, body, format="json", **once)
    assert asked.status_code == 202
    assert coach.post(ASSEMBLE, body, format="json", **once).json() == asked.json()
    address = asked["Location"].removeprefix("http://testserver")
    assert address == f"/api/v1/proposals/{asked.json()['id']}/"
    assert coach.get(address).json()["state"] == "waiting"
    actions.work_out_proposal(public_id=asked.json()["id"])
    done = coach.get(address).json()
    assert (done["state"], done["proven"], done["clash"]) == ("done", True, [])
    assert [part["title"] for part in done["best"]["parts"]] == ["Lamp Keepers"]
    assert coach.post(f"{address}cancel/").json()["state"] == "done"
    assert coach.post(f"{address}take/", {}, format="json").status_code == 428
    version = {"HTTP_IF_MATCH": f'"v{session.version}"'}
    taken = coach.post(f"{address}take/", {}, format="json", **version)
    assert [part["title"] for part in taken.json()["parts"]] == [""]
    assert taken.json()["parts"][0]["stations"][0]["title"] == "Lamp Keepers"
    assert coach.post(f"{address}take/", {}, format="json", **version).status_code == 412


def test_the_api_needs_no_session_but_then_the_numbers(world: World) -> None:
    library(world)
    coach = client_of(world.people.coach)
    refused = coach.post(ASSEMBLE, {"minutes": 75}, format="json")
    assert refused.status_code == 400
    assert refused["Content-Type"] == "application/problem+json"
    assert set(pointers(refused)) == {"/players", "/length", "/width", "/age_group"}
    body = {"age_group": str(world.own.age_group.public_id), "minutes": 75, "players": 10}
    asked = coach.post(ASSEMBLE, {**body, "length": 50, "width": 40}, format="json")
    assert (asked.status_code, asked.json()["session"]) == (202, None)
    actions.work_out_proposal(public_id=asked.json()["id"])
    assert len(coach.get(asked["Location"]).json()["best"]["parts"]) == 3
    wrong = coach.post(ASSEMBLE, {**body, "length": 50, "width": 40, "themes": ["tea"]}, format="json")
    assert pointers(wrong) == {"/themes/0": "There is no such theme."}


def test_a_session_of_another_age_group_is_not_put_together(world: World) -> None:
    session = evening(world)
    colleague = client_of(world.people.colleague)
    assert colleague.post(ASSEMBLE, {"session": str(session.public_id)}, format="json").status_code == 404
