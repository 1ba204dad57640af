"""“Plan a session” without a slot begins with the coach's next free one, and says so in a sentence."""

from datetime import datetime, time, timedelta
from typing import Any

import pytest
from django.urls import reverse

from club.queries import actor_of, club_now, today
from sessions import actions, queries
from sessions.choices import State, WhyCancelled
from sessions.models import TrainingSession
from tests.factories import ZoneFactory
from tests.factories_sessions import planned_session, weekly_slot
from tests.people import World, signed_in

IN_THREE = timedelta(days=3)


@pytest.fixture
def coach(world: World) -> Any:
    return signed_in(world.people.coach)


def in_three_days(**given: Any) -> Any:
    """A slot that begins in three days, on that day's weekday."""
    day = today() + IN_THREE
    return weekly_slot(**{"first_day": day, "weekday": day.isoweekday(), **given})


def page(coach: Any, asked: str = "") -> Any:
    return coach.get(reverse("sessions:new") + asked)


def sent(form: Any, **typed: Any) -> dict[str, Any]:
    """The form as it is shown, with some fields typed over."""
    found = {name: form[name].value() for name in form.fields if form[name].value() is not None}
    found |= {name: f"{found[name]:%H:%M}" for name in ("starts", "ends")} | {"loaded": "{}"}
    return {**found, "start_from": "order", **typed}


def test_it_is_filled_in_from_the_next_free_slot_and_says_which(world: World, coach: Any) -> None:
    zone = ZoneFactory()
    slot = in_three_days(place=world.own, zones=[zone], coaches=[world.people.coach])
    response = page(coach)
    form, day = response.context["form"], today() + IN_THREE
    assert [form[name].value() for name in ("squad", "day", "starts", "zones", "leads")] == [
        str(world.own.squad.public_id),
        day,
        time(18),
        [str(zone.public_id)],
        str(world.people.coach.public_id),
    ]
    said = " ".join(response.content.decode().split())
    team = f"{world.own.age_group.label} {world.own.squad.name}"
    place = f"{zone.pitch.name}: {zone.name}"
    assert f"Next free: <b>{day:%a} {day.day} {day:%b} 18:00–19:15</b>, {team}, {place}</p>" in said
    made = coach.post(reverse("sessions:new"), sent(form))
    row = TrainingSession.objects.get()
    assert made.url == reverse("sessions:parts", args=[row.public_id])
    assert (row.slot_id, row.slot_day, row.parts.count()) == (slot.pk, day, 3)
    [again] = page(coach).context["free"][:1]
    assert again.day == day + timedelta(weeks=1)


@pytest.mark.parametrize(("days", "fills"), [(0, True), (1, False), (7, True)])
def test_another_day_leaves_the_slot_empty_unless_it_is_one_of_its_days(
    world: World, coach: Any, days: int, fills: bool
) -> None:
    slot = in_three_days(place=world.own, coaches=[world.people.coach])
    day = today() + IN_THREE + timedelta(days=days)
    coach.post(reverse("sessions:new"), sent(page(coach).context["form"], day=day.isoformat()))
    row = TrainingSession.objects.get()
    assert (row.slot_id, row.slot_day) == ((slot.pk, day) if fills else (None, None))


def test_slots_that_name_the_coach_go_before_others_of_the_age_group(world: World) -> None:
    sooner = in_three_days(place=world.own)
    actor, now = actor_of(world.people.coach), club_now()
    assert [each.slot.pk for each in queries.next_free_slots(actor, now, most=1)] == [sooner.pk]
    own = in_three_days(
        place=world.own,
        coaches=[world.people.coach],
        first_day=today() + timedelta(days=5),
        weekday=(today() + timedelta(days=5)).isoweekday(),
    )
    assert {each.slot.pk for each in queries.next_free_slots(actor, now, most=9)} == {own.pk}
    in_three_days(place=world.foreign, starts=time(20), ends=time(21))
    director = queries.next_free_slots(actor_of(world.people.director), now, most=9)
    assert len({each.slot.pk for each in director}) == 3
    days = [each.day for each in director]
    assert days == sorted(days)


def test_filled_taken_and_begun_slots_are_passed_over_and_one_that_is_off_is_free_again(
    world: World,
) -> None:
    zone = ZoneFactory()
    next_week = today() + timedelta(days=7)
    planned_session(place=world.foreign, by=world.people.director, zones=[zone], day=next_week)
    slot = weekly_slot(place=world.own, zones=[zone], coaches=[world.people.coach])
    actor = actor_of(world.people.coach)
    at = datetime.combine(today(), time(12))

    def days(now: datetime = at) -> list[int]:
        return [(each.day - today()).days for each in queries.next_free_slots(actor, now, most=9)]

    assert days() == [0, 14, 21]
    assert days(at.replace(hour=18)) == [14, 21]
    session = planned_session(place=world.own, by=world.people.coach, slot=slot, zones=[zone])
    assert session.slot_id == slot.pk
    assert days() == [14, 21]
    actions.cancel_session(session=session, version=session.version, why=WhyCancelled.WEATHER)
    assert TrainingSession.objects.filter(state=State.CANCELLED).count() == 1
    assert days() == [0, 14, 21]


def test_a_slot_or_a_day_that_is_said_is_kept_to_and_without_any_slot_the_form_is_as_ever(
    world: World, coach: Any
) -> None:
    assert page(coach).context["free"] == []
    slot = in_three_days(place=world.own, coaches=[world.people.coach])
    later = today() + IN_THREE + timedelta(weeks=1)
    said = page(coach, f"?slot={slot.public_id}&day={later}")
    assert (said.context["free"], said.context["form"]["day"].value()) == ([], later)
    other = page(coach, f"?day={later}")
    assert (other.context["free"], other.context["slot"]) == ([], None)
    assert other.context["form"]["day"].value() == later
    text = page(coach).content.decode()
    assert f"?slot={slot.public_id}&amp;day={later}" in text
