"""Goals of a match are those of tonight's age: one size on plan, in words, and on every kit list."""

from typing import Any

import pytest

from drills.drawing.picture import laid, scene_as_written
from drills.game.evening import PlayerAges
from drills.game.pitches import goal_of
from drills.game.played import as_played
from drills.pages import told
from sessions import queries
from sessions.pages.pitch.page import pitch_page
from sessions.pages.session import session_page
from sessions.pages.sheet.session import session_sheet
from tests.factories import ZoneFactory
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db

GOALS = [
    {"key": "near", "edge": "left", "size": "age group"},
    {"key": "far", "edge": "right", "size": "full"},
    {"key": "low", "edge": "top", "size": "mini"},
    {"key": "odd", "edge": "bottom", "size": "full", "width_m": 5.0},
]


def session_with_goals(
    world: World, match_format: str, under: int, goals: list[dict[str, Any]] = GOALS
) -> Any:
    group = world.own.age_group
    group.match_format, group.under = match_format, under
    group.save()
    drill = shared_drill(owner=world.people.coach, title="Lamp Goals", goals=goals)
    made = planned_session(
        place=world.own,
        by=world.people.coach,
        zones=[ZoneFactory(length_m=60, width_m=40)],
        parts=[part_input(drill=drill)],
    )
    return queries.session_by_id(made.public_id)


# The FA, handbook 2016-17, in feet (metres are arithmetic); three a side: England Football Learning, 3v3 games, 2025.
SIZES = [
    (7, "3v3", 1.22, "1.22 × 0.76 m (4 × 2.5 ft)"),
    (8, "5v5", 3.66, "3.66 × 1.83 m (12 × 6 ft)"),
    (10, "7v7", 3.66, "3.66 × 1.83 m (12 × 6 ft)"),
    (12, "9v9", 4.88, "4.88 × 2.13 m (16 × 7 ft)"),
    (14, "11v11", 6.4, "6.40 × 2.13 m (21 × 7 ft)"),
    (16, "11v11", 7.32, "7.32 × 2.44 m (24 × 8 ft)"),
]


@pytest.mark.parametrize(("under", "match_format", "wide", "said"), SIZES)
def test_plan_words_and_kit_say_one_size(
    world: World, under: int, match_format: str, wide: float, said: str
) -> None:
    session = session_with_goals(world, match_format, under)
    station = queries.session_view(session).parts[0].stations[0]
    drawn = {each.key: each.width_m for each in laid(station.tonight).scene.goals}
    assert drawn == {"near": wide, "far": wide, "low": 1.5, "odd": 5.0}

    kit = [line for line in session_page(session).kit if line.kind == "moveable goals"]
    assert [line.size for line in kit] == [said]
    page = signed_in(world.people.coach).get(f"/sessions/{session.public_id}/").content.decode()
    assert f"moveable goals, {said}" in page

    sheet = session_sheet(session, link="https://example.org/")
    assert any(line.endswith(f"moveable goals, {said}") for line in sheet.start.kit)
    assert sheet.parts[0].stations[0].start[0] == f"Goals {said}, as in your matches."
    plan = pitch_page(session).parts[0].plans[0]
    assert f"A goal {wide:.1f}".rstrip("0").rstrip(".") in plan


def test_small_goals_stay_and_nothing_is_said_of_an_age(world: World) -> None:
    small = [
        {"key": "low", "edge": "left", "size": "mini"},
        {"key": "wide", "edge": "right", "size": "small"},
    ]
    session = session_with_goals(world, "5v5", 8, small)
    tonight = queries.session_view(session).parts[0].stations[0].tonight
    assert [each.width_m for each in laid(tonight).scene.goals] == [1.5, 3.0]
    sheet = session_sheet(session, link="https://example.org/")
    assert sheet.parts[0].stations[0].start == told(tonight).start
    assert "matches" not in " ".join(told(tonight).start)


def test_a_goal_fills_an_edge_that_is_shorter(world: World) -> None:
    session = session_with_goals(world, "11v11", 16)
    document = queries.session_view(session).parts[0].stations[0].drill.document
    width = document.grids[0].width_m
    tonight = as_played(document, players=PlayerAges(17, 17, 16, 11))
    (near,) = [each for each in laid(tonight).scene.goals if each.key == "near"]
    assert near.width_m == min(width, 7.32)
    assert near.width_m / 2 <= near.along_m <= width - near.width_m / 2


def test_where_nobody_said_who_plays_the_plan_is_as_written(world: World) -> None:
    session = session_with_goals(world, "5v5", 8)
    document = queries.session_view(session).parts[0].stations[0].drill.document
    widths = {each.key: each.width_m for each in scene_as_written(document).goals}
    assert (widths["near"], widths["far"]) == (4.88, 7.32)


def test_without_a_format_the_age_decides() -> None:
    assert goal_of(PlayerAges(9, 9, 8)).wide_ft == 12
    assert goal_of(PlayerAges(19, None, 18)).wide_ft == 24
    assert goal_of(PlayerAges(14, 14, 13, 11)).wide_ft == 21
    assert goal_of(PlayerAges(13, 14, 12, 8)).wide_ft == 16
