"""A pitch is off: what the page proposes can be done as it says, and what is hit is nowhere on that pitch afterwards."""

from datetime import date, time, timedelta
from typing import Any

import pytest
from django.urls import reverse

from club.models import ClubSettings
from club.queries import actor_of, today
from sessions import actions
from sessions.choices import State, WhyCancelled
from sessions.models import TrainingSession
from sessions.queries.mending.ground import mend_pitch
from sessions.queries.mending.lost import Lost
from sessions.queries.slots.weekly import free_slots, slots_of
from tests.factories import PitchFactory, ZoneFactory
from tests.factories_sessions import planned_session, weekly_slot
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db
SIX, SEVEN = time(18, 0), time(19, 0)


@pytest.fixture
def day() -> date:
    return today() + timedelta(days=2)


@pytest.fixture
def grass() -> list[Any]:
    pitch = PitchFactory(name="Mill Field", has_lights=True)
    return [ZoneFactory(pitch=pitch, name=name, position=n) for n, name in enumerate(("North", "South"))]


def hall(lights: bool = True) -> Any:
    return ZoneFactory(pitch=PitchFactory(name="The Cage", has_lights=lights), name="Court")


def evening(
    world: World, day: date, zones: list[Any], *, place: Any = None, starts: time = SIX, ends: time = SEVEN
) -> Any:
    place = place or world.own
    staff = [world.people.coach] if place is world.own else []
    return planned_session(place=place, day=day, starts=starts, ends=ends, zones=zones, staff=staff)


def lost(grass: list[Any], day: date, **more: Any) -> Lost:
    return Lost(grass[0].pitch, day, more.pop("last", day), **more)


def address(grass: list[Any], day: date, **more: Any) -> str:
    asked = {"pitch": grass[0].pitch.public_id, "first": day, **more}
    return f"{reverse('sessions:pitch-lost')}?{'&'.join(f'{name}={value}' for name, value in asked.items())}"


def test_a_session_goes_where_room_is_at_the_same_time(world: World, grass: list[Any], day: date) -> None:
    court = hall()
    row = evening(world, day, grass)
    found = mend_pitch(lost(grass, day))
    assert [(each.code, each.zones, each.starts, each.lost_minutes) for each in found.steps] == [
        ("free", (court,), SIX, 0)
    ]
    assert [each.pk for each in found.hit] == [row.pk]
    assert found.found.proven


@pytest.mark.parametrize(("lights", "way"), [(True, ("free", "The Cage")), (False, ("moved", "Mill Field"))])
def test_a_pitch_without_lights_is_none_after_dusk(
    world: World, grass: list[Any], day: date, lights: bool, way: tuple[str, str]
) -> None:
    """London: civil dusk is before 22:15 on every day of the year (an almanac, from memory)."""
    ClubSettings.objects.update(latitude="51.5", longitude="-0.1", time_zone="Europe/London")
    hall(lights=lights)
    evening(world, day, grass, starts=time(22, 15), ends=time(23, 15))
    found = mend_pitch(lost(grass, day))
    assert [(each.code, each.zones[0].pitch.name) for each in found.steps] == [way]


def test_another_teams_empty_slot_is_left_to_it(world: World, grass: list[Any], day: date) -> None:
    court = hall()
    evening(world, day, grass)
    weekly_slot(place=world.foreign, zones=[court], weekday=day.isoweekday(), starts=SIX, ends=SEVEN)
    found = mend_pitch(lost(grass, day))
    assert all(court not in each.zones or each.day != day for each in found.steps)


def test_two_on_one_court_share_by_halves_or_days_and_never_at_once(
    world: World, grass: list[Any], day: date
) -> None:
    hall()
    evening(world, day, [grass[0]])
    evening(world, day, [grass[1]], place=world.foreign)
    found = mend_pitch(lost(grass, day))
    # The database's own constraint refuses a space that is held twice.
    actions.mend_sessions(
        actor=actor_of(world.people.director),
        steps=[actions.pitch_step(each) for each in found.steps],
        why=WhyCancelled.PITCH,
    )
    assert not mend_pitch(lost(grass, day)).hit
    held = TrainingSession.objects.filter(bookings__zone__pitch=grass[0].pitch, day=day)
    assert not held.exists()


def test_nothing_there_and_nowhere_to_go_is_off_with_its_reason(
    world: World, grass: list[Any], day: date
) -> None:
    row = evening(world, day, grass)
    client = signed_in(world.people.coach)
    here = address(grass, day, last=day + timedelta(days=20))
    page = client.get(here).context["changes"]
    assert [each.becomes.split(":")[0] for each in page.steps] == ["is off"]
    answer = client.post(here, {"seen": page.seen, "session": str(row.public_id)}, follow=True)
    row.refresh_from_db()
    assert (row.state, row.why_cancelled) == (State.CANCELLED, WhyCancelled.PITCH)
    assert "no training on" in answer.context["done"]
    assert answer.context["changes"].hit == 0


