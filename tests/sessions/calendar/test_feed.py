"""A calendar as other programs read it: valid, right over both changes of the clocks, moved and cancelled in place."""

from datetime import UTC, date, datetime, time, timedelta

import icalendar
import pytest
import recurring_ical_events
import time_machine
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from club.queries import today
from sessions import actions
from sessions.actions import DayAndTimes
from sessions.choices import Kind, Reach, WhyCancelled
from sessions.models import CalendarLink
from sessions.queries.calendar.links import CalendarOf, calendar_link_rows
from tests.factories import ZoneFactory
from tests.factories_sessions import planned_session, weekly_slot
from tests.people import World
from tests.sessions.calendar.reading import LONDON, address, entries_in, entry, local, of_team, text_at
from tests.sessions.test_sharing import plain

pytestmark = pytest.mark.django_db

# London: clocks go back on 25 October 2026 and forward on 28 March 2027 (last Sundays; Summer Time Order 2002, from memory).
BACK, FORWARD = date(2026, 10, 25), date(2027, 3, 28)


@pytest.mark.parametrize("change", [BACK, FORWARD])
def test_wall_clock_times_stay_over_a_change_of_the_clocks(world: World, change: date) -> None:
    with time_machine.travel(datetime.combine(change, time(12), UTC) - timedelta(days=4)):
        days = [change + timedelta(days=n) for n in (-2, 0, 2)]
        rows = [planned_session(place=world.own, day=day) for day in days]
        slot = weekly_slot(place=world.own, first_day=days[0], weekday=days[0].isoweekday())
        text = text_at(address(world.people.coach, of_team(world.own)))
    found = entries_in(text)
    for row, day in zip(rows, days, strict=True):
        assert local(found[str(row.public_id)].dtstart.value) == f"{day} 18:00"
        assert local(found[str(row.public_id)].dtend.value) == f"{day} 19:15"
    weekly = [each for uid, each in found.items() if uid.startswith(str(slot.public_id))]
    assert len(weekly) == 8
    assert {local(each.dtstart.value)[-5:] for each in weekly} == {"18:00"}
    assert {each.status.value for each in weekly} == {"TENTATIVE"}
    # Another library lays every entry out on the days around the change.
    spread = recurring_ical_events.of(icalendar.Calendar.from_ical(text)).between(
        days[0], days[2] + timedelta(1)
    )
    shown = sorted(f"{each['DTSTART'].dt.astimezone(LONDON):%Y-%m-%d %H:%M}" for each in spread)
    assert shown == sorted([*(f"{day} 18:00" for day in days), f"{days[0]} 18:00"])


def test_a_session_in_the_night_of_the_change_lasts_what_passes(world: World) -> None:
    with time_machine.travel(datetime(2026, 10, 24, 12, tzinfo=UTC)):
        row = planned_session(place=world.own, day=BACK, starts=time(0, 30), ends=time(2, 30))
        found = entry(address(world.people.coach, of_team(world.own)), row)
    assert found.dtend.value - found.dtstart.value == timedelta(hours=3)


def test_a_moved_session_is_the_same_entry_at_another_time(world: World) -> None:
    row = planned_session(place=world.own, day=today() + timedelta(days=3))
    where = address(world.people.coach, of_team(world.own))
    before = entry(where, row)
    when = DayAndTimes(today() + timedelta(days=4), time(17), time(18))
    actions.move_session(session=row, version=row.version, when=when)
    after = entry(where, row)
    assert (before.sequence.value, after.sequence.value) == ("0", "1")
    assert (after.status.value, local(after.dtstart.value)) == ("CONFIRMED", f"{when.day} 17:00")
    assert len(entries_in(text_at(where))) == 1


