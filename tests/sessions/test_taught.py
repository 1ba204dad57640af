"""What sessions teach: one count for the block's page, the page behind each number, the API and the session itself."""

import uuid
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from club import actions as club_actions
from club import queries as club
from club.models import Block, Theme
from sessions import actions, pages, queries
from sessions.bridge import local_moment
from sessions.pages.block.page import block_page
from sessions.planning.taught import OnTheme, TaughtPart, on_themes, theme_minutes
from sessions.queries.block.taught import taught_between
from sessions.queries.recorded.record import session_record
from tests.factories import player_in
from tests.factories_sessions import part_input, planned_session, shared_drill, weekly_slot
from tests.people import World, signed_in

KEYS = st.sampled_from(["a", "b", "c"])
PARTS = st.lists(
    st.builds(TaughtPart, st.floats(0, 90), st.lists(st.lists(KEYS, max_size=3), min_size=1, max_size=4)),
    max_size=6,
)


@given(PARTS)
def test_a_theme_gets_no_more_than_all_minutes(parts: list[TaughtPart]) -> None:
    found = theme_minutes(parts)
    whole = sum(each.minutes for each in parts)
    assert all(0 <= each <= whole + 1e-6 for each in found.values())
    everywhere = [TaughtPart(each.minutes, [["a"] for _ in each.stations]) for each in parts]
    assert theme_minutes(everywhere).get("a", 0.0) == pytest.approx(whole)


def test_a_game_for_two_themes_teaches_both_and_a_carousel_shares_its_minutes() -> None:
    """Worked by hand: 20 minutes on two themes; 24 minutes over three stations."""
    parts = [TaughtPart(20, [["keep", "press"]]), TaughtPart(24, [["keep"], ["finish"], []])]
    assert theme_minutes(parts) == {"keep": 28.0, "press": 20.0, "finish": 8.0}
    found = on_themes([{"keep": 28.0}], [{"finish": 8.0}], {"press": 50, "keep": 10}, 100.0)
    assert list(found) == ["press", "keep", "finish"]
    assert found["press"] == OnTheme(0.0, 0.0, 50.0)
    assert [each.gap for each in found.values()] == [50.0, 0.0, 0.0]


@pytest.fixture
def themes(db: None) -> dict[str, Theme]:
    club_actions.add_themes(
        themes=[("keep", "Keep it", "in possession"), ("press", "Press", "out of possession")]
    )
    return {each.key: each for each in club.themes()}


@pytest.fixture
def block(world: World, themes: dict[str, Theme]) -> Block:
    day = club.today()
    made = club_actions.add_block(
        season=world.season, name="Now", first_day=day - timedelta(days=14), last_day=day + timedelta(days=14)
    )
    return club_actions.set_targets(
        block=made, age_group=world.own.age_group, version=1, shares={"keep": 50, "press": 25}
    )


def evening(world: World, days: int, **changes: Any) -> Any:
    keep = shared_drill(owner=world.people.coach, title="Keeps", themes=["keep"])
    both = shared_drill(owner=world.people.coach, title="Both", themes=["keep", "press"])
    return planned_session(
        place=world.own,
        by=world.people.coach,
        day=club.today() + timedelta(days=days),
        parts=[part_input(drill=keep, minutes=15), part_input(drill=both, minutes=20)],
        **changes,
    )


def happened(world: World, session: Any, *events: tuple[str, float, dict[str, Any]]) -> None:
    start = local_moment(session.day, session.starts, club.club_settings().time_zone)
    actions.append_events(
        actor=club.actor_of(world.people.coach),
        session=session,
        device="phone",
        events=[
            {
                "id": str(uuid.uuid4()),
                "kind": kind,
                "at": (start + timedelta(minutes=minute)).isoformat(),
                **body,
            }
            for kind, minute, body in events
        ],
    )


@pytest.mark.django_db
def test_as_run_once_it_is_done_and_the_session_says_the_same_minutes(world: World, block: Block) -> None:
    session = evening(world, -7)
    first, second = (str(each.public_id) for each in session.parts.order_by("position"))
    happened(
        world,
        session,
        ("arrived", 0, {"player": str(player_in(squad=world.own.squad).public_id)}),
        ("part_started", 0, {"part": first}),
        ("next_part", 9, {"part": second}),
        ("part_ended", 33, {"part": second}),
        ("delivered", 34, {}),
    )
    (taught,) = taught_between(block.first_day, block.last_day)
    record = session_record(*_with_plan(session))
    assert record is not None
    ran = {each.key: each.minutes for each in record.account.parts}
    assert taught.is_done
    assert taught.minutes == pytest.approx(sum(ran.values()))
    assert taught.themes == pytest.approx({"keep": ran[first] + ran[second], "press": ran[second]})
    line = _line(world, block)
    assert line.themes[0].minutes.done == pytest.approx(ran[first] + ran[second])
    assert line.came == record.came == 1


