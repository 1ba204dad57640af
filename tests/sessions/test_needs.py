"""Nothing dangles: what a role, a person or a pitch that goes leaves uncovered, who could take it, and taking it."""

from datetime import date, time, timedelta
from typing import Any

import pytest

from club import actions as club
from club.choices import Role
from club.models import StaffRole
from club.queries import actor_of, roster, today
from sessions import pages, queries
from sessions.pages.needs import Needs, needs_of
from sessions.queries.uncovered import uncovered
from tests.factories import UserFactory, ZoneFactory, role_for
from tests.factories_sessions import planned_session, weekly_slot
from tests.people import World

# Roles, sessions, slots; who is busy; zones, bookings, weekly slots; outside a request the settings three times.
QUERIES = 10


@pytest.fixture
def zone(db: None) -> Any:
    return ZoneFactory(name="North", pitch__name="Long Meadow", length_m=60, width_m=40)


def tomorrow(days: int = 1) -> date:
    return today() + timedelta(days=days)


def needs(who: Any) -> Needs:
    return pages.home(actor_of(who)).left


def coaching(world: World) -> StaffRole:
    return StaffRole.objects.get(user=world.people.coach, role=Role.COACH)


def test_a_club_in_which_nothing_has_gone_needs_nobody(world: World, zone: Any) -> None:
    planned_session(place=world.own, day=tomorrow(), zones=[zone], staff=[world.people.coach])
    planned_session(place=world.own, day=tomorrow(2))  # nobody was ever down for it
    weekly_slot(place=world.own, coaches=[world.people.coach])
    assert not needs(world.people.director)


def test_a_role_that_ends_leaves_its_sessions_to_the_director_with_who_is_free(
    world: World, zone: Any
) -> None:
    session = planned_session(place=world.own, day=tomorrow(), zones=[zone], staff=[world.people.coach])
    planned_session(place=world.own, day=tomorrow(2), staff=[world.people.helper, world.people.coach])
    weekly_slot(place=world.own, coaches=[world.people.coach])
    second = UserFactory(name="Sue Second")
    role_for(user=second, role=Role.COACH, age_group=world.own.age_group)
    planned_session(place=world.colleague, day=tomorrow(), staff=[world.people.colleague])
    club.end_role(role=coaching(world))
    found = needs(world.people.director)
    day = tomorrow()
    assert [(each.about, each.text) for each in found.shown] == [
        (f"U12 Otters, {day:%a} {day.day} {day:%b} 18:00", "nobody leads it any more."),
        (f"U12 Otters, {tomorrow(2):%a} {tomorrow(2).day} {tomorrow(2):%b} 18:00", "only one adult is left."),
        (found.shown[2].about, "no coach is left for this weekly slot."),
    ]
    # Coaches of the team first, then its helpers, then anybody else; who is with another team then is not offered.
    assert [each.label for each in found.shown[0].offers] == [
        "Give it to Sue Second",
        "Give it to Hedy Helper",
    ]
    assert found.shown[1].offers[0].label == "Add Sue Second"
    # A coach of the age group sees it, the coach of another one doesn't.
    assert len(needs(second).shown) == 3
    assert not needs(world.people.colleague)
    assert session.pk


def test_one_tap_gives_it_away_and_the_need_has_gone(world: World, client: Any) -> None:
    session = planned_session(place=world.own, day=tomorrow(), staff=[world.people.coach])
    club.end_role(role=coaching(world))
    (need,) = needs(world.people.director).shown
    client.force_login(world.people.director)
    page = client.get("/").content.decode()
    assert "Give it to Hedy Helper" in page
    offer = next(each for each in need.offers if each.label == "Give it to Hedy Helper")
    done = client.post(need.act, {"version": need.version, offer.name: offer.value}, follow=True)
    assert "is covered" in done.content.decode()
    fresh = queries.session_by_id(session.public_id)
    assert fresh is not None
    assert [(each["name"], each["part"]) for each in queries.staff_rows_of(fresh)] == [
        ("Hedy Helper", "leads")
    ]
    assert [each.text for each in needs(world.people.director).shown] == []
    # The same tap from another page that was open meanwhile changes nothing.
    again = client.post(need.act, {"version": need.version, offer.name: offer.value}, follow=True)
    assert "Somebody else has just changed" in again.content.decode()


def test_somebody_who_leaves_and_somebody_borrowed(world: World) -> None:
    """Who has left stands nowhere; who was borrowed from another age group still stands."""
    planned_session(place=world.own, day=tomorrow(), staff=[world.people.colleague, world.people.coach])
    assert not needs(world.people.director)
    club.close_account(user=world.people.colleague)
    (need,) = needs(world.people.director).shown
    assert need.text == "nobody leads it any more."


