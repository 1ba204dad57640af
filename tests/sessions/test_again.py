"""An empty slot filled with what its team did there last, one part one step harder: shown, planned as shown, told after."""

from datetime import time, timedelta
from html import unescape
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from club.queries import actor_of, today
from sessions import queries
from sessions.actions import PartInput
from sessions.choices import PartKind
from sessions.models import TrainingSession
from sessions.queries.reuse import slot_target, taken
from tests.factories import ZoneFactory
from tests.factories_sessions import done_in_slot, part_input, shared_drill, weekly_slot
from tests.people import World, signed_in
from tests.sessions.test_reuse import BARE, GRID, rung

pytestmark = pytest.mark.django_db
NEXT = timedelta(weeks=1)
TIMES = (time(9), time(15))


def a_drill(world: World, title: str, **changes: Any) -> Any:
    """4v4, with one easier and one harder variation for the same eight: another rule, so that all of them run."""
    rungs = [limited("calm", "easier", 3), limited("wild", "harder", 2)]
    given = {**BARE, "format": "4v4", "grids": [GRID], "variations": rungs, "queue": None, "title": title}
    return shared_drill(owner=world.people.coach, **{**given, **changes})


def limited(key: str, way: str, touches: int, **changes: Any) -> dict[str, Any]:
    limit = {"type": "limit", "key": "touch", "kind": "touches", "scope": {}, "number": touches}
    return {**rung(key, way), "changes": [{"type": "add_condition", "condition": limit}], **changes}


def of_kind(kind: PartKind, drill: Any, key: str = "") -> PartInput:
    return PartInput(**{**vars(part_input(drill=drill, variation_key=key)), "kind": kind})


def a_slot(world: World, *parts: PartInput, **changes: Any) -> Any:
    given = {"zones": [ZoneFactory(length_m=60, width_m=40)], "players_expected": 8, "title": "Locks"}
    return done_in_slot(place=world.own, by=world.people.coach, parts=parts, **{**given, **changes})


def address(slot: Any, day: Any = None) -> str:
    return reverse("sessions:slot-again", args=[slot.public_id]) + f"?day={day or today() + NEXT}"


def keys_of(session: Any) -> list[str]:
    return [each.variation_key for part in session.parts.all() for each in part.stations.all()]


@pytest.fixture
def coach(world: World) -> Client:
    return signed_in(world.people.coach)


def planned(slot: Any) -> Any:
    row = TrainingSession.objects.get(slot=slot, day=today() + NEXT)
    return queries.session_by_id(row.public_id)


def test_the_game_is_one_step_harder_as_it_was_shown(world: World, coach: Client) -> None:
    drill = a_drill(world, "Locks")
    slot = a_slot(world, of_kind(PartKind.PRACTICE, drill), of_kind(PartKind.GAME, drill))
    shown = coach.get(address(slot))
    there = shown.context["there"]
    assert there.is_harder
    assert [each.code for each in there.changes][:1] == ["carry_rung_up"]
    assert not TrainingSession.objects.filter(day=today() + NEXT).exists()
    sent = {"day": str(today() + NEXT), "seen": there.digest}
    assert coach.post(address(slot), sent).status_code == 302
    made = planned(slot)
    assert keys_of(made) == ["", "wild"]
    assert (made.slot_id, made.slot_day, made.title) == (slot.pk, today() + NEXT, "Locks")
    assert [each.text for each in queries.used_again(made)[0].changes] == [
        each.text for each in there.changes
    ]
    page = coach.get(reverse("sessions:session", args=[made.public_id])).content.decode()
    assert "Locks: one step harder, “Wild”." in page
    again = coach.post(address(slot), sent)  # a second tap, or somebody was quicker: the slot is filled
    assert again.status_code in (400, 409)
    assert TrainingSession.objects.filter(day=today() + NEXT).count() == 1


def test_a_list_that_was_not_seen_is_not_planned(world: World, coach: Client) -> None:
    slot = a_slot(world, of_kind(PartKind.GAME, a_drill(world, "Locks")))
    answer = coach.post(address(slot), {"day": str(today() + NEXT), "seen": "another list"})
    assert answer.context["differs"]
    assert not TrainingSession.objects.filter(day=today() + NEXT).exists()


@pytest.mark.parametrize(
    ("kinds", "harder"),
    [
        (
            [("practice", ""), ("game", "wild"), ("practice", "")],
            ["", "wild", "wild"],
        ),  # the game is at its top
        ([("practice", ""), ("game", "calm")], ["", ""]),  # from an easier one back to the drill as written
        ([("warm-up", ""), ("game", "wild")], None),  # nobody makes a warm-up harder
    ],
)
def test_which_part_it_is(world: World, kinds: list[tuple[str, str]], harder: list[str] | None) -> None:
    drill = a_drill(world, "Locks")
    slot = a_slot(world, *(of_kind(PartKind(kind), drill, key) for kind, key in kinds))
    source = queries.session_by_id(queries.last_done(slot))
    found = taken(source, slot_target(slot, source), actor=actor_of(world.people.coach), harder=True)
    assert found.is_harder is (harder is not None)
    there = [each.variation_key for part in found.parts for each in part.stations]
    assert there == (harder or [key for _kind, key in kinds])
    one = sum(was != now for (_kind, was), now in zip(kinds, there, strict=True))
    assert one == (harder is not None)


def test_a_step_that_is_too_hard_for_the_group_is_none(world: World, coach: Client) -> None:
    hard = [limited("wild", "harder", 2, effort=9.5)]
    world.own.age_group.hardest_cr10 = 7
    world.own.age_group.save()
    slot = a_slot(world, of_kind(PartKind.GAME, a_drill(world, "Locks", variations=hard)))
    shown = coach.get(address(slot))
    assert not shown.context["there"].is_harder
    assert "Nothing in it has a harder step" in shown.content.decode()


def test_the_empty_slot_offers_it(
    world: World, coach: Client, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    drill = a_drill(world, "Locks")
    slots = [
        a_slot(
            world, of_kind(PartKind.GAME, drill, key), starts=at, ends=at.replace(hour=at.hour + 1), title=key
        )
        for key, at in (("", TIMES[0]), ("wild", TIMES[1]))
    ]
    week = unescape(coach.get(reverse("sessions:week")).content.decode())
    assert "Last week's, one step harder?" in week
    assert "Last week's again?" in week
    for slot, again in zip(slots, ("harder", "again"), strict=True):
        found = queries.free_slots([queries.slot_by_id(slot.public_id)], [], today(), today())
        with django_assert_num_queries(0):
            assert [each.again for each in found] == [again]
        ahead = queries.free_slots([queries.slot_by_id(slot.public_id)], [], today() + NEXT, today() + NEXT)
        assert [each.again for each in ahead] == [""]  # by then last week is another one


def test_a_slot_with_nothing_behind_it_offers_nothing(world: World, coach: Client) -> None:
    slot = weekly_slot(place=world.own)
    assert coach.get(address(slot)).status_code == 404
    assert "one step harder?" not in coach.get(reverse("sessions:week")).content.decode()
    done = a_slot(world, of_kind(PartKind.GAME, a_drill(world, "Locks")))
    assert coach.get(address(done, today() + timedelta(days=1))).status_code == 404  # no day of the slot
    assert coach.get(reverse("sessions:slot-again", args=[done.public_id])).status_code == 404