@pytest.mark.parametrize("reach", list(Reach))
def test_a_cancelled_session_says_so_in_every_calendar_that_had_it(world: World, reach: Reach) -> None:
    zone = ZoneFactory()
    row = planned_session(
        place=world.own, day=today() + timedelta(days=3), zones=[zone], staff=[world.people.coach]
    )
    thing = {"person": world.people.coach, "team": world.own.squad, "pitch": zone.pitch, "club": None}[reach]
    where = address(world.people.director, CalendarOf(reach, thing))
    assert entry(where, row).status.value == "CONFIRMED"
    actions.cancel_session(session=row, version=row.version, why=WhyCancelled.WEATHER)
    after = entry(where, row)
    assert (after.status.value, after.sequence.value) == ("CANCELLED", "1")
    assert after.summary.value.startswith("Cancelled: ")
    assert after.transp.value == "TRANSPARENT"


def test_whose_days_stand_in_which_calendar(world: World) -> None:
    zone, day = ZoneFactory(), today() + timedelta(days=3)
    mine = planned_session(place=world.own, day=day, zones=[zone], staff=[world.people.coach])
    teams = planned_session(place=world.own, day=day + timedelta(days=1))
    foreign = planned_session(place=world.foreign, day=day)
    over = planned_session(place=world.own, day=today() - timedelta(days=36))
    seen = {
        CalendarOf(Reach.PERSON, world.people.coach): {mine},
        of_team(world.own): {mine, teams},
        CalendarOf(Reach.PITCH, zone.pitch): {mine},
        CalendarOf(Reach.CLUB): {mine, teams, foreign},
    }
    for of, rows in seen.items():
        uids = set(entries_in(text_at(address(world.people.director, of))))
        assert uids == {str(each.public_id) for each in rows}, of
        assert str(over.public_id) not in uids


def test_place_and_coach_are_left_out_unless_switched_on(world: World) -> None:
    zone = ZoneFactory(name="Bullrush corner")
    world.people.coach.name = "Odalys Penhallow"
    world.people.coach.save()
    for reach, thing in ((Reach.TEAM, world.own.squad), (Reach.PITCH, zone.pitch), (Reach.CLUB, None)):
        of = CalendarOf(reach, thing)
        row = planned_session(
            place=world.own,
            day=today() + timedelta(days=3),
            starts=time(8 + list(Reach).index(reach)),
            ends=time(9 + list(Reach).index(reach)),
            zones=[zone],
            staff=[world.people.coach],
            note="The gate sticks",
        )
        bare = text_at(address(world.people.director, of))
        for word in ("Bullrush", zone.pitch.name, "Penhallow", "gate"):
            assert word not in bare, (reach, word)
        full = entry(address(world.people.director, of, with_place=True, with_coach=True), row)
        assert full.location.value == f"{zone.pitch.name}: Bullrush corner"
        assert full.description.value == "Led by Odalys Penhallow"


def test_a_pitch_that_is_shut_is_named_only_where_places_are(world: World) -> None:
    zone = ZoneFactory()
    actions.close_days(title="Reseeding", first_day=today(), last_day=today(), pitch_id=zone.pitch_id)
    actions.close_days(title="Half-term", first_day=today(), last_day=today())
    bare, full = (
        text_at(address(world.people.director, of_team(world.own), with_place=on)) for on in (False, True)
    )
    assert "Half-term" in bare
    assert zone.pitch.name not in bare
    assert zone.pitch.name in full


def test_nothing_is_usual_on_a_closed_day_and_what_is_planned_stands_once(world: World) -> None:
    slot = weekly_slot(place=world.own)
    shut, planned = today() + timedelta(weeks=1), today() + timedelta(weeks=2)
    actions.close_days(title="Half-term", first_day=shut, last_day=shut + timedelta(days=4))
    row = planned_session(place=world.own, day=planned, slot=slot)
    found = entries_in(text_at(address(world.people.coach, of_team(world.own))))
    assert f"{slot.public_id}-{shut:%Y%m%d}" not in found
    assert f"{slot.public_id}-{planned:%Y%m%d}" not in found
    assert f"{slot.public_id}-{planned + timedelta(weeks=1):%Y%m%d}" in found
    assert str(row.public_id) in found
    closed = next(each for each in found.values() if each.summary.value == "Closed: Half-term")
    assert (closed.dtstart.value, closed.dtend.value) == (shut, shut + timedelta(days=5))


