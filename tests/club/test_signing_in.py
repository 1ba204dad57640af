"""Ways in: one-time links, invitations, the first administrator; and what keeps others out."""

from datetime import timedelta
from typing import Any

import pytest
import time_machine
from allauth.mfa.models import Authenticator
from django.core.cache import cache
from django.core.management import CommandError, call_command
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from club import actions, queries
from club.choices import LinkKind, Role
from club.models import ClubSettings, OneTimeLink, Season, User
from tests.factories import PASSWORD, ClubSettingsFactory, UserFactory, role_for
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db

LOGIN = "/accounts/login/"
NEW = {"name": "Nell New", "password": "plain words in a row", "again": "plain words in a row"}


def who(client: Client) -> str | None:
    """The id of whoever is signed in."""
    return client.session.get("_auth_user_id")


# One-time sign-in links ------------------------------------------------------------------------------------


def test_looking_at_a_link_spends_nothing_and_the_button_signs_in_once(world: World) -> None:
    path = actions.make_sign_in_link(user=world.people.helper)
    preview, helper, again = Client(), Client(), Client()
    assert preview.get(path).status_code == 200
    assert preview.head(path).status_code == 200
    assert who(preview) is None
    response = helper.post(path)
    assert (response.status_code, response.url) == (302, "/")
    assert who(helper) == str(world.people.helper.pk)
    assert again.post(path).status_code == 410
    assert who(again) is None


def test_a_link_works_no_more_after_a_day(world: World) -> None:
    path = actions.make_sign_in_link(user=world.people.helper)
    with time_machine.travel(timezone.now() + timedelta(hours=24, seconds=1), tick=False):
        client = Client()
        response = client.post(path)
    assert response.status_code == 410
    assert "This link no longer works" in response.content.decode()
    assert who(client) is None


@pytest.mark.parametrize("name", ["enter", "invited", "set-up"])
def test_an_invented_link_says_the_same_as_a_spent_one(name: str) -> None:
    response = Client().get(reverse(f"club:{name}", args=["x" * 43]))
    assert response.status_code == 410
    assert "This link no longer works" in response.content.decode()


def test_a_link_of_one_kind_is_none_of_another(world: World) -> None:
    secret = actions.make_sign_in_link(user=world.people.helper).split("/")[2]
    assert Client().post(f"/set-up/{secret}/").status_code == 410
    assert Client().post(f"/invited/{secret}/").status_code == 410


def test_a_link_of_a_closed_account_signs_nobody_in(world: World) -> None:
    path = actions.make_sign_in_link(user=world.people.helper)
    User.objects.filter(pk=world.people.helper.pk).update(is_active=False)
    client = Client()
    response = client.post(path)
    assert response.status_code == 200
    assert "This account is closed." in response.content.decode()
    assert who(client) is None


def test_a_link_does_not_pass_by_the_second_step(world: World) -> None:
    secret = {"secret": "JBSWY3DPEHPK3PXP"}
    Authenticator.objects.create(user=world.people.director, type=Authenticator.Type.TOTP, data=secret)
    client = Client()
    response = client.post(actions.make_sign_in_link(user=world.people.director))
    assert (response.status_code, response.url) == (302, reverse("mfa_authenticate"))
    assert who(client) is None


def test_who_came_by_a_link_and_has_no_password_can_set_up_the_second_step(world: World) -> None:
    """The second step asks for a confirmed address, which the link has confirmed."""
    user = UserFactory(password=None)
    client = Client()
    client.post(actions.make_sign_in_link(user=user))
    response = client.get(reverse("mfa_activate_totp"))
    assert response.status_code == 200
    assert "mfa/totp/activate_form.html" in [template.name for template in response.templates]


def test_links_are_kept_as_hashes(world: World) -> None:
    secret = actions.make_sign_in_link(user=world.people.helper).split("/")[2]
    kept = OneTimeLink.objects.get()
    assert kept.secret_hash != secret
    assert len(kept.secret_hash) == 64


