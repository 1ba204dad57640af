"""A part of kind game is a game, small for the youngest and never larger than the group's own matches."""

from typing import Any

import pytest

from drills.game.design import Design
from drills.game.format import Format
from sessions.planning.assemble.library import part_kinds
from sessions.proposals.queries.ways import is_between_sides
from sessions.proposals.wish import WishedPart
from tests.factories_sessions import shared_drill
from tests.people import World
from tests.sessions.proposing.evening import PLAIN, clash_of, evening, titles, worked_out

GAME = (WishedPart(kind="game"),)


@pytest.mark.parametrize(
    ("activity", "between_sides", "is_game"),
    [
        ("match", True, True),
        ("directional game", True, True),
        ("possession", True, True),
        ("possession", False, False),
        ("match", False, False),
        ("fun game", True, False),
        ("waves", True, False),
        ("finishing", True, False),
        ("rondo", True, False),
        ("duel", True, False),
    ],
)
def test_what_a_game_is(activity: str, between_sides: bool, is_game: bool) -> None:
    assert ("game" in part_kinds(activity, 5.0, between_sides=between_sides)) is is_game


@pytest.mark.parametrize(
    ("numbers", "is_between"),
    [
        ("4v4", True),
        ("4v4+4", True),
        ("GK+6v4", True),
        ("6v3", True),
        ("5v2", False),
        ("4v1", False),
        ("12", False),
        ("4v4v4", True),
    ],
)
def test_sides_are_alike(numbers: str, is_between: bool) -> None:
    assert is_between_sides(Design(Format.parse(numbers), 30, 20)) is is_between
    assert not is_between_sides(Design(Format.parse(numbers), 30, 20, waiting_kind="queue"))


def drill(world: World, title: str, **facts: Any) -> Any:
    return shared_drill(owner=world.people.coach, **{**PLAIN, "title": title, **facts})


def numbers(row: Any) -> list[str]:
    return [part["numbers"] for part in row.result["session"]["parts"]]


@pytest.mark.django_db
def test_no_rondo_and_no_tag_stands_where_a_game_is_wanted(world: World) -> None:
    drill(world, "Five and two", activity="possession", format="5v2")
    drill(world, "Tag", activity="fun game", format="10", numbers={"kind": "anyone"})
    session = evening(world)
    assert clash_of(worked_out(world, session, parts=GAME)) == {"part:1"}
    drill(world, "Even", activity="possession", format="5v5")
    assert titles(worked_out(world, session, parts=GAME)) == ["Even"]


@pytest.mark.django_db
@pytest.mark.parametrize(("under", "expected"), [(8, "2 × 2v2"), (12, "4v4")])
def test_the_youngest_play_the_smallest_formats(world: World, under: int, expected: str) -> None:
    group = world.own.age_group
    group.under, group.match_format = under, "5v5"
    group.save()
    drill(world, "Four goals", activity="match", format="4v4", under_from=5, under_to=14)
    row = worked_out(world, evening(world, players_expected=8), parts=GAME, adults=2)
    assert numbers(row) == [expected]


@pytest.mark.django_db
@pytest.mark.parametrize(("match_format", "expected"), [("5v5", "2 × 4v3"), ("9v9", "7v7")])
def test_no_side_is_larger_than_the_groups_own_in_a_match(
    world: World, match_format: str, expected: str
) -> None:
    group = world.own.age_group
    group.match_format = match_format
    group.save()
    grids = [{"key": "usual", "length_m": 30, "width_m": 25, "purpose": "usual"}]
    drill(world, "Wide game", activity="match", format="4v4", under_from=8, under_to=14, grids=grids)
    row = worked_out(world, evening(world, players_expected=14), parts=GAME, adults=2)
    assert numbers(row) == [expected]
