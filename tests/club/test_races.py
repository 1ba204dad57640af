"""Two people at once in the club: one is done, the others are told so beside the field."""

from datetime import date, timedelta
from functools import partial
from typing import Any

import pytest
from allauth.account.models import EmailAddress
from django.db import connection, transaction
from django.db.backends.postgresql.psycopg_any import DateRange
from django.urls import reverse

from club import actions, queries
from club.choices import LinkKind, MomentOfGame, Role, Rule
from club.errors import Clash
from club.models import (
    ClubSettings,
    Guideline,
    KitStock,
    OneTimeLink,
    Pitch,
    Player,
    PlayerSquad,
    Season,
    Squad,
    StaffRole,
    Theme,
    User,
)
from tests.factories import UserFactory, player_in, role_for
from tests.harness.races import at_once, outcomes, race
from tests.people import make_world, signed_in

pytestmark = pytest.mark.django_db(transaction=True)


def test_a_shirt_is_worn_once_however_it_is_given() -> None:
    world = make_world()
    squad, day = world.own.squad, queries.today()
    add = partial(actions.add_player, squad=squad, shirt=9)
    assert at_once(6, lambda: add(display_name="New")) == {"done": 1, "refused shirt": 5}
    players = [player_in(squad=squad, display_name=f"Child {number}") for number in range(4)]

    def renumbered(player: Player) -> Any:
        given = {"version": 1, "display_name": player.display_name, "shirt": 11, "is_keeper": False}
        return lambda: actions.change_player(player=player, squad=squad, **given)

    assert race(*map(renumbered, players)) == {"done": 1, "refused shirt": 3}
    # Both wear 7, and both come to the badgers, where 7 is worn: nobody takes it along.
    comers = [world.own.player, world.foreign.player]
    to = {"to": world.colleague.squad, "version": 1}
    assert race(*(partial(actions.move_player, player=each, **to) for each in comers)) == {"done": 2}
    worn = PlayerSquad.objects.filter(period__contains=day, shirt__isnull=False).values_list("squad", "shirt")
    assert sorted(worn) == sorted({*worn})
    assert len(queries.players_of([world.colleague.squad.pk])) == 3


def test_a_player_is_moved_once_and_the_others_are_asked_to_look_again() -> None:
    world = make_world()
    player, squads = world.own.player, [world.colleague.squad, world.foreign.squad]
    found = race(*(partial(actions.move_player, player=player, version=1, to=squad) for squad in squads * 3))
    assert found == {"done": 1, "stale": 5}
    assert PlayerSquad.objects.filter(player=player, period__contains=queries.today()).count() == 1
    # The same through the pages, whose form carries no version.
    address = reverse("club:squad-player-move", args=[player.public_id])
    director = [signed_in(world.people.director) for _each in range(4)]
    other = next(each for each in squads if each != queries.squad_of_player(str(player.public_id)))
    answers = outcomes(*(partial(one.post, address, {"to": str(other.public_id)}) for one in director))
    assert {response.status_code for _word, response in answers} <= {200, 302}
    assert PlayerSquad.objects.filter(player=player, period__contains=queries.today()).count() == 1


@pytest.mark.parametrize("how", ["role", "account"])
def test_of_two_directors_who_are_ended_at_once_one_stays(how: str) -> None:
    world = make_world()
    second = UserFactory(name="Dirk Director")
    roles = [role_for(user=second, role=Role.DIRECTOR), StaffRole.objects.get(user=world.people.director)]
    if how == "role":
        found = race(*(partial(actions.end_role, role=role) for role in roles))
    else:
        found = race(*(partial(actions.close_account, user=role.user) for role in roles))
    assert found == {"done": 1, "refused": 1}
    left = StaffRole.objects.filter(role="director", period__contains=queries.today(), user__is_active=True)
    assert left.count() == 1


def test_a_role_is_given_once_and_ended_once() -> None:
    world = make_world()
    user = world.people.stranger
    coach = partial(actions.give_role, user=user, role=Role.COACH, age_group=world.own.age_group)
    reader = partial(actions.give_role, user=user, role=Role.READER)
    assert race(*[coach, reader] * 4) == {"done": 8}
    roles = StaffRole.objects.filter(user=user)
    assert sorted(roles.values_list("role", flat=True)) == ["coach", "reader"]
    # The constraint holds it, also for a role without an age group.
    twice = actions.action(StaffRole.objects.create)
    with pytest.raises(Clash, match="has that role already"):
        twice(user=user, role=Role.READER, period=DateRange(queries.today(), None))
    given = roles.get(role="reader")  # today, so ending it leaves nothing
    assert set(at_once(4, partial(actions.end_role, role=given))) <= {"done", "refused"}
    assert not roles.filter(role="reader").exists()
    # A role that ended before is not made longer by ending it again.
    old = roles.get(role="coach")
    ended = DateRange(queries.today() - timedelta(days=9), queries.today() - timedelta(days=2))
    StaffRole.objects.filter(pk=old.pk).update(period=ended)
    actions.end_role(role=old)
    assert roles.get(role="coach").period.upper == ended.upper


def test_the_last_administrator_stays() -> None:
    world = make_world()
    two = [world.people.administrator, UserFactory(is_superuser=True)]
    found = race(*(partial(actions.close_account, user=user) for user in two))
    assert found == {"done": 1, "refused": 1}
    assert User.objects.filter(is_superuser=True, is_active=True).count() == 1


