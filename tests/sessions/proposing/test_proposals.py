"""Proposals from the library's rows: what comes out, what stands in the way, and what is done with it."""

from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone

from club.errors import Clash, Refused, Stale
from club.queries import actor_of, today
from drills import actions as drills
from sessions import queries
from sessions.models import Computation
from sessions.planning.reasons import reason_from
from sessions.proposals import actions
from sessions.proposals.actions.solving import _begin
from sessions.proposals.queries import Shelf
from sessions.proposals.wish import KeptPart, WishedPart
from tests.factories import BibStockFactory, KitStockFactory, ZoneFactory
from tests.factories_sessions import part_input, planned_session
from tests.people import World
from tests.sessions.proposing.evening import (
    asked,
    clash_of,
    evening,
    library,
    set_up,
    titles,
    wished,
    worked_out,
)
from tests.sessions.set_ups import setup_of

pytestmark = pytest.mark.django_db


def said(row: Computation) -> list[str]:
    return [reason_from(each).text for each in row.result["reasons"]]


def test_a_session_is_put_together_with_reasons_inside_its_limits(world: World) -> None:
    library(world)
    row = worked_out(world, evening(world))
    found = row.result["session"]
    assert titles(row) == ["Hello Square", "Lamp Keepers", "Harbour Run"]
    assert found["minutes"] <= 75
    assert [part["numbers"] for part in found["parts"]] == ["2 × 4v1", "2 × 4v1", "5v5"]
    assert row.result["proven"]
    codes = {reason["code"] for reason in found["parts"][1]["reasons"]}
    assert {"part_theme", "part_runs", "part_playing"} <= codes


def test_it_is_read_in_a_handful_of_queries_whatever_the_library(
    world: World, django_assert_num_queries: Any
) -> None:
    made = library(world)
    session = evening(world)
    shelf = Shelf(actor_of(world.people.coach), wished(session), (12, 12), session)
    # the rungs that run tonight, what the squad played last, and how drills went
    with django_assert_num_queries(3):
        assert len(shelf.fitted()) == len(made)
    few = Shelf(actor_of(world.people.coach), wished(session, players=3), (12, 12))
    assert few.fitted() == ()
    with django_assert_num_queries(2):  # all rungs, and the rooms of those that do not run
        assert len(few.all()) == len(made)


def test_the_same_wish_is_worked_out_once_and_another_one_takes_its_place(world: World) -> None:
    session = evening(world)
    first = asked(world, session)
    assert asked(world, session).pk == first.pk
    with pytest.raises(Clash, match="another suggestion open") as clash:
        asked(world, session, players=11)
    assert clash.value.other == str(first.public_id)
    second = asked(world, session, instead=True, players=11)
    first.refresh_from_db()
    assert (first.state, second.state) == ("cancelled", "waiting")
    # The turn that the first one brought is the second one's; the second's own finds nothing left.
    assert actions.work_out_proposal(public_id=str(first.public_id)) == "done"
    assert actions.work_out_proposal(public_id=str(second.public_id)) == "nothing to do"
    first.refresh_from_db()
    assert first.state == "cancelled"


def test_one_that_waits_is_called_off_at_once(world: World) -> None:
    row = asked(world, evening(world))
    assert actions.stop_proposal(computation=row).state == "cancelled"


def test_a_worker_that_lives_is_left_alone_and_a_dead_one_is_followed_three_times(world: World) -> None:
    row = asked(world, evening(world))
    alive = {"state": "working", "seen_at": timezone.now()}
    Computation.objects.filter(pk=row.pk).update(**alive, tries=1)
    assert actions.work_out_proposal(public_id=str(row.public_id)) == "nothing to do"
    long_ago = timezone.now() - timezone.timedelta(minutes=1)
    Computation.objects.filter(pk=row.pk).update(seen_at=long_ago)
    assert actions.work_out_proposal(public_id=str(row.public_id)) == "done"
    Computation.objects.filter(pk=row.pk).update(state="working", seen_at=long_ago, tries=3)
    assert actions.work_out_proposal(public_id=str(row.public_id)) == "nothing to do"
    row.refresh_from_db()
    assert row.state == "failed"


# --- what can't be done ----------------------------------------------------------------------------------------------


def test_an_empty_library_says_which_parts_nothing_suits(world: World) -> None:
    row = worked_out(world, evening(world))
    assert clash_of(row) == {"part:1"}
    assert said(row)[0].startswith("Nothing in the library suits part 1 (arrival)")
    assert len(said(row)) == 3


@pytest.mark.parametrize(
    ("changes", "clash", "text"),
    [
        ({"players": 3}, {"turn_out"}, "3 players are there."),
        ({"minutes": 5}, {"minutes"}, "5 min are there."),
        ({"load_au": 0}, {"load"}, "A load of 0 AU at most."),
        ({"length": 3, "width": 2}, {"space"}, "3 × 2 m are free."),
        ({"hardest": 1}, {"hardest"}, "No part may be harder than 1 of 10."),
    ],
)
def test_a_limit_that_nothing_keeps_is_named_with_what_would_clear_it(
    world: World, changes: dict[str, Any], clash: set[str], text: str
) -> None:
    library(world)
    row = worked_out(world, evening(world), **changes)
    assert clash_of(row) == clash
    assert said(row) == [text]
    assert row.result["reasons"][0]["clears"]


def test_kit_that_is_not_there_is_named(world: World) -> None:
    library(world)
    KitStockFactory(kind="balls", count=1)
    BibStockFactory(colour="red", count=10)
    row = worked_out(world, evening(world))
    assert clash_of(row) == {"kit:balls"}