def test_a_match_entered_by_hand_stands_on_its_day(world: World) -> None:
    made = actions.add_ledger_entry(
        squad_id=world.own.squad.pk,
        day=today() + timedelta(days=5),
        kind=Kind.MATCH,
        title="Ridgeway away",
        minutes=60,
        effort=6,
        entered_by_id=world.people.coach.pk,
    )
    found = entry(address(world.people.coach, of_team(world.own)), made)
    assert (found.summary.value, found.dtstart.value) == ("Ridgeway away", made.day)


def test_what_a_program_has_already_is_not_sent_again(world: World) -> None:
    row = planned_session(place=world.own, day=today() + timedelta(days=3))
    where = address(world.people.coach, of_team(world.own))
    first = Client().get(where)
    assert first["Cache-Control"] == "private, no-cache"
    for asked in ({"If-None-Match": first["ETag"]}, {"If-Modified-Since": first["Last-Modified"]}):
        answer = Client().get(where, headers=asked)
        assert (answer.status_code, answer.content, answer["ETag"]) == (304, b"", first["ETag"])
    with time_machine.travel(timezone.now() + timedelta(minutes=2)):
        actions.cancel_session(session=row, version=row.version, why=WhyCancelled.WEATHER)
        for asked in ({"If-None-Match": first["ETag"]}, {"If-Modified-Since": first["Last-Modified"]}):
            assert Client().get(where, headers=asked).status_code == 200


def test_addresses_that_open_nothing_are_told_apart_by_nobody(world: World) -> None:
    of = of_team(world.own)
    ended, over = (address(world.people.coach, of) for _ in range(2))
    rows = CalendarLink.objects.order_by("pk")
    actions.end_calendar(of=of, link_id=rows[0].public_id)
    CalendarLink.objects.filter(pk=rows[1].pk).update(expires_at=timezone.now() - timedelta(seconds=1))
    answers = [Client().get(each) for each in (ended, over, f"/calendar/{'x' * 43}.ics")]
    assert {each.status_code for each in answers} == {404}
    bodies = {plain(each) for each in answers}
    assert len(bodies) == 1
    assert "It has run out, or was deleted." in bodies.pop()


def test_ones_own_calendar_ends_with_the_last_role(world: World) -> None:
    where = address(world.people.helper, CalendarOf(Reach.PERSON, world.people.helper))
    text_at(where)
    world.people.helper.roles.all().delete()
    assert Client().get(where).status_code == 404


def test_an_address_that_is_read_too_often_waits(world: World) -> None:
    where = address(world.people.coach, of_team(world.own))
    with time_machine.travel(timezone.now(), tick=False):
        codes = [Client().get(where).status_code for _ in range(61)]
    assert (set(codes[:60]), codes[60]) == ({200}, 429)


def test_the_secret_is_not_kept_and_the_day_of_reading_is(world: World) -> None:
    of = of_team(world.own)
    where = address(world.people.coach, of)
    assert where[10:-4] not in str(CalendarLink.objects.values())
    (before,) = calendar_link_rows(of)
    assert (before.last_read_on, before.made_by) == (None, "Carl Coach")
    text_at(where)
    assert calendar_link_rows(of)[0].last_read_on == today()


@pytest.mark.parametrize("rows", [1, 6])
def test_reading_costs_the_same_queries_however_much_there_is(world: World, rows: int) -> None:
    zone = ZoneFactory()
    for n in range(rows):
        planned_session(
            place=world.own, day=today() + timedelta(days=n), staff=[world.people.coach], zones=[zone]
        )
        weekly_slot(place=world.own, starts=time(8 + n), ends=time(8 + n, 50), coaches=[world.people.coach])
    things = {"person": world.people.coach, "team": world.own.squad, "pitch": zone.pitch, "club": None}
    asked = {}
    for reach in Reach:
        where = address(world.people.director, CalendarOf(reach, things[reach]), with_place=True)
        text_at(where)
        with CaptureQueriesContext(connection) as taken:
            text_at(where)
        # What counts the readings of a minute, and the savepoint around the note of the day, come on top.
        asked[str(reach)] = sum("training_" in each["sql"] or "club_" in each["sql"] for each in taken)
    assert asked == {"person": 11, "team": 8, "pitch": 6, "club": 8}
