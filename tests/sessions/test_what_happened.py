"""What happened, on the page, in the API and on paper: one value, and the figures that the week counts."""

from datetime import timedelta
from typing import Any

import pytest
from django.test import Client

from club import queries as club
from sessions import queries
from sessions.models import LedgerEntry, TrainingSession
from sessions.pages.happened import WhatHappened, what_happened
from sessions.pages.sheet.session import session_sheet
from tests.people import signed_in
from tests.sessions.pitch.evening import Evening, make_evening, put_drills

pytestmark = pytest.mark.django_db


@pytest.fixture
def evening(world: Any) -> Evening:
    return make_evening(world, place=world.own)


def run(evening: Evening) -> TrainingSession:
    """A whole evening: one late, one with limits, one away; a part cut short, a note, a rating."""
    ada, bo, cy = evening.players
    first, second = evening.parts
    evening.append(
        evening.event("arrived", 0, player=ada),
        evening.event("late", 12, player=bo),
        evening.event("limited", 1, player=ada, limits=["no_heading"]),
        evening.event("absent", 2, player=cy),
        evening.event("trialist", 3, number=1),
        evening.event("part_started", 0, part=first),
        evening.event("next_part", 10, part=second),
        evening.event("bout_dropped", 11, part=second),
        evening.event("part_ended", 32, part=second),
        evening.event("note", 40, text="The grid was too long.", part=second),
        evening.event("effort", 41, cr10=7),
        evening.event("shortened", 42, minutes=45),
    )
    return queries.session_by_id(evening.session.public_id)


def value(session: TrainingSession) -> WhatHappened:
    found = what_happened(queries.session_view(session), with_names=True)
    assert found is not None
    return found


def test_who_came_what_was_run_and_what_it_cost(evening: Evening) -> None:
    done = value(run(evening))
    assert (done.came, done.expected, done.trialists) == (3, 12, 1)
    assert sorted((each.state, each.limited, round(each.minutes)) for each in done.players) == [
        ("absent", False, 0), ("here", True, 45), ("late", False, 33),
    ]  # fmt: skip
    assert [(part.account.how, part.account.minutes, part.account.bouts) for part in done.parts] == [
        ("clock", 10, 2),
        ("clock", 22, 1),
    ]
    assert [each.text for each in done.reasons] == [
        "3 came; 12 were expected.",
        "It took 45 of 60 min.",
        "22 min; 40 planned.",
        "1 of 2 rounds.",
    ]
    assert (done.effort, done.load_au, done.outcome) == (7, 315, "as planned")
    assert done.why_load is not None
    assert done.why_load.text == "Effort 7 × 45 min: 315 AU; 272 were to be expected."
    assert [(each.text, each.part) for each in done.notes] == [("The grid was too long.", "Game")]


def test_page_api_paper_and_week_say_the_same(evening: Evening) -> None:
    session = run(evening)
    done = value(session)
    page = signed_in(evening.people.coach).get(f"/sessions/{session.public_id}/").content.decode()
    answer = signed_in(evening.people.coach).get(f"/api/v1/sessions/{session.public_id}/").json()["happened"]
    paper = session_sheet(session, link="/x").happened
    beside = {each.code for each in done.changes} - {each.code for each in done.told}
    for reason in done.reasons:
        assert reason.text in page or reason.code in beside
        assert reason.text in [each["text"] for each in answer["reasons"]]
        assert sum(line.count(reason.text) for line in paper) == 1
    assert sum(line.count("3 came") for line in paper) == 1
    assert [part.ended_at - part.started_at for part in done.parts] == [
        timedelta(minutes=part.account.minutes) for part in done.parts
    ]  # the clock and the minutes beside it are one spell
    entry = LedgerEntry.objects.get(session=session, player__isnull=True)
    assert (answer["load_au"], answer["headers"], answer["minutes"]) == (
        float(entry.load_au), entry.headers, float(entry.minutes),
    )  # fmt: skip
    assert sum(each["headers"] for each in answer["parts"]) == entry.headers
    names = [each["name"] for each in answer["players"]]
    assert len(names) == 3
    assert all(name in page for name in names)
    assert not any(name in line for name in names for line in paper)


def test_names_are_for_the_staff_of_the_age_group(evening: Evening) -> None:
    session = run(evening)
    done = value(session)
    for person in (evening.people.reader, evening.people.colleague):
        page = signed_in(person).get(f"/sessions/{session.public_id}/").content.decode()
        answer = signed_in(person).get(f"/api/v1/sessions/{session.public_id}/").json()["happened"]
        assert (answer["came"], answer["players"]) == (3, [])
        assert not any(each.name in page for each in done.players)


def test_nothing_has_happened_before_it_is_done(evening: Evening) -> None:
    evening.append(evening.event("part_started", 0, part=evening.parts[0]))
    session = queries.session_by_id(evening.session.public_id)
    assert what_happened(queries.session_view(session), with_names=True) is None
    assert (
        signed_in(evening.people.coach).get(f"/api/v1/sessions/{session.public_id}/").json()["happened"]
        is None
    )


def test_a_correction_afterwards_is_an_event_too(evening: Evening) -> None:
    run(evening)
    later = 5 * 60
    evening.append(
        evening.event("effort", later, cr10=4),
        evening.event("late", later, player=evening.players[2], minutes=20),
    )
    done = value(queries.session_by_id(evening.session.public_id))
    assert (done.effort, done.load_au, done.came) == (4, 180, 4)
    assert sorted(round(each.minutes) for each in done.players) == [25, 33, 45]


def test_what_was_removed_since_is_set_aside_and_said(evening: Evening) -> None:
    from sessions import actions

    session = evening.read()
    kept = [each for each in actions.parts_as_input(session) if str(each.public_id) == evening.parts[1]]
    actions.save_parts(
        actor=club.actor_of(evening.people.coach), session=session, version=session.version, parts=kept
    )
    evening.append(evening.event("part_started", 1, part=evening.parts[0]), evening.event("delivered", 60))
    done = value(queries.session_by_id(evening.session.public_id))
    assert "1 thing was recorded for a part that has been removed since: saved, not counted." in [
        each.text for each in done.changes
    ]


def test_a_variation_that_was_played_is_told_against_the_planned_one(evening: Evening) -> None:
    session = put_drills(evening, "all-aboard")
    (part,) = session.parts.all()
    station = part.stations.get()
    variation = next(
        iter(
            queries.station_of(
                queries.session_by_id(session.public_id), station.public_id
            ).drill.document.variations
        )
    )
    evening.append(
        evening.event("harder", 5, part=str(part.public_id), to=variation.key), evening.event("delivered", 60)
    )
    done = value(queries.session_by_id(session.public_id))
    assert f"Played as {variation.title}; planned as All Aboard." in [each.text for each in done.reasons]


def test_the_page_asks_a_few_queries_more_once_it_is_done(
    evening: Evening, django_assert_max_num_queries: Any
) -> None:
    client: Client = signed_in(evening.people.coach)
    address = f"/sessions/{evening.session.public_id}/"
    client.get(address)
    with django_assert_max_num_queries(100) as before:
        client.get(address)
    run(evening)
    client.get(address)
    with django_assert_max_num_queries(100) as after:
        client.get(address)
    assert len(after) - len(before) <= 4  # the entry, the register, the turns, and who has read the names
