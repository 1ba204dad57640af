"""What is entered into the ledger by hand: its bounds, what is kept, and what can be taken back."""

from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from club.errors import Refused
from club.queries import today
from sessions import actions
from sessions.choices import Kind
from sessions.models import LedgerEntry
from tests.factories_sessions import planned_session
from tests.people import World


def entered(world: World, **changes: Any) -> LedgerEntry:
    given = {"day": today(), "kind": Kind.MATCH, "title": "Cup", "minutes": 70, "effort": 6.5}
    return actions.add_ledger_entry(
        squad_id=world.own.squad.pk, entered_by_id=world.people.coach.pk, **{**given, **changes}
    )


def test_an_entry_is_kept_as_it_was_said(world: World) -> None:
    made = entered(world, kind=Kind.TOURNAMENT, title="  Spring Cup ", minutes=33.5, effort=4.4, headers=12)
    made.refresh_from_db()
    assert (made.squad_id, made.day, made.kind, made.title) == (
        world.own.squad.pk,
        today(),
        "tournament",
        "Spring Cup",
    )
    assert (made.minutes, made.load_au, made.headers) == (Decimal("33.5"), Decimal("147.4"), 12)
    assert (made.entered_by_id, made.player_id, made.session_id) == (world.people.coach.pk, None, None)


def test_without_an_effort_only_the_minutes_count(world: World) -> None:
    made = entered(world, effort=None)
    assert (made.load_au, made.headers) == (None, 0)
    assert entered(world, effort=0).load_au == 0


@pytest.mark.parametrize(
    ("field", "fine", "wrong"),
    [
        ("minutes", [0, 600], [-1, 601]),
        ("effort", [0, 10], [-0.1, 10.1]),
        ("headers", [0, 200], [-1, 201]),
        ("day", [-366, 366], [-367, 367]),
    ],
)
def test_the_last_that_is_taken_and_the_first_that_is_not(
    world: World, field: str, fine: list[float], wrong: list[float]
) -> None:
    def told(value: float) -> Any:
        return today() + timedelta(days=int(value)) if field == "day" else value

    for value in fine:
        assert entered(world, **{field: told(value)}).pk
    for value in wrong:
        with pytest.raises(Refused) as refusal:
            entered(world, **{field: told(value)})
        assert list(refusal.value.by_field()) == [field]
    assert LedgerEntry.objects.count() == len(fine)


def test_a_title_is_one_line(world: World) -> None:
    with pytest.raises(Refused) as refusal:
        entered(world, title="Cup\nand cake")
    assert list(refusal.value.by_field()) == ["title"]


def test_what_was_entered_can_be_taken_back_and_what_a_session_brought_cannot(world: World) -> None:
    by_hand = entered(world)
    session = planned_session(place=world.own)
    brought = LedgerEntry.objects.create(
        squad_id=world.own.squad.pk, day=today(), kind=Kind.TRAINING, minutes=60, session=session
    )
    actions.drop_ledger_entry(entry=by_hand)
    with pytest.raises(Refused):
        actions.drop_ledger_entry(entry=brought)
    assert list(LedgerEntry.objects.all()) == [brought]