@pytest.mark.django_db
def test_planned_counts_as_planned_called_off_not_at_all_and_a_theme_alone_counts_whole(
    world: World, block: Block, themes: dict[str, Theme]
) -> None:
    evening(world, 3)
    off = evening(world, 5)
    actions.cancel_session(session=off, why="weather", version=off.version)
    bare = planned_session(place=world.own, by=world.people.coach, day=club.today() + timedelta(days=8), theme_id=themes["press"].pk)  # fmt: skip
    found = taught_between(block.first_day, block.last_day)
    assert [each.themes for each in found] == [{"keep": 35.0, "press": 20.0}, {"press": found[1].minutes}]
    assert found[1].session == bare
    assert not any(each.is_done or each.is_late for each in found)


@pytest.mark.django_db
def test_every_door_says_the_same(world: World, block: Block, themes: dict[str, Theme]) -> None:
    evening(world, -7)
    evening(world, 3)
    director = world.people.director
    line = _line(world, block)
    client = signed_in(director)
    address = reverse(
        "sessions:block-taught", args=[block.public_id, world.own.squad.public_id, themes["press"].public_id]
    )
    behind = client.get(address).context["page"]
    told = client.get(
        reverse("api-coverage"), {"from": block.first_day.isoformat(), "to": block.last_day.isoformat()}
    ).json()
    team = next(each for each in told["teams"] if each["squad"] == str(world.own.squad.public_id))
    shown = {each.theme.key: each.minutes for each in line.themes}
    assert {each["theme"]: (each["done_min"], each["planned_min"]) for each in team["themes"]} == {
        key: (each.done, each.planned) for key, each in shown.items()
    }
    assert behind.minutes == shown["press"]
    assert sum(minutes for _taught, minutes in [*behind.done, *behind.to_come]) == pytest.approx(
        shown["press"].done + shown["press"].planned
    )
    assert shown["press"].meant == pytest.approx(0.25 * line.minutes)


@pytest.mark.django_db
def test_what_is_taught_besides_is_counted_in_one_line_and_holidays_stand_in_their_weeks(
    world: World, block: Block
) -> None:
    club_actions.set_targets(
        block=block, age_group=world.own.age_group, version=block.version, shares={"keep": 50}
    )
    evening(world, 3)
    actions.close_days(title="Half-term", first_day=block.last_day, last_day=block.last_day)
    shown = " ".join(signed_in(world.people.director).get(reverse("sessions:block")).content.decode().split())
    assert "1 other theme, 20 min" in shown
    assert "Half-term" in shown


@pytest.mark.django_db
def test_this_week_says_what_is_lacking(world: World, block: Block) -> None:
    today = club.today()
    slot = weekly_slot(place=world.own, weekday=today.isoweekday())
    page = block_page(club.actor_of(world.people.director), block, [block])
    assert [each.free.slot for each in page.gaps["session"]] == [slot]
    evening(world, 0)
    page = block_page(club.actor_of(world.people.director), block, [block])
    assert "place" in page.gaps
    assert page.forgotten == []


@pytest.mark.django_db
def test_the_page_asks_as_often_however_many_sessions_there_are(
    world: World, block: Block, client: Any
) -> None:
    client = signed_in(world.people.director)
    counts = []
    for days in (3, 4):
        evening(world, days)
        client.get(reverse("sessions:block"))
        with CaptureQueriesContext(
            connection,
        ) as asked:
            assert client.get(reverse("sessions:block")).status_code == 200
        counts.append(len(asked))
    assert counts == [BLOCK_QUERIES, BLOCK_QUERIES]


BLOCK_QUERIES = 17


def _with_plan(session: Any) -> tuple[Any, Any]:
    row = queries.session_by_id(session.public_id)
    assert row is not None
    view = pages.session_page(row).view
    return view.row, view.plan


def _line(world: World, block: Block) -> Any:
    page = block_page(club.actor_of(world.people.director), block, [block])
    return next(each for each in page.lines if each.team == world.own.squad)
