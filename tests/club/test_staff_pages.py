"""Staff, roles, invitations, and one's own account on pages."""

from typing import Any

import pytest
from django.urls import reverse

from club import queries
from club.choices import Role
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db


def text(response: Any) -> str:
    found: str = response.content.decode()
    return found


# Staff -----------------------------------------------------------------------------------------------------


def test_addresses_are_for_leaders(world: World) -> None:
    assert "helper@ashmere.example" not in text(signed_in(world.people.coach).get("/club/staff/"))
    assert "helper@ashmere.example" in text(signed_in(world.people.director).get("/club/staff/"))


def test_an_invitation_is_shown_once_as_a_link(world: World) -> None:
    client = signed_in(world.people.director)
    typed = {"email": "n@ashmere.example", "role": "coach", "age_group": str(world.own.age_group.public_id)}
    page = text(client.post("/club/staff/invite/", typed))
    assert "http://testserver/invited/" in page
    listed = text(client.get("/club/staff/"))
    assert "n@ashmere.example" in listed
    assert "/invited/" not in listed


@pytest.mark.parametrize(
    ("role", "grouped", "errors"),
    [("coach", False, ["age_group"]), ("reader", True, []), ("captain", False, ["role"])],
)
def test_a_role_asks_for_an_age_group_where_it_needs_one(
    world: World, role: str, grouped: bool, errors: list[str]
) -> None:
    group = str(world.own.age_group.public_id) if grouped else ""
    typed = {"email": "n@ashmere.example", "role": role, "age_group": group}
    response = signed_in(world.people.director).post("/club/staff/invite/", typed)
    form = response.context.get("form")
    assert list(form.errors if form else {}) == errors
    assert len(queries.invitations()) == (0 if errors else 1)


def test_a_role_is_given_and_ended_from_the_list(world: World) -> None:
    client, reader = signed_in(world.people.director), world.people.reader
    typed = {"role": "coach", "age_group": str(world.own.age_group.public_id)}
    client.post(reverse("club:role-give", args=[reader.public_id]), typed)
    assert queries.actor_of(reader).coach_of == frozenset({world.own.age_group.pk})
    role = queries.staff_roles().get(user=reader, role=Role.READER)
    client.post(reverse("club:role-end", args=[role.public_id]))
    assert not queries.actor_of(reader).is_reader


def test_ending_the_last_director_says_why_not(world: World) -> None:
    role = world.people.director.roles.get()
    response = signed_in(world.people.administrator).post(
        reverse("club:role-end", args=[role.public_id]), follow=True
    )
    assert "This is the last director. Name another one first." in text(response)


# One's own account -----------------------------------------------------------------------------------------


def test_a_token_is_shown_once_and_works(world: World) -> None:
    client = signed_in(world.people.coach)
    response = client.post("/account/tokens/", {"days": "30"})
    token = response.context["token"]
    assert token in text(response)
    assert token not in text(client.get("/account/"))
    assert token[:8] in text(client.get("/account/"))
    header = {"Authorization": f"Token {token}"}
    assert client.get("/api/v1/squads/", headers=header).status_code == 200
    client.post(reverse("club:token-end", args=[token[:15]]))
    client.logout()
    assert client.get("/api/v1/squads/", headers=header).status_code == 401


@pytest.mark.parametrize(("pace", "saved"), [("0.82", "0.82"), ("", "None"), ("3", None), ("a", None)])
def test_my_own_pace(world: World, pace: str, saved: str | None) -> None:
    response = signed_in(world.people.coach).post("/account/", {"name": "Carl C", "pace_m": pace})
    world.people.coach.refresh_from_db()
    if saved is None:
        assert list(response.context["form"].errors) == ["pace_m"]
        assert world.people.coach.name == "Carl Coach"
    else:
        assert (world.people.coach.name, str(world.people.coach.pace_m)) == ("Carl C", saved)
