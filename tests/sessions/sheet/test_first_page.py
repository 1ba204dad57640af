"""The sheet's first page is of the part that the evening is about: the one with the most load."""

from typing import Any

import pytest

from sessions import queries
from sessions.pages.sheet.session import session_sheet
from sessions.sheet.content import IfTooEasyOrHard
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World

pytestmark = pytest.mark.django_db


def sheet_of(world: World, *parts: Any) -> Any:
    made = planned_session(place=world.own, by=world.people.coach, parts=parts)
    return session_sheet(queries.session_by_id(made.public_id), link="https://example.org/")


def test_it_says_what_the_hardest_part_says(world: World) -> None:
    light, heart = (shared_drill(owner=world.people.coach, title=title) for title in ("Feathers", "Anvils"))
    sheet = sheet_of(
        world,
        part_input(drill=light, minutes=18, effort=3.0),
        part_input(drill=heart, minutes=18, effort=7.0),
        part_input(drill=light, minutes=18, effort=4.0),
    )
    station = sheet.parts[1].stations[0]
    assert "Anvils" in sheet.start.of
    assert sheet.parts[1].clock in sheet.start.of
    assert (sheet.start.say, sheet.start.praise, sheet.start.ladder) == (
        station.say,
        station.praise,
        station.ladder,
    )
    assert station.say
    assert station.ladder != IfTooEasyOrHard()


def test_of_two_alike_it_is_the_first_and_without_a_drill_it_is_nobodys(world: World) -> None:
    first, second = (shared_drill(owner=world.people.coach, title=title) for title in ("Feathers", "Anvils"))
    alike = sheet_of(world, part_input(minutes=10), part_input(drill=first), part_input(drill=second))
    assert "Feathers" in alike.start.of
    bare = sheet_of(world, part_input(title="Run about"))
    assert (bare.start.of, tuple(bare.start.say), bare.start.praise, bare.start.ladder) == (
        "",
        (),
        "",
        IfTooEasyOrHard(),
    )
