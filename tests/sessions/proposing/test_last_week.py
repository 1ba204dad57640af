"""What counts as last week's: the squad's own sessions, inside its ages, and the next rung up of each drill."""

from datetime import timedelta
from typing import Any

import msgspec
import pytest

from club.queries import actor_of, today
from sessions.planning.assemble.library import LastWeek
from sessions.proposals.queries import Shelf, request_of, wish_for
from sessions.proposals.wish import WishedPart
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World
from tests.sessions.proposing.evening import PLAIN, evening, wished

pytestmark = pytest.mark.django_db


def rung(key: str, side: str, size_m: int) -> dict[str, Any]:
    grid = {"type": "set_grid", "length_m": size_m, "width_m": size_m}
    return {"key": key, "title": key.title(), "rung": side, "changes": [grid]}


RUNGS = [rung("slow", "easier", 14), rung("two", "harder", 8), rung("three", "harder", 7)]


def drill(world: World, title: str = "Wide Lamp", **changes: Any) -> Any:
    facts = {"title": title, "activity": "possession", "variations": RUNGS}
    return shared_drill(owner=world.people.coach, **{**PLAIN, **facts, **changes})


def played(world: World, made: Any, key: str = "", *, place: Any = None, days_ago: int = 7) -> Any:
    return planned_session(
        place=place or world.own,
        by=world.people.director,
        day=today() - timedelta(days=days_ago),
        parts=[part_input(drill=made, variation_key=key)],
    )


def last_week(world: World) -> dict[str, LastWeek]:
    session = evening(world)
    shelf = Shelf(actor_of(world.people.coach), wished(session), session.age_group.ages.unders, session)
    return {offer.variation: offer.last_week for offer in shelf.fitted() if offer.last_week}


@pytest.mark.parametrize(
    ("key", "expected"),
    [
        ("", {"": "same rung", "two": "one rung up"}),
        ("slow", {"slow": "same rung", "": "one rung up"}),
        ("two", {"two": "same rung", "three": "one rung up"}),
        ("three", {"three": "same rung"}),
    ],
)
def test_the_next_rung_up_and_no_other(world: World, key: str, expected: dict[str, str]) -> None:
    played(world, drill(world), key)
    assert last_week(world) == expected


def test_what_another_squad_played_is_nothing_to_this_one(world: World) -> None:
    played(world, drill(world), place=world.colleague)
    assert last_week(world) == {}


def test_what_the_squad_played_as_another_age_group_is_not_repeated(world: World) -> None:
    session = played(world, drill(world))
    type(session).objects.filter(pk=session.pk).update(age_group=world.colleague.age_group)
    assert last_week(world) == {}


def test_long_ago_and_cancelled_do_not_count(world: World) -> None:
    from sessions import actions

    made = drill(world)
    played(world, made, days_ago=12)
    off = played(world, made, days_ago=3)
    actions.cancel_session(session=off, version=off.version, why="weather")
    assert last_week(world) == {}


def test_a_drill_outside_the_ages_does_not_come_back(world: World) -> None:
    made = drill(world, under_from=14, under_to=16)
    played(world, made)
    assert last_week(world) == {}


@pytest.mark.parametrize(
    ("under", "parts", "again"), [(12, 4, 1), (9, 4, 1), (8, 4, 2), (7, 3, 1), (8, 6, 3), (8, 1, 1)]
)
def test_half_the_evening_for_the_youngest_and_one_part_for_all_others(
    world: World, under: int, parts: int, again: int
) -> None:
    group = world.own.age_group
    group.under = under
    group.save()
    wish = msgspec.structs.replace(
        wish_for(evening(world)), parts=tuple(WishedPart(kind="practice") for _ in range(parts))
    )
    assert request_of(wish, {}).again == again
