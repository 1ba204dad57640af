"""A coach is away: whoever is proposed can be put down, children are never with fewer adults than the figure says."""

from datetime import date, time, timedelta
from typing import Any

import pytest
from django.db import transaction
from django.urls import reverse

from club import queries as club
from club.choices import Role
from club.models import StaffRole
from club.queries import today
from sessions import actions
from sessions.choices import StaffPart, State, WhyCancelled
from sessions.queries.mending.cover import SessionCover, cover_for
from sessions.queries.mending.lost import Lost
from sessions.queries.over_all import over_all
from sessions.queries.rows import session_by_id
from tests.factories import ZoneFactory
from tests.factories_sessions import planned_session
from tests.people import World, signed_in

SIX, SEVEN = time(18, 0), time(19, 0)


@pytest.fixture
def day() -> date:
    return today() + timedelta(days=2)


def evening(world: World, day: date, staff: list[Any], *, place: Any = None, players: int = 12) -> Any:
    return planned_session(
        place=place or world.own,
        day=day,
        starts=SIX,
        ends=SEVEN,
        zones=[ZoneFactory()],
        staff=staff,
        players_expected=players,
    )


def address(who: Any, day: date, **more: Any) -> str:
    asked = {"person": who.public_id, "first": day, **more}
    return f"{reverse('sessions:coach-away')}?{'&'.join(f'{name}={value}' for name, value in asked.items())}"


def do(actor: Any, steps: list[SessionCover]) -> None:
    taken = [actions.cover_step(each) for each in steps]
    actions.mend_sessions(actor=actor, steps=taken, why=WhyCancelled.STAFF)


@pytest.mark.django_db
def test_somebody_who_may_lead_is_named_and_put_down(world: World, day: date) -> None:
    people = world.people
    row = evening(world, day, [people.coach, people.helper])
    client = signed_in(people.director)
    answer = client.get(address(people.coach, day))
    changes = answer.context["changes"]
    assert [each.session.pk for each in changes.steps] == [row.pk]
    client.post(address(people.coach, day), {"seen": changes.seen, "session": str(row.public_id)})
    down = dict(row.staff.values_list("user_id", "part"))
    assert people.coach.pk not in down
    assert list(down.values()).count(StaffPart.LEADS) == 1
    leads = next(user for user, part in down.items() if part == StaffPart.LEADS)
    roles = [each for each in club.roster().roles if each.user_id == leads]
    assert any(each.role in (Role.COACH, Role.DIRECTOR) for each in roles)
    assert not cover_for(Lost(people.coach, day, day)).hit


@pytest.mark.django_db
def test_who_only_helps_and_is_not_needed_is_taken_off(world: World, day: date) -> None:
    people = world.people
    row = evening(world, day, [people.coach, people.director, people.helper], players=4)
    found = cover_for(Lost(people.helper, day, day))
    assert [each.code for each in found.steps] == ["enough"]
    do(club.actor_of(people.director), found.steps)
    assert list(row.staff.order_by("-part").values_list("user_id", flat=True)) == [
        people.coach.pk,
        people.director.pk,
    ]


@pytest.mark.django_db
def test_what_is_done_is_what_was_seen_and_only_by_who_plans_it(world: World, day: date) -> None:
    people = world.people
    row = evening(world, day, [people.coach, people.helper], place=world.foreign)
    here = address(people.coach, day)
    client = signed_in(people.coach)
    changes = client.get(here).context["changes"]
    assert [each.may for each in changes.steps] == [False]
    client.post(here, {"seen": changes.seen, "session": str(row.public_id)})
    director = signed_in(people.director)
    director.post(here, {"seen": "another", "session": str(row.public_id)})
    assert row.staff.filter(user=people.coach).exists()


@pytest.mark.django_db
def test_nobody_at_all_is_off_and_says_why(world: World, day: date) -> None:
    coach = world.people.coach
    row = evening(world, day, [coach])
    StaffRole.objects.exclude(user=coach).delete()
    client = signed_in(coach)
    changes = client.get(address(coach, day)).context["changes"]
    assert [each.is_off for each in changes.steps] == [True]
    sent = {"seen": changes.seen, "session": str(row.public_id)}
    answer = client.post(address(coach, day), sent, follow=True)
    row.refresh_from_db()
    assert (row.state, row.why_cancelled) == (State.CANCELLED, WhyCancelled.STAFF)
    assert "a coach can’t come" in answer.context["done"]


@pytest.mark.django_db
def test_a_team_without_its_coach_joins_another_of_nearly_its_age(world: World, day: date) -> None:
    """Its own people stay with it: those of both look after all."""
    people = world.people
    group = world.foreign.age_group
    group.under = world.own.age_group.under
    group.save()
    guest = evening(world, day, [people.coach, people.helper], players=8)
    host = evening(world, day, [people.director], place=world.foreign, players=8)
    StaffRole.objects.exclude(user__in=[people.coach, people.director, people.helper]).delete()
    found = cover_for(Lost(people.coach, day, day))
    assert [(each.code, each.host and each.host.pk) for each in found.steps] == [("joins", host.pk)]
    do(club.actor_of(people.director), found.steps)
    both = [session_by_id(each.public_id) for each in (guest, host)]
    assert [over_all(each).players for each in both if each] == [16, 16]
    assert all(each.staff.filter(part=StaffPart.LEADS).count() == 1 for each in (guest, host))


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("more", "field"), [({"first": "2020-01-01"}, "first"), ({"person": "nobody"}, "person")]
)
def test_what_can_be_no_absence_is_said_beside_its_field(
    world: World, day: date, more: dict[str, Any], field: str
) -> None:
    answer = signed_in(world.people.coach).get(address(world.people.coach, day, **more))
    assert (answer.status_code, list(answer.context["form"].errors)) == (400, [field])


@pytest.mark.parametrize("days", [1, 7, 14])
def test_every_absence_of_the_demo_club_can_be_covered_as_proposed(demo_database: str, days: int) -> None:
    """After all that is proposed nobody is where they are away, and each session has its adults."""
    first = today()
    director = club.actor_of(next(each for each in club.people() if each.email == "director@demo.example"))
    hit = 0
    for person in club.people():
        away = Lost(person, first, first + timedelta(days=days - 1))
        with transaction.atomic():
            found = cover_for(away)
            hit += len(found.hit)
            lacked = {each.pk for each in found.hit if over_all(each).adults < over_all(each).needed}
            assert {each.pk for each in found.hit} <= {each.session.pk for each in found.steps}
            do(director, found.steps)
            again = cover_for(away)
            assert not again.hit
            for each in found.steps:
                if not each.is_off and each.session.pk not in lacked:
                    row = session_by_id(each.session.public_id)
                    assert row is not None
                    night = over_all(row)
                    assert night.adults >= night.needed, (person, each)
            transaction.set_rollback(True)
    assert hit
