"""Whose turn it is: one open for each person, a budget for each, and whoever has used least lately goes first."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from django.utils import timezone

from club.errors import Clash
from club.queries import actor_of
from sessions.models import Computation
from sessions.proposals import actions
from sessions.proposals.actions import solving as work
from sessions.proposals.actions.solving import _begin, _Desk, _finish, work_out_proposal
from sessions.proposals.queries import BUDGET_S, is_quiet, turn_of
from tests.factories import ZoneFactory
from tests.factories_sessions import planned_session
from tests.people import World, signed_in
from tests.sessions.api.test_sessions_api import client_of
from tests.sessions.proposing.evening import asked, evening, library, wished
from tests.sessions.proposing.test_pages_and_api import ASSEMBLE, page_of, typed, words

pytestmark = pytest.mark.django_db
SECRET_PLACE = "/api/v1/proposals/"


@pytest.fixture
def turns(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Who was worked for, turn by turn. Nothing is worked out: each takes its whole budget at once."""
    taken: list[str] = []

    def answer(row: Computation, desk: Any) -> dict[str, Any]:
        taken.append(row.owner.name)
        desk.began -= BUDGET_S
        return {}

    @contextmanager
    def alone(row: Computation, desk: Any) -> Iterator[None]:
        yield

    monkeypatch.setattr(work, "_answer", answer)
    monkeypatch.setattr(work, "_kept_up_to_date", alone)
    return taken


def test_somebodys_many_heavy_ones_hold_up_a_colleague_for_one_turn_at_most(
    world: World, turns: list[str]
) -> None:
    """Five askings of one coach, each stopping the one before, and then one of another coach."""
    heavy, light = evening(world), planned_session(place=world.colleague, zones=[ZoneFactory()])
    jobs = [asked(world, heavy, players=10)]
    assert work_out_proposal(public_id=str(jobs[0].public_id)) == "done"  # the one that is worked on
    jobs += [asked(world, heavy, instead=True, players=players) for players in (11, 12, 13, 14)]
    late = asked(world, light, by=world.people.colleague)
    jobs.append(late)
    turn = turn_of(late)
    assert turn is not None
    assert turn.before == 0  # asked for last, and next
    for job in jobs[1:]:
        work_out_proposal(public_id=str(job.public_id))
    assert turns == ["Carl Coach", "Cleo Colleague", "Carl Coach"]
    assert [row.state for row in Computation.objects.order_by("pk")] == [
        *("done", "cancelled", "cancelled", "cancelled", "done", "done")
    ]
    assert turn_of(late) == turn  # as it was read; as it is now:
    late.refresh_from_db()
    assert turn_of(late) is None


def test_stopping_and_asking_again_earns_no_turn(world: World, turns: list[str]) -> None:
    heavy, light = evening(world), planned_session(place=world.colleague, zones=[ZoneFactory()])
    first = asked(world, heavy)
    taken = _begin(str(first.public_id))
    assert taken is not None
    second = asked(world, heavy, instead=True, players=11)  # while the first is worked on
    late = asked(world, light, by=world.people.colleague)
    desk = _Desk()
    desk.began -= 3
    assert _finish(taken, {}, desk) == "lost"
    first.refresh_from_db()
    assert (first.state, round(first.used_s)) == ("cancelled", 3)
    for job in (second, late):
        work_out_proposal(public_id=str(job.public_id))
    assert turns == ["Cleo Colleague", "Carl Coach"]


def test_what_was_used_an_hour_ago_counts_no_more(world: World, turns: list[str]) -> None:
    heavy, light = evening(world), planned_session(place=world.colleague, zones=[ZoneFactory()])
    asked(world, heavy)
    work_out_proposal(public_id="00000000-0000-0000-0000-000000000000")
    Computation.objects.update(made_at=timezone.now() - timezone.timedelta(hours=2))
    asked(world, heavy, players=11)
    late = asked(world, light, by=world.people.colleague)
    work_out_proposal(public_id=str(late.public_id))
    assert turns == ["Carl Coach", "Carl Coach"]


def test_a_killed_workers_proposal_takes_its_turn_again_and_nobody_elses(
    world: World, turns: list[str]
) -> None:
    heavy, light = evening(world), planned_session(place=world.colleague, zones=[ZoneFactory()])
    first, late = asked(world, heavy), asked(world, light, by=world.people.colleague)
    assert _begin(str(first.public_id)) is not None
    long_ago = timezone.now() - timezone.timedelta(minutes=1)
    Computation.objects.filter(pk=first.pk).update(seen_at=long_ago, used_s=5)
    # The colleague's turn does not wait until the dead one is found, and the found one brings one turn, not two.
    for job in (late, first, late):
        work_out_proposal(public_id=str(job.public_id))
    assert turns == ["Cleo Colleague", "Carl Coach"]
    first.refresh_from_db()
    assert (first.state, first.tries, round(first.used_s)) == ("done", 2, 5 + round(BUDGET_S))