# Invitations -----------------------------------------------------------------------------------------------


def invitation(role: Role = Role.READER, **more: Any) -> str:
    fields = {"email": "nell@ashmere.example", "age_group": None, "made_by_id": None} | more
    return actions.invite(role=role, **fields)


def test_an_invited_person_makes_an_account_and_is_signed_in(world: World) -> None:
    path, client = invitation(Role.COACH, age_group=world.foreign.age_group), Client()
    page = client.get(path).content.decode()
    assert "nell@ashmere.example" in page
    response = client.post(path, NEW)
    user = User.objects.get(email="nell@ashmere.example")
    assert (response.status_code, who(client)) == (302, str(user.pk))
    assert queries.actor_of(user).coach_of == frozenset({world.foreign.age_group.pk})
    assert client.post(path, NEW).status_code == 410


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"password": "short", "again": "short"}, "password", "at least 10 characters"),
        ({"password": "1234567890", "again": "1234567890"}, "password", "too common"),
        ({"again": "another row of words"}, "again", "two different passwords"),
        ({"name": "  "}, "name", "required"),
    ],
)
def test_a_wrong_password_or_no_name_keeps_the_invitation(
    typed: dict[str, str], field: str, words: str
) -> None:
    ClubSettingsFactory()
    path, client = invitation(), Client()
    response = client.post(path, NEW | typed)
    assert response.status_code == 200
    assert words in str(response.context["form"].errors[field])
    assert who(client) is None
    assert OneTimeLink.objects.get().used_at is None


def test_an_invitation_for_somebody_known_gives_the_role_and_signs_nobody_in(world: World) -> None:
    """Else whoever may invite could sign in as anybody."""
    path, client = invitation(email=world.people.coach.email), Client()
    assert 'type="password"' not in client.get(path).content.decode()
    response = client.post(path)
    assert (response.status_code, response.url) == (302, LOGIN)
    assert who(client) is None
    assert queries.actor_of(world.people.coach).is_reader
    assert queries.actor_of(world.people.coach).is_coach


def test_a_withdrawn_invitation_works_no_more(world: World) -> None:
    path = invitation()
    link = queries.invitations()[0]
    signed_in(world.people.director).post(reverse("club:withdraw", args=[link.public_id]))
    assert Client().post(path, NEW).status_code == 410
    assert User.objects.filter(email="nell@ashmere.example").count() == 0


# The first administrator -----------------------------------------------------------------------------------

CLUB = {
    "email": "first@ashmere.example",
    "club_name": "Ashmere Rovers",
    "time_zone": "Europe/Dublin",
    "season_name": "2026-27",
    "first_day": "2026-07-01",
    "last_day": "2027-06-30",
}


@time_machine.travel("2026-11-25T12:00:00Z", tick=False)
def test_a_new_club_is_set_up_by_one_form() -> None:
    path, client = f"/set-up/{actions.make_link(kind=LinkKind.SET_UP)}/", Client()
    response = client.post(path, NEW | CLUB)
    user = User.objects.get()
    actor = queries.actor_of(user)
    assert (response.status_code, who(client)) == (302, str(user.pk))
    assert (actor.is_administrator, actor.is_director) == (True, True)
    assert (ClubSettings.objects.get().name, ClubSettings.objects.get().time_zone) == (
        "Ashmere Rovers",
        "Europe/Dublin",
    )
    assert str(Season.objects.get().last_day) == "2027-06-30"
    assert len(queries.guidelines()) > 50
    assert client.post(path, NEW | CLUB).status_code == 410


def test_a_wrong_set_up_saves_nothing() -> None:
    path = f"/set-up/{actions.make_link(kind=LinkKind.SET_UP)}/"
    response = Client().post(path, NEW | CLUB | {"last_day": "2026-01-01"})
    assert response.status_code == 200
    assert "The last day is before the first." in response.content.decode()
    assert (User.objects.count(), ClubSettings.objects.count(), Season.objects.count()) == (0, 0, 0)
    assert OneTimeLink.objects.get().used_at is None


