"""Weekly slots, the club's order of parts, and what goes into the ledger by hand."""

from datetime import date, time, timedelta
from decimal import Decimal

import pytest

from club.errors import Refused, Stale
from club.queries import actor_of, today
from sessions import actions, queries
from sessions.actions import DayAndTimes
from sessions.choices import Kind
from tests.factories import ZoneFactory
from tests.factories_sessions import weekly_slot
from tests.people import World


def test_two_squads_can_not_have_one_place_at_one_time(world: World) -> None:
    zone = ZoneFactory()
    weekly_slot(place=world.own, zones=[zone])
    with pytest.raises(Refused) as refusal:
        weekly_slot(place=world.colleague, zones=[zone], starts=time(19))
    assert list(refusal.value.by_field()) == ["zones"]
    assert "Otters" in str(refusal.value)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"starts": time(20), "ends": time(19)}, "ends"),
        ({"weekday": 8}, "weekday"),
        ({"last_day": date(2020, 1, 1)}, "last_day"),
    ],
)
def test_impossible_slots_are_refused_beside_the_field(world: World, changes: dict, field: str) -> None:
    with pytest.raises(Refused) as refusal:
        weekly_slot(place=world.own, **changes)
    assert list(refusal.value.by_field()) == [field]


def test_a_slot_is_changed_once_and_then_stale(world: World) -> None:
    slot = weekly_slot(place=world.own)
    values = {
        "weekday": 3,
        "starts": time(17),
        "ends": time(18),
        "first_day": slot.first_day,
        "last_day": slot.last_day,
        "zone_ids": [each["pk"] for each in slot.zone_rows],
    }
    changed = actions.change_slot(slot=slot, version=slot.version, **values)
    assert (changed.weekday, changed.starts) == (3, time(17))
    with pytest.raises(Stale):
        actions.change_slot(slot=slot, version=slot.version, **values)


def test_a_slot_that_ends_shows_no_empty_evening_after_it(world: World) -> None:
    slot = weekly_slot(place=world.own)
    actions.end_slot(slot=slot, version=slot.version)
    later = today() + timedelta(days=7)
    found = list(queries.slots_of(today(), later + timedelta(days=7)))
    assert [each.day for each in queries.free_slots(found, [], today(), later)] == [today()]


def test_a_session_begins_with_the_clubs_order_of_parts(world: World) -> None:
    made = actions.begin_session(
        actor=actor_of(world.people.coach),
        age_group_id=world.own.age_group.pk,
        squad_id=world.own.squad.pk,
        when=DayAndTimes(today(), time(18), time(19, 15)),
        in_order=True,
    )
    view = queries.session_view(queries.session_by_id(made.public_id))
    assert [each.row.kind for each in view.parts] == ["arrival", "practice", "game"]
    assert view.plan.used_minutes <= view.plan.minutes


def test_minutes_times_effort_is_the_load_of_an_entry(world: World) -> None:
    made = actions.add_ledger_entry(
        squad_id=world.own.squad.pk,
        day=today(),
        kind=Kind.MATCH,
        title="Cup",
        minutes=70,
        effort=6.5,
        entered_by_id=world.people.coach.pk,
    )
    assert made.load_au == Decimal("455.0")


def test_training_is_not_entered_by_hand(world: World) -> None:
    with pytest.raises(Refused) as refusal:
        actions.add_ledger_entry(
            squad_id=world.own.squad.pk,
            day=today(),
            kind=Kind.TRAINING,
            title="",
            minutes=700,
            effort=12,
            entered_by_id=world.people.coach.pk,
        )
    assert list(refusal.value.by_field()) == ["kind", "minutes", "effort"]