def test_the_wait_is_what_the_last_ones_took(world: World, turns: list[str]) -> None:
    heavy, light = evening(world), planned_session(place=world.colleague, zones=[ZoneFactory()])
    done = {"owner": world.people.director, "age_group": world.own.age_group, "request": {}, "state": "done"}
    Computation.objects.create(used_s=4, done_at=timezone.now(), **done)
    first = asked(world, heavy)
    assert turn_of(first) == work_turn(0, 0)
    late = asked(world, light, by=world.people.colleague)
    assert turn_of(late) == work_turn(1, 4)
    Computation.objects.filter(pk=first.pk).update(state="working", seen_at=timezone.now(), used_s=1)
    assert turn_of(late) == work_turn(1, 3)
    Computation.objects.update(used_s=900, made_at=timezone.now() - timezone.timedelta(hours=1))
    assert turn_of(late) == work_turn(1, 1)  # whoever is worked on is nearly through by now
    long_ago = timezone.now() - timezone.timedelta(minutes=5)
    Computation.objects.update(seen_at=timezone.now())
    assert not is_quiet(Computation(state="waiting", made_at=long_ago))  # it waits for those
    Computation.objects.update(seen_at=long_ago)
    assert is_quiet(Computation(state="waiting", made_at=long_ago))


def work_turn(before: int, wait_s: int) -> Any:
    from sessions.proposals.queries import QueuePlace

    return QueuePlace(before, wait_s)


def test_the_budget_ends_a_search_with_what_it_has(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    library(world)
    row = asked(world, evening(world))
    monkeypatch.setattr(work, "BUDGET_S", 0.0)
    assert work_out_proposal(public_id=str(row.public_id)) == "done"
    row.refresh_from_db()
    assert not row.result["proven"]
    assert row.result["left_out"]


# --- on the page and over the API -----------------------------------------------------------------------------------


def test_the_page_says_how_many_go_first_and_for_how_long(world: World) -> None:
    heavy, light = evening(world), planned_session(place=world.colleague, zones=[ZoneFactory()])
    asked(world, heavy)
    late = asked(world, light, by=world.people.colleague)
    page = words(signed_in(world.people.colleague).get(f"{page_of(light)}{late.public_id}/"))
    assert "One other goes first: about 20 seconds to wait." in page
    answer = client_of(world.people.colleague).get(f"{SECRET_PLACE}{late.public_id}/").json()
    assert (answer["state"], answer["before"], answer["wait_s"]) == ("waiting", 1, 20)


def test_where_one_is_open_the_form_offers_to_show_it_or_to_go_on(world: World) -> None:
    session = evening(world)
    first = asked(world, session)
    coach = signed_in(world.people.coach)
    response = coach.post(page_of(session), typed(players="11"))
    page = words(response)
    assert response.status_code == 409
    assert "You have another suggestion open." in page
    assert f'href="{page_of(session)}{first.public_id}/"' in page
    assert 'value="11"' in page  # nothing typed is lost
    response = coach.post(page_of(session), typed(players="11", instead="1"))
    assert response.status_code == 302
    first.refresh_from_db()
    assert first.state == "cancelled"
    assert Computation.objects.filter(state="waiting").count() == 1


def test_the_same_once_more_meets_an_open_one_with_its_ticks_kept(world: World) -> None:
    made, session = library(world), evening(world)
    done = asked(world, session)
    work_out_proposal(public_id=str(done.public_id))
    asked(world, session, players=11)
    refuse = str(made["Lamp Keepers"].public_id)
    response = signed_in(world.people.coach).post(
        f"{page_of(session)}{done.public_id}/again/", {"keep": ["1"], "refuse": [refuse]}
    )
    page = words(response)
    assert response.status_code == 409
    assert f'action="{page_of(session)}?from={done.public_id}"' in page
    assert refuse in page


def test_the_api_answers_409_with_the_address_of_the_open_one(world: World) -> None:
    library(world)
    session = evening(world)
    first = asked(world, session)
    coach = client_of(world.people.coach)
    body = {"session": str(session.public_id), "players": 11}
    key = {"headers": {"Idempotency-Key": "tonight"}}
    refused = coach.post(ASSEMBLE, body, format="json", **key)
    assert (refused.status_code, refused["Content-Type"]) == (409, "application/problem+json")
    assert refused.json()["proposal"] == f"http://testserver{SECRET_PLACE}{first.public_id}/"
    assert refused.json()["detail"] == "You have another suggestion open. Stop it, or look at it first."
    assert coach.post(refused.json()["proposal"] + "cancel/").json()["state"] == "cancelled"
    # The refusal was not kept under its key: the same request is taken now.
    asked_ = coach.post(ASSEMBLE, body, format="json", **key)
    assert asked_.status_code == 202
    again = coach.post(ASSEMBLE, {**body, "players": 12, "instead": True}, format="json")
    assert again.status_code == 202
    assert coach.get(asked_["Location"]).json()["state"] == "cancelled"


def test_the_same_wish_for_another_session_is_another_one(world: World) -> None:
    session, other = evening(world), planned_session(place=world.own)
    first, wish = asked(world, session), wished(session)
    with pytest.raises(Clash) as clash:
        actions.ask_for_proposal(actor=actor_of(world.people.coach), wish=wish, session=other)
    assert clash.value.other == str(first.public_id)