def test_a_pitch_that_closes_offers_what_is_free_and_nobody_elses(
    world: World, zone: Any, client: Any
) -> None:
    session = planned_session(place=world.own, day=tomorrow(), zones=[zone], staff=[world.people.coach])
    booked = ZoneFactory(name="A", pitch__name="Booked", length_m=60, width_m=40)
    planned_session(place=world.colleague, day=tomorrow(), zones=[booked])
    weekly = ZoneFactory(name="B", pitch__name="Weekly", length_m=60, width_m=40)
    weekly_slot(
        place=world.foreign, zones=[weekly], weekday=tomorrow().isoweekday(), starts=time(17), ends=time(20)
    )
    small = ZoneFactory(name="C", pitch__name="Small", length_m=20, width_m=20)
    alike = ZoneFactory(name="D", pitch__name="Alike", length_m=60, width_m=38)
    club.retire_pitch(pitch=zone.pitch, version=zone.pitch.version)
    (need,) = needs(world.people.coach).shown
    assert [each.label for each in need.offers] == ["Move it to Alike, D", "Move it to Small, C"]
    client.force_login(world.people.coach)
    client.post(need.act, {"version": need.version, "zone": str(alike.public_id)})
    fresh = queries.session_by_id(session.public_id)
    assert fresh is not None
    assert [each["zone"] for each in queries.zones_of(fresh)] == ["D"]
    assert not needs(world.people.coach)
    assert small.pk


@pytest.mark.parametrize("what", ["role", "person", "pitch"])
def test_the_form_says_beforehand_what_it_would_leave(
    world: World, zone: Any, client: Any, what: str
) -> None:
    planned_session(place=world.own, day=tomorrow(), zones=[zone], staff=[world.people.coach])
    weekly_slot(place=world.own, zones=[zone], coaches=[world.people.coach])
    address = {
        "role": f"/club/staff/roles/{coaching(world).public_id}/end/",
        "person": f"/club/staff/{world.people.coach.public_id}/close/",
        "pitch": f"/club/pitches/{zone.pitch.public_id}/retire/",
    }[what]
    client.force_login(world.people.director)
    page = client.get(address)
    day = tomorrow()
    title = f"U12 Otters, {day:%a} {day.day} {day:%b} 18:00"
    lacks = "no pitch" if what == "pitch" else "nobody leads"
    assert page.context["left"][0] == f"{title}: {lacks}"
    assert len(page.context["left"]) == 2
    assert "2 sessions and weekly slots would be left uncovered" in page.content.decode()
    before = uncovered(roster())
    assert before == []  # asking changes nothing
    client.post(address, {"version": zone.pitch.version})
    # What was said beforehand is what stands there afterwards.
    assert len(uncovered(roster())) == 2
    assert len(needs(world.people.director).shown) == 2


def test_what_is_uncovered_costs_the_same_for_one_and_for_five(
    world: World, zone: Any, django_assert_num_queries: Any
) -> None:
    for days in range(1, 6):
        planned_session(place=world.own, day=tomorrow(days), zones=[zone], staff=[world.people.coach])
        if days == 1:
            club.end_role(role=coaching(world))
            club.retire_pitch(pitch=zone.pitch, version=zone.pitch.version)
        if days in (1, 5):
            today()
            with django_assert_num_queries(QUERIES):
                who = roster()
                needs_of(uncovered(who), who)
    assert needs(world.people.director).more == 4


@pytest.mark.parametrize(("what", "field"), [("lead", "coaches"), ("place", "zones")])
def test_a_slot_that_is_uncovered_is_one_tap_from_the_field_that_mends_it(
    world: World, zone: Any, client: Any, what: str, field: str
) -> None:
    slot = weekly_slot(place=world.own, zones=[zone], coaches=[world.people.coach])
    if what == "lead":
        second = UserFactory(name="Sue Second")
        role_for(user=second, role=Role.COACH, age_group=world.own.age_group)
        club.end_role(role=coaching(world))
    else:
        second = world.people.coach
        club.retire_pitch(pitch=zone.pitch, version=zone.pitch.version)
    (need,) = needs(world.people.director).shown
    address, fragment = need.url.split("#")
    client.force_login(world.people.director)
    assert f'href="{need.url}"' in client.get("/").content.decode()
    form = client.get(address)
    assert f'id="{fragment}"' in form.content.decode()
    assert fragment == form.context["form"][field].auto_id
    given = {"coaches": str(second.public_id)} if what == "lead" else {"zones": str(ZoneFactory().public_id)}
    kept = {"zones": [str(zone.public_id)], "coaches": [str(world.people.coach.public_id)]}
    dates = {"first_day": slot.first_day.isoformat(), "last_day": slot.last_day.isoformat()}
    typed = {"weekday": slot.weekday, "starts": "18:00", "ends": "19:15", "version": slot.version, **dates}
    assert client.post(address, {**kept, **typed, **given}).status_code == 302
    assert not needs(world.people.director)


def test_who_may_not_change_a_slot_is_told_who_can_and_led_nowhere_closed(world: World, client: Any) -> None:
    weekly_slot(place=world.own, coaches=[world.people.coach])
    second = UserFactory(name="Sue Second")
    role_for(user=second, role=Role.COACH, age_group=world.own.age_group)
    club.end_role(role=coaching(world))
    (need,) = needs(second).shown
    assert need.text == "no coach is left for this weekly slot. The director can change the slot."
    client.force_login(second)
    assert client.get(need.url).status_code == 200