def test_parts_that_keep_the_same_drill_clash(world: World) -> None:
    drill = str(library(world)["Lamp Keepers"].public_id)
    same = tuple(WishedPart(kind="practice", drill=drill, rung="") for _ in range(2))
    row = worked_out(world, evening(world), parts=same)
    assert clash_of(row) == {"once", "pin:1", "pin:2"}


def test_a_drill_that_was_retired_meanwhile_is_said_to_be_gone(world: World) -> None:
    drill = library(world)["Lamp Keepers"]
    drills.retire_drill(actor=actor_of(world.people.director), public_id=drill.public_id)
    parts = (WishedPart(kind="practice", drill=str(drill.public_id), rung=""), WishedPart(kind="game"))
    row = worked_out(world, evening(world), parts=parts)
    assert clash_of(row) == {"pin:1"}
    assert said(row) == ["The drill of part 1 is not in the library any more, or not for this age."]


def test_what_can_not_be_asked_is_refused_beside_its_field(world: World) -> None:
    with pytest.raises(Refused) as refused:
        asked(world, evening(world), players=0, parts=())
    assert {problem.field for problem in refused.value.problems} == {"players", "parts"}


# --- taking it over --------------------------------------------------------------------------------------------------


def test_a_proposal_becomes_the_parts_with_tonights_numbers(world: World) -> None:
    made = library(world)
    session = evening(world)
    row = worked_out(world, session)
    actions.apply_proposal(
        actor=actor_of(world.people.coach), session=session, version=session.version, computation=row
    )
    page = queries.session_view(queries.session_by_id(session.public_id))
    assert [part.title for part in page.parts] == ["Hello Square", "Lamp Keepers", "Harbour Run"]
    assert page.plan.used_minutes == row.result["session"]["minutes"]
    numbers = {part.first.setup.numbers for part in page.parts if part.first and part.first.setup}
    assert numbers == {"2 × 4v1", "5v5"}
    assert not any(station.setup_is_stale for part in page.parts for station in part.stations)
    assert not [each for each in page.all_reasons if each.code.startswith("bouts_longer")]
    with pytest.raises(Stale):
        actions.apply_proposal(
            actor=actor_of(world.people.coach), session=session, version=session.version, computation=row
        )
    drills.retire_drill(actor=actor_of(world.people.director), public_id=made["Harbour Run"].public_id)
    again = queries.session_by_id(session.public_id)
    with pytest.raises(Refused, match=r"Harbour Run.*not in the library any more"):
        actions.apply_proposal(
            actor=actor_of(world.people.coach), session=again, version=again.version, computation=row
        )


def test_parts_that_stay_are_kept_with_their_minutes_and_nothing_repeats_them(world: World) -> None:
    made = library(world)
    session = evening(world, parts=[part_input(drill=made["Lamp Keepers"], minutes=21)])
    session = set_up(world, session)
    stays = WishedPart(kind="practice", kept=KeptPart(part=str(session.parts.all()[0].public_id)))
    row = worked_out(world, session, parts=(stays, WishedPart(kind="practice"), WishedPart(kind="game")))
    assert titles(row) == ["Lamp Keepers", "Lamp Thieves", "Harbour Run"]
    assert row.result["session"]["parts"][0]["minutes"] == 21
    actions.apply_proposal(
        actor=actor_of(world.people.coach), session=session, version=session.version, computation=row
    )
    rows = list(queries.session_by_id(session.public_id).parts.all())
    assert setup_of(rows[0].stations.all()[0]).numbers == "2 × 4v1"
    assert rows[0].public_id == session.parts.all()[0].public_id
    assert (rows[0].minutes, rows[0].bouts) == (21, 4)


def test_drills_that_are_refused_do_not_come_back(world: World) -> None:
    made = library(world)
    row = worked_out(world, evening(world), banned=(str(made["Lamp Keepers"].public_id),))
    assert titles(row)[1] == "Lamp Thieves"


def test_last_weeks_drill_comes_back_one_rung_up(world: World) -> None:
    from datetime import timedelta

    from club.queries import today
    from tests.factories_sessions import planned_session, shared_drill
    from tests.sessions.proposing.evening import HARDER, PLAIN

    library(world)
    facts = {**PLAIN, "title": "Wide Lamp", "activity": "possession", "themes": [], "variations": HARDER}
    drill = shared_drill(owner=world.people.coach, **facts)
    planned_session(
        place=world.own,
        by=world.people.coach,
        day=today() - timedelta(days=7),
        parts=[part_input(drill=drill)],
    )
    row = worked_out(world, evening(world), themes=(), parts=(WishedPart(kind="practice"),))
    again = [part for part in row.result["session"]["parts"] if part["drill"] == str(drill.public_id)]
    assert [(part["rung"], part["reasons"][0]["code"]) for part in again] == [("two", "part_one_rung_up")]


def test_the_turn_of_a_search_that_was_called_off_goes_to_the_next(world: World) -> None:
    library(world)
    off = asked(world, evening(world))
    later = planned_session(
        place=world.own,
        by=world.people.coach,
        day=today() + timedelta(days=1),
        players_expected=10,
        zones=[ZoneFactory()],
    )
    following = asked(world, later, by=world.people.director)
    Computation.objects.filter(pk=off.pk).update(wants_stop=True)
    taken = _begin(str(off.public_id))
    assert taken is not None
    assert taken.pk == following.pk
    off.refresh_from_db()
    assert off.state == "cancelled"
