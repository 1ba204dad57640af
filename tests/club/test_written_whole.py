"""What actions write, to the last field, and what they leave alone."""

from datetime import timedelta
from typing import Any

import pytest
from django.db import models
from django.db.backends.postgresql.psycopg_any import DateRange
from django.http import HttpResponse

from club import access, actions
from club.access import COACHES, DIRECTOR, who_may
from club.actions.conflicts import sentences
from club.choices import LinkKind, Role
from club.models import ClubSettings, OneTimeLink
from club.queries import actor_of, today
from tests.factories import role_for
from tests.people import World


def test_a_view_that_says_who_may_keeps_its_name_and_says_it_for_both_ways() -> None:
    def shelves(request: Any) -> HttpResponse:
        return HttpResponse()

    one, both = who_may(COACHES)(shelves), who_may(COACHES, write=DIRECTOR)(shelves)
    assert (one.__name__, one.who_may, one.who_may_write) == ("shelves", COACHES, COACHES)
    assert (both.who_may, both.who_may_write) == (COACHES, DIRECTOR)


@pytest.mark.django_db
def test_a_player_is_moved_to_the_other_teams_that_one_keeps(world: World) -> None:
    player = world.own.player.public_id
    _, own, others = access.player_and_squads(actor_of(world.people.director), player)
    assert own == world.own.squad
    assert {each.name for each in others} == {world.colleague.squad.name, world.foreign.squad.name}
    assert access.player_and_squads(actor_of(world.people.coach), player)[2] == []


@pytest.mark.django_db
def test_a_keeper_is_written_down_as_one(world: World) -> None:
    made = actions.add_player(squad=world.own.squad, display_name="Kim K", shirt=1, is_keeper=True)
    made.refresh_from_db()
    assert (made.display_name, made.shirt, made.is_keeper) == ("Kim K", 1, True)


@pytest.mark.django_db
def test_a_role_that_would_have_ended_later_ends_today(world: World) -> None:
    role = role_for(user=world.people.stranger, role=Role.READER)
    role.period = DateRange(today() - timedelta(days=30), today() + timedelta(days=10))
    role.save()
    actions.end_role(role=role)
    role.refresh_from_db()
    assert role.period.upper == today()


@pytest.mark.django_db
def test_an_invitation_that_was_used_is_left_as_it_is(world: World) -> None:
    actions.invite(
        email="new@ashmere.example", role=Role.READER, age_group=None, made_by_id=world.people.director.pk
    )
    link = OneTimeLink.objects.get(kind=LinkKind.INVITATION, email="new@ashmere.example")
    OneTimeLink.objects.filter(pk=link.pk).update(used_at=link.made_at)
    actions.withdraw_invitation(link=link)
    assert OneTimeLink.objects.filter(pk=link.pk).exists()
    OneTimeLink.objects.filter(pk=link.pk).update(used_at=None)
    actions.withdraw_invitation(link=link)
    assert not OneTimeLink.objects.filter(pk=link.pk).exists()


@pytest.mark.django_db
def test_the_first_settings_raise_the_version_like_any_other() -> None:
    assert actions.save_settings(version=0, name="Ashmere").version == 1
    assert ClubSettings.objects.get().version == 1


def test_a_clash_is_said_in_words_of_ours_alone() -> None:
    assert {str(each.text) for each in sentences().values()}.isdisjoint(
        {str(models.Field.default_error_messages["unique"])}
    )
