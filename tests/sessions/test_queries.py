"""What the database works out agrees with what the pure package says."""

import uuid
from datetime import timedelta
from typing import Any

import pytest

from club import reading
from club.queries import actor_of, today
from sessions import actions, pages, queries
from sessions.models import LedgerEntry
from sessions.planning import load
from sessions.queries.ledger import factor_at_hand, ledger_rows
from tests.factories_sessions import part_input, planned_session, weekly_slot
from tests.people import World


def rated(world: World, days_ago: int, au: float) -> Any:
    """A session of long ago whose parts plan 92 AU (18 min at CR10 5, 2 min of changing over), and its rating."""
    made = planned_session(
        place=world.own, by=world.people.coach, day=today() - timedelta(days=days_ago), parts=[part_input()]
    )
    LedgerEntry.objects.create(
        squad=world.own.squad,
        session=made,
        day=made.day,
        kind="training",
        minutes=20,
        load_au=au,
        as_run_au=92,
    )
    return made


@pytest.fixture
def shifted(world: World) -> World:
    """A season long enough for sessions that have been."""
    from django.db.backends.postgresql.psycopg_any import DateRange

    world.season.period = DateRange(today() - timedelta(days=300), today() + timedelta(days=60))
    world.season.save()
    return world


def test_a_session_that_is_run_as_planned_stands_in_the_ledger_as_it_was_planned(shifted: World) -> None:
    made = rated(shifted, 3, 100)
    view = queries.session_view(queries.session_by_id(made.public_id))
    actions.append_events(
        actor=actor_of(shifted.people.coach),
        session=made,
        device="test",
        events=[{"id": str(uuid.uuid4()), "kind": "delivered", "at": f"{made.day}T19:00:00Z"}],
    )
    row = ledger_rows([shifted.own.squad.pk], made.day, made.day)[0]
    assert (row.as_run_au, row.load_au, row.is_estimated) == (92, 92, True)
    assert view.planned_au == 92


def test_the_squads_factor_is_the_same_by_both_ways(shifted: World) -> None:
    for index, au in enumerate((92, 101.2, 110.4, 119.6, 128.8)):
        rated(shifted, 30 - index, au)
    now = planned_session(place=shifted.own, by=shifted.people.coach, parts=[part_input()])
    assert factor_at_hand(now) == pytest.approx(1.2)
    assert queries.squad_factor(shifted.own.squad.pk, before=today()) == pytest.approx(1.2)
    assert queries.session_view(now).expected_au == pytest.approx(load.expected(92, 1.2))


def test_estimated_loads_and_other_squads_do_not_count_in_the_factor(shifted: World) -> None:
    for index in range(6):
        rated(shifted, 30 - index, 92)
    LedgerEntry.objects.update(is_estimated=True)
    now = planned_session(place=shifted.own)
    assert factor_at_hand(now) == 1.0
    assert factor_at_hand(planned_session(place=shifted.colleague)) == 1.0


def test_a_week_is_lighter_or_heavier_than_this_squads_own(shifted: World) -> None:
    monday = pages.monday_of(today())
    for weeks in (1, 2, 3):
        day = monday - timedelta(days=7 * weeks)
        LedgerEntry.objects.create(squad=shifted.own.squad, day=day, kind="match", minutes=60, load_au=400)
    LedgerEntry.objects.create(squad=shifted.own.squad, day=monday, kind="match", minutes=60, load_au=600)
    page = pages.squad_week_page(actor_of(shifted.people.coach), _squad(shifted), monday)
    assert (page.week.total_au, page.week.word) == (600, "heavier")


def _squad(world: World) -> Any:
    from club.queries import squad

    return squad(world.own.squad.public_id)


def test_a_slot_knows_the_age_group_of_its_squad_this_season(world: World) -> None:
    slot = weekly_slot(place=world.own, coaches=[world.people.coach])
    assert slot.age_group_id == world.own.age_group.pk
    assert [each["name"] for each in slot.coach_rows] == ["Carl Coach"]
    found = queries.slots_of(today(), today(), age_group_ids=[world.foreign.age_group.pk])
    assert list(found) == []


@pytest.mark.parametrize("text", ["0001-W01", "9999-W52", "2026-W54", "2026-48", "", "W48", "²026-W48"])
def test_weeks_that_no_club_plans_are_none(text: str) -> None:
    assert reading.monday(text) is None


def test_a_week_is_read_as_it_is_written() -> None:
    monday = reading.monday("2026-W53")
    assert monday is not None
    assert pages.iso_week(monday) == "2026-W53"