def test_nobody_has_more_tokens_than_the_limit() -> None:
    from knox.models import AuthToken

    user = UserFactory()
    AuthToken.objects.bulk_create(
        AuthToken(user=user, digest=f"{number:0128d}", token_key=f"{number:015d}") for number in range(18)
    )
    assert at_once(6, partial(actions.make_token, user_id=user.pk)) == {"done": 2, "refused": 4}
    assert AuthToken.objects.filter(user=user).count() == 20


def test_a_link_works_once() -> None:
    world = make_world()
    link = {"role": Role.COACH, "age_group": world.own.age_group, "made_by_id": world.people.director.pk}
    invited, again = (actions.invite(email="new@ashmere.example", **link).split("/")[2] for _each in range(2))
    accept = partial(actions.accept_invitation, name="Nora New", password="four plain words here")
    assert at_once(4, partial(accept, secret=invited)) == {"done": 1, "refused": 3}
    sign_in = actions.make_link(kind=LinkKind.SIGN_IN, user=world.people.coach)
    assert at_once(4, partial(actions.enter, secret=sign_in)) == {"done": 1, "refused": 3}
    # Two invitations for one new address: one account.
    for rows in (User.objects, EmailAddress.objects):
        rows.filter(email="new@ashmere.example").update(email="newer@ashmere.example")
    third = actions.invite(email="new@ashmere.example", **link).split("/")[2]
    found = race(partial(accept, secret=again), partial(accept, secret=third))
    assert found["done"] >= 1
    assert found.total() == found["done"] + found["refused email"]
    assert User.objects.filter(email="new@ashmere.example").count() == 1
    assert OneTimeLink.objects.filter(used_at__isnull=False).count() == 2 + found["done"]


def test_the_settings_are_saved_once_and_the_others_see_what_was_saved() -> None:
    ClubSettings.objects.all().delete()
    first = at_once(4, partial(actions.save_settings, version=1, name="Ashmere", time_zone="Europe/London"))
    assert first["done"] == 1
    assert set(first) <= {"done", "stale", "refused id"}
    version = ClubSettings.objects.get().version
    found = race(*(partial(actions.save_settings, version=version, name=name) for name in "ABCD"))
    assert found == {"done": 1, "stale": 3}


def test_what_stands_once_is_added_once_and_said_beside_its_field() -> None:
    world = make_world()
    far = date(2040, 7, 1)
    season = partial(actions.add_season, name="Far", first_day=far, last_day=far + timedelta(days=300))
    assert at_once(3, season) == {"done": 1, "refused first_day": 2}
    group = {"label": "U10", "under": 10, "match_format": "7v7"}
    assert at_once(3, partial(actions.add_age_group, season=world.season, **group)) == {
        "done": 1,
        "refused label": 2,
    }
    squad = partial(actions.add_squad, name="Newts", age_group=world.own.age_group)
    assert at_once(3, squad) == {"done": 1, "refused name": 2}
    place = partial(actions.place_squad, squad=Squad.objects.get(name="Newts"))
    assert at_once(3, partial(place, age_group=world.foreign.age_group)) == {"done": 3}
    ground = {"surface": "grass", "zones": [{"name": "Whole", "length_m": 60, "width_m": 40}]}
    assert at_once(3, partial(actions.add_pitch, name="Top", **ground)) == {"done": 1, "refused name": 2}
    zone = partial(actions.add_zone, pitch=Pitch.objects.get(name="Top"), length_m=30, width_m=20)
    found = race(*(partial(zone, name=name) for name in ("Left", "Left", "Right")))
    assert found == {"done": 2, "refused name": 1}
    assert sorted(Pitch.objects.get(name="Top").zones.values_list("position", flat=True)) == [0, 1, 2]
    stock = race(*(partial(actions.add_stock, kind="hoops", count=count) for count in (3, 4, 5)))
    assert stock == {"done": 1, "refused kind": 2}
    theme = partial(actions.add_theme, title="Keep the ball", moment=MomentOfGame.values[0])
    assert at_once(3, theme)["done"] == 1
    assert (Theme.objects.count(), KitStock.objects.filter(kind="hoops").count()) == (1, 1)
    assert Season.objects.filter(period__contains=far).count() == 1


def test_a_figure_is_added_and_changed_once() -> None:
    make_world()
    own = {"under_low": 9, "under_high": 10, "jurisdiction": "league", "value": 4, "source": "The league"}
    valid = DateRange(date(2030, 1, 1), None)
    add = partial(actions.add_guideline, rule=Rule.values[0], valid=valid, **own)
    assert at_once(3, add) == {"done": 1, "refused": 2}
    row = Guideline.objects.get(jurisdiction="league")
    found = race(
        *(partial(actions.change_guideline, guideline=row, version=1, value=value) for value in (5, 6, 7))
    )
    assert found == {"done": 1, "stale": 2}


def test_who_waits_for_a_save_that_takes_its_time_is_told_so() -> None:
    """Not as a broken page, and not for as long as a statement may take."""
    world = make_world()

    with connection.cursor() as cursor:
        cursor.execute("SHOW lock_timeout")
        assert cursor.fetchone() == ("2s",)

    def hurried() -> Any:
        with connection.cursor() as cursor:
            cursor.execute("SET lock_timeout = '50ms'")
        return actions.change_squad(squad=world.own.squad, version=1, name="Stoats")

    with transaction.atomic():
        Squad.objects.select_for_update().get(pk=world.own.squad.pk)
        [(word, refusal)] = outcomes(hurried)
    assert (word, str(refusal)) == ("refused", "Somebody else is saving here at this moment. Try again.")