def test_setting_up_asks_nothing_that_is_there(world: World) -> None:
    path = f"/set-up/{actions.make_link(kind=LinkKind.SET_UP)}/"
    form = Client().get(path).context["form"]
    assert list(form.fields) == ["email", "name", "password", "again"]


# Passwords -------------------------------------------------------------------------------------------------


def test_the_right_password_signs_in_whatever_the_capitals_of_the_address(world: World) -> None:
    client = Client()
    response = client.post(LOGIN, {"login": "Coach@Ashmere.example", "password": PASSWORD})
    assert (response.status_code, who(client)) == (302, str(world.people.coach.pk))


def test_the_sixth_wrong_password_in_a_minute_is_refused_as_too_many(world: World) -> None:
    cache.clear()
    client, wrong = Client(), {"login": "coach@ashmere.example", "password": "not this one"}
    statuses = [client.post(LOGIN, wrong).status_code for _ in range(5)]
    sixth = client.post(LOGIN, wrong)
    right = client.post(LOGIN, {"login": "coach@ashmere.example", "password": PASSWORD})
    assert statuses == [200] * 5
    assert (sixth.status_code, right.status_code) == (429, 429)
    assert "Too many tries" in sixth.content.decode()
    assert who(client) is None
    cache.clear()


def test_an_account_without_a_password_opens_to_none(world: World) -> None:
    cache.clear()
    user = actions.add_user(email="linked@ashmere.example", name="Lin Linked")
    assert not user.has_usable_password()
    client = Client()
    for password in ("", "password", "bibrack", "Lin Linked"):
        client.post(LOGIN, {"login": user.email, "password": password})
    assert who(client) is None
    cache.clear()


def test_nobody_signs_up_by_themselves() -> None:
    typed = {"email": "x@y.example", "password1": "plain words in a row", "password2": "plain words in a row"}
    assert Client().post("/accounts/signup/", typed).status_code == 404
    assert User.objects.count() == 0


def test_only_invitations_roles_and_the_set_up_link_make_accounts(world: World) -> None:
    before = User.objects.count()
    for name in ("account_login", "account_reset_password"):
        Client().post(reverse(name), {"email": "x@y.example", "login": "x@y.example", "password": "x" * 12})
    assert User.objects.count() == before


# Commands --------------------------------------------------------------------------------------------------


def test_a_token_from_the_command_reads_the_api(world: World, capsys: pytest.CaptureFixture[str]) -> None:
    call_command("issue_token", "COACH@ashmere.example")
    token = capsys.readouterr().out.strip()
    response = Client().get("/api/v1/squads/", headers={"Authorization": f"Token {token}"})
    assert response.status_code == 200
    assert Client().get("/api/v1/squads/", headers={"Authorization": "Token nonsense"}).status_code == 401


def test_a_link_from_the_command_signs_in(world: World, capsys: pytest.CaptureFixture[str]) -> None:
    call_command("sign_in_link", "helper@ashmere.example")
    path = capsys.readouterr().out.strip().removeprefix("http://localhost:8000")
    client = Client()
    assert client.post(path).status_code == 302
    assert who(client) == str(world.people.helper.pk)


@pytest.mark.parametrize("command", ["issue_token", "sign_in_link"])
def test_commands_know_nobody_of_another_address(command: str) -> None:
    with pytest.raises(CommandError, match=r"Nobody here has the address a@b\.example\."):
        call_command(command, "a@b.example")


def test_a_role_that_has_ended_opens_nothing() -> None:
    user = UserFactory()
    role = role_for(user=user, role=Role.READER)
    assert signed_in(user).get("/squads/").status_code == 200
    actions.end_role(role=role)
    assert signed_in(user).get("/squads/").status_code == 403
