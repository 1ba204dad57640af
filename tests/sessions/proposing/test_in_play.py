"""Nobody came to watch: floors of players in play hold in a proposal, and the answer says who would wait."""

from typing import Any

import pytest

from sessions.planning.reasons import reason_from
from sessions.proposals.wish import KeptPart, WishedPart
from tests.factories_sessions import part_input, shared_drill
from tests.people import World
from tests.sessions.proposing.evening import PLAIN, clash_of, evening, library, set_up, titles, worked_out

pytestmark = pytest.mark.django_db


def kept(session: Any) -> WishedPart:
    return WishedPart(kind="practice", kept=KeptPart(part=str(session.parts.all()[0].public_id)))


def said(row: Any) -> list[tuple[str, list[str]]]:
    reasons = [reason_from(each) for each in row.result["reasons"]]
    return [(each.text, [other.text for other in each.clears]) for each in reasons]


def test_a_part_that_is_kept_as_written_while_half_would_wait_is_named_with_what_clears_it(
    world: World,
) -> None:
    made = library(world)
    session = evening(world, parts=[part_input(drill=made["Lamp Keepers"])])
    parts = (kept(session), WishedPart(kind="practice"))
    row = worked_out(world, session, parts=parts)
    assert clash_of(row) == {"in_play", "pin:1"}
    assert said(row) == [
        (
            "5 of 10 would wait in part 1.",
            ["Set part 1 up for your 10, or have it chosen again."],
        ),
        ("Part 1 stays.", ["Without this alone there is a session."]),
    ]
    session = set_up(world, session)
    assert titles(worked_out(world, session, parts=(kept(session), WishedPart(kind="practice")))) == [
        "Lamp Keepers",
        "Lamp Thieves",
    ]


def test_a_part_that_was_set_up_for_fewer_counts_as_what_it_is(world: World) -> None:
    made = library(world)
    session = evening(world, parts=[part_input(drill=made["Lamp Keepers"])])
    session = set_up(world, session, players=6)  # four are left over
    row = worked_out(world, session, parts=(kept(session), WishedPart(kind="practice")))
    assert clash_of(row) == {"in_play", "pin:1"}
    assert said(row)[0][0] == "4 of 10 would wait in part 1."


def test_where_every_drill_would_let_most_wait_the_floor_is_what_clashes(world: World) -> None:
    facts = {**PLAIN, "title": "Six at most", "activity": "possession", "format": "3v3"}
    numbers = {"kind": "range", "least": 4, "most": 6}
    shared_drill(owner=world.people.coach, **facts, numbers=numbers)
    row = worked_out(world, evening(world), players=40, parts=(WishedPart(kind="practice"),))
    assert clash_of(row) == {"in_play"}
    assert said(row) == [
        (
            "34 of 40 would wait in part 1.",
            ["Another drill, a second station or more room would take them in."],
        )
    ]


def test_what_a_queue_plans_is_not_waiting(world: World) -> None:
    facts = {**PLAIN, "title": "One against one", "activity": "duel", "format": "1v1"}
    shared_drill(owner=world.people.coach, **facts)
    row = worked_out(world, evening(world), players=10, adults=2, parts=(WishedPart(kind="practice"),))
    assert titles(row) == ["One against one"]