def test_what_is_done_is_what_was_seen(world: World, grass: list[Any], day: date) -> None:
    hall()
    row = evening(world, day, grass)
    client = signed_in(world.people.coach)
    here = address(grass, day)
    seen = client.get(here).context["changes"].seen
    actions.move_session(
        session=row, version=row.version, when=actions.DayAndTimes(day, time(17, 0), time(18, 0))
    )
    answer = client.post(here, {"seen": seen, "session": str(row.public_id)}, follow=True)
    assert "Something has changed meanwhile" in answer.content.decode()
    row.refresh_from_db()
    assert list(row.bookings.values_list("zone__pitch__name", flat=True).distinct()) == ["Mill Field"]


def test_all_of_it_in_one_go_and_the_words_for_the_parents(
    world: World, grass: list[Any], day: date, settings: Any
) -> None:
    # It writes each of several sessions, one after the other.
    settings.MIDDLEWARE = [each for each in settings.MIDDLEWARE if "zeal" not in each]
    hall()
    rows = [evening(world, day, grass, starts=time(at, 0), ends=time(at + 1, 0)) for at in (17, 18)]
    client = signed_in(world.people.director)
    page = client.get(address(grass, day)).context["changes"]
    assert page.may_all
    answer = client.post(address(grass, day), {"seen": page.seen}, follow=True)
    assert answer.context["done"] == page.chat
    assert answer.context["done"].count("The Cage: Court") == 2
    for row in rows:
        row.refresh_from_db()
        assert list(row.bookings.values_list("zone__pitch__name", flat=True)) == ["The Cage"]
        assert row.staff.count() == 1


def test_a_coach_changes_nothing_of_another_age_group(world: World, grass: list[Any], day: date) -> None:
    hall()
    row = evening(world, day, grass, place=world.foreign)
    client = signed_in(world.people.coach)
    page = client.get(address(grass, day)).context["changes"]
    assert [each.may for each in page.steps] == [False]
    client.post(address(grass, day), {"seen": page.seen, "session": str(row.public_id)})
    row.refresh_from_db()
    assert row.bookings.filter(zone__pitch=grass[0].pitch).exists()


def test_the_director_closes_it_so_that_weekly_times_there_are_not_offered(
    world: World, grass: list[Any], day: date
) -> None:
    weekly_slot(place=world.own, zones=grass, weekday=day.isoweekday())
    here = address(grass, day)
    for person, status in ((world.people.coach, 404), (world.people.director, 200)):
        client = signed_in(person)
        answer = client.post(here, {"do": "close"}, follow=True)
        assert answer.status_code == status
    assert answer.context["page"].is_closed
    days = [free.day for free in free_slots(slots_of(day, day), [], day, day)]
    assert days == []
    assert "overlap" in client.post(here, {"do": "close"}, follow=True).content.decode()


def test_fewer_spaces_than_before_are_said(world: World, grass: list[Any], day: date) -> None:
    hall()
    evening(world, day, grass)
    page = signed_in(world.people.coach).get(address(grass, day)).context["changes"]
    assert [each.notes for each in page.steps] == [["1 space instead of 2"]]


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"first": "2020-01-01"}, "first"),
        ({"last": "2020-01-01"}, "last"),
        ({"last": "2099-12-31"}, "last"),
        ({"starts": "18:00"}, "ends"),
        ({"starts": "19:00", "ends": "18:00"}, "ends"),
        ({"pitch": "mud"}, "pitch"),
    ],
)
def test_what_can_be_no_lost_pitch_is_said_beside_its_field(
    world: World, grass: list[Any], day: date, more: dict[str, Any], field: str
) -> None:
    answer = signed_in(world.people.coach).get(address(grass, day, **more))
    assert (answer.status_code, list(answer.context["form"].errors)) == (400, [field])


def test_the_page_asks_as_often_however_many_are_hit(world: World, grass: list[Any], day: date) -> None:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    hall()
    client, counts = signed_in(world.people.director), []
    for at in (15, 17, 19):
        evening(world, day, grass, starts=time(at, 0), ends=time(at + 1, 0))
        client.get(address(grass, day))
        with CaptureQueriesContext(connection) as asked:
            assert client.get(address(grass, day)).status_code == 200
        counts.append(len(asked))
    assert counts == [PAGE_QUERIES] * 3


PAGE_QUERIES = 10
