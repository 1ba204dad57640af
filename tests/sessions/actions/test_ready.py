"""Ready sessions: saved with their drills, put into a session set up for it, and honest about what is not there."""

from datetime import time
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from club.errors import Refused, Stale
from club.queries import actor_of
from drills import actions as drills
from drills.models import Drill
from sessions import actions, queries
from sessions.actions import DayAndTimes, ZonesAndStaff
from sessions.models import PartOrder, TrainingSession
from sessions.queries.ready import is_for, minutes_here
from tests.factories import ZoneFactory
from tests.factories_sessions import part_input
from tests.people import World
from tests.sessions import setting_up
from tests.sessions.setting_up import stations_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def coach(world: World) -> Any:
    return actor_of(world.people.coach)


@pytest.fixture
def drill(world: World) -> Any:
    return setting_up.drill(world)


@pytest.fixture
def template(world: World, coach: Any, drill: Any) -> Any:
    """A quarter of an hour to warm up without a drill, and 18 minutes of a rondo, out of 75."""
    session = setting_up.planned(
        world,
        part_input(title="Jog", minutes=15, bouts=1, bout_s=900, rest_s=0),
        part_input(drill=drill),
    )
    kept = actions.keep_order(actor=coach, session=session, name="Rondo night", with_drills=True)
    return queries.part_order(kept.public_id)


def use(coach: Any, session: Any, template: Any, **changes: Any) -> Any:
    asked = {"actor": coach, "session": session, "version": session.version, "template": template}
    return actions.use_ready(**{**asked, **changes})


def test_a_template_with_drills_says_for_whom_it_is(world: World, drill: Any, template: Any) -> None:
    under = world.own.age_group.under
    assert (template.under_from, template.under_to, template.players_from, template.players_to) == (
        *(under, under),
        *(12, 12),
    )
    assert (template.minutes, [each["minutes"] for each in template.parts]) == (75, [15, 18])
    [row] = template.drills.all()
    assert (row.part, row.position, row.drill, row.title) == (1, 0, drill, drill.title)


def test_it_fills_a_session_and_sets_every_drill_up(
    world: World, coach: Any, template: Any, drill: Any
) -> None:
    zone = ZoneFactory(length_m=60, width_m=40)
    session = setting_up.planned(world, part_input(title=""), zones=[zone], players_expected=11)
    made = use(coach, session, template)
    jog, rondo = made.parts.all()
    assert (jog.title, jog.minutes, jog.bouts, jog.stations.count()) == ("Jog", 15, 1, 0)
    assert (rondo.minutes, rondo.bouts, rondo.bout_s, rondo.rest_s) == (18, 4, 240, 40)
    [station] = stations_of(made)
    assert station.revision_id == drill.current_revision_id
    assert station.setup is not None
    assert station.evening is not None
    assert station.evening["players"] == 11
    assert (made.title, made.used_again) == ("Rondo night", [])
    assert made.version > session.version


def test_a_session_keeps_its_own_title_and_theme(world: World, coach: Any, template: Any) -> None:
    session = setting_up.planned(world, title="Ours")
    assert use(coach, session, template).title == "Ours"


def test_planning_with_one_is_one_step(world: World, coach: Any, template: Any) -> None:
    made = actions.begin_session(
        actor=coach,
        age_group_id=world.own.age_group.pk,
        squad_id=world.own.squad.pk,
        when=DayAndTimes(template_day(), time(18), time(19, 15)),
        place=ZonesAndStaff(),
        players_expected=10,
        order=template,
    )
    assert [each.minutes for each in made.parts.all()] == [15, 18]
    assert all(each.setup for each in stations_of(made))


def template_day() -> Any:
    from club.queries import today

    return today()


@pytest.mark.parametrize("gone", ["retired", "deleted"])
def test_a_drill_that_is_gone_leaves_its_part_empty_and_is_named(
    world: World, coach: Any, template: Any, drill: Any, gone: str
) -> None:
    if gone == "retired":
        drills.retire_drill(actor=actor_of(world.people.director), public_id=drill.public_id)
    else:
        template.drills.update(drill=None)
    fresh = queries.part_order(template.public_id)
    made = use(coach, setting_up.planned(world), fresh)
    [station] = stations_of(made)
    assert (station.revision_id, station.setup) == (None, None)
    [change] = queries.used_again(made)[0].changes
    assert change.code == "carry_out_gone"
    assert drill.title in change.text
    assert queries.used_again(made)[0].title == "Rondo night"


def test_a_variation_that_is_gone_is_said_and_the_drill_is_played_as_written(
    world: World, coach: Any, template: Any
) -> None:
    template.drills.update(variation_key="never-was")
    made = use(coach, setting_up.planned(world), queries.part_order(template.public_id))
    assert [each.variation_key for each in stations_of(made)] == [""]
    assert "carry_rung_gone" in {each.code for each in queries.used_again(made)[0].changes}


def test_where_nothing_fits_the_part_is_empty_and_says_why(world: World, coach: Any, template: Any) -> None:
    session = setting_up.planned(world, players_expected=2)
    made = use(coach, session, template)
    said = queries.used_again(made)[0].changes
    assert [each.setup for each in stations_of(made)] == [None]
    assert said


def test_a_session_with_drills_is_left_alone(world: World, coach: Any, template: Any, drill: Any) -> None:
    session = setting_up.planned(world, part_input(drill=drill))
    with pytest.raises(Refused, match="There are drills in this session already"):
        use(coach, session, template)
    assert TrainingSession.objects.get(pk=session.pk).parts.count() == 1


def test_a_session_that_somebody_has_just_changed_is_left_alone(
    world: World, coach: Any, template: Any
) -> None:
    session = setting_up.planned(world)
    with pytest.raises(Stale):
        use(coach, session, template, version=session.version - 1)


def test_a_template_without_drills_is_no_ready_session(world: World, coach: Any, drill: Any) -> None:
    session = setting_up.planned(world, part_input(drill=drill))
    kept = actions.keep_order(actor=coach, session=session, name="Bare")
    with pytest.raises(Refused, match="no drills"):
        use(coach, setting_up.planned(world), queries.part_order(kept.public_id))
    empty = setting_up.planned(world, part_input(title="Jog"))
    with pytest.raises(Refused, match="no drills in it yet"):
        actions.keep_order(actor=coach, session=empty, name="Bare", with_drills=True)


def test_saving_it_again_without_drills_lets_them_go(world: World, coach: Any, template: Any) -> None:
    session = setting_up.planned(world, part_input(title="Jog"))
    kept = actions.keep_order(actor=coach, session=session, name=template.name)
    assert kept.pk == template.pk
    assert (kept.minutes, kept.under_from, kept.drills.count()) == (None, None, 0)


def test_a_drill_of_a_template_may_still_leave_the_database(template: Any, drill: Any) -> None:
    assert Drill._meta.get_field("session_templates").on_delete.__name__ == "SET_NULL"


@pytest.mark.parametrize(
    ("low", "high", "is_so"),
    [(9, 9, False), (10, 10, True), (8, 10, True), (12, 12, True), (13, None, False)],
)
def test_for_whom(low: int, high: int | None, is_so: bool) -> None:
    assert is_for(PartOrder(minutes=60, under_from=10, under_to=12), low, high) is is_so


PARTS = st.lists(st.integers(5, 40), min_size=1, max_size=6)


@given(PARTS, st.integers(20, 180), st.integers(0, 10))
def test_minutes_are_shared_out_as_they_were(parts: list[int], here: int, clear: int) -> None:
    """Never more than there is room for, never the other way round; as long as before, it is as before."""
    rows = [{"minutes": each, "changeover_s": 120 if n else 0} for n, each in enumerate(parts)]
    changing = 2 * (len(parts) - 1)
    whole = sum(parts) + changing + clear + 3
    template = PartOrder(minutes=whole, parts=rows)
    assert minutes_here(template, minutes=whole, clear_minutes=clear) == parts
    found = minutes_here(template, minutes=here, clear_minutes=clear)
    room = max(0, here - clear - changing)
    assert all(each >= 5 for each in found)
    assert sum(found) <= max(room, 5 * len(parts)) or min(found) == 5
    ranks = sorted(range(len(parts)), key=lambda n: parts[n])
    assert [found[n] for n in ranks] == sorted(found)
