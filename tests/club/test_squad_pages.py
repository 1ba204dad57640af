"""Squads and players on pages: who reads names, what is typed is kept, what somebody else saved is shown."""

from typing import Any

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from club import actions, queries
from club.access import STAFF, route, who_may
from club.choices import BIB_COLOURS
from club.models import AccessLog, Player
from club.queries import places
from drills.drawing.bibs import BIBS
from drills.game.bibs import tonight
from tests.factories import (
    player_in,
)
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db


def text(response: Any) -> str:
    found: str = response.content.decode()
    return found


# Access decisions ------------------------------------------------------------------------------------------


def test_a_view_that_does_not_say_who_may_cannot_be_loaded() -> None:
    def undecided(request: HttpRequest) -> HttpResponse:
        return HttpResponse()

    with pytest.raises(ImproperlyConfigured, match="does not say who may"):
        route("somewhere/", undecided, "somewhere")
    assert route("somewhere/", who_may(STAFF)(undecided), "somewhere").name == "somewhere"


def test_the_names_of_bibs_are_those_that_drawings_know() -> None:
    assert {name for name, _ in BIB_COLOURS} == set(BIBS)


def test_the_stock_says_bibs_of_a_colour_as_drills_read_it() -> None:
    assert places.OF_BIBS == tonight.OF_BIBS


# Squads and players ----------------------------------------------------------------------------------------


def test_a_squad_shows_names_numbers_and_who_plays_in_goal(world: World) -> None:
    player_in(squad=world.own.squad, display_name="Gloria", shirt=1, is_keeper=True)
    page = text(signed_in(world.people.helper).get(reverse("club:squad", args=[world.own.squad.public_id])))
    assert page.index("Gloria") < page.index("Ottilie Own")
    assert page.count('class="shirt"') == 2
    assert "keeper" in page


def test_a_reader_sees_how_many_and_is_told_why_no_more(world: World) -> None:
    page = text(signed_in(world.people.reader).get(reverse("club:squad", args=[world.own.squad.public_id])))
    assert "1 player" in page
    assert "Names are for the staff of this age group and the director." in page


def test_who_reads_names_is_noted_and_who_reads_counts_is_not(world: World) -> None:
    address = reverse("club:squad", args=[world.own.squad.public_id])
    signed_in(world.people.reader).get(address)
    signed_in(world.people.colleague).get(address)
    assert AccessLog.objects.count() == 0
    signed_in(world.people.helper).get(address)
    noted = AccessLog.objects.get()
    assert (noted.user, noted.squad, noted.page) == (world.people.helper, world.own.squad, "squad")


def test_players_are_added_from_lines_and_wrong_lines_are_kept(world: World) -> None:
    client = signed_in(world.people.coach)
    address = reverse("club:squad-players-add", args=[world.own.squad.public_id])
    response = client.post(address, {"lines": "8 Nia\n7 Omar"})
    assert "Line 2: Number 7 is worn by Ottilie Own." in text(response)
    assert "8 Nia\n7 Omar" in text(response)
    assert Player.objects.count() == 3
    response = client.post(address, {"lines": "8 Nia\n9 Omar"}, follow=True)
    assert response.redirect_chain[-1][0] == reverse("club:squad", args=[world.own.squad.public_id])
    assert [each.display_name for each in queries.players_of([world.own.squad.pk])] == [
        "Nia",
        "Omar",
        "Ottilie Own",
    ]


def test_a_player_is_changed_beside_what_somebody_else_changed(world: World) -> None:
    """Theirs: the shirt. Mine: the name. Both end up in the form, and saving again keeps both."""
    player, client = world.own.player, signed_in(world.people.coach)
    address = reverse("club:squad-player", args=[player.public_id])
    actions.change_player(
        player=player,
        squad=world.own.squad,
        version=1,
        display_name="Ottilie Own",
        shirt=11,
        is_keeper=False,
    )
    response = client.post(address, {"version": "1", "display_name": "Otti", "shirt": "7"})
    form = response.context["form"]
    assert response.status_code == 200
    assert [(str(each.label), each.mine, each.theirs, each.before) for each in form.differences] == [
        ("Name on the list", "Otti", "Ottilie Own", "Ottilie Own"),
        ("Shirt number", 7, 11, 7),
    ]
    assert (form["display_name"].value(), form["shirt"].value(), form["version"].value()) == ("Otti", "11", 2)
    client.post(address, {"version": "2", "display_name": "Otti", "shirt": "11"})
    player.refresh_from_db()
    assert (player.display_name, player.shirt, player.version) == ("Otti", 11, 3)


@pytest.mark.parametrize("version", ["", "x", "-1", "99999999999999999999"])
def test_a_version_that_nobody_was_shown_is_refused(world: World, version: str) -> None:
    address = reverse("club:squad-player", args=[world.own.player.public_id])
    typed = {"version": version, "display_name": "Otti"}
    assert signed_in(world.people.coach).post(address, typed).status_code == 200
    world.own.player.refresh_from_db()
    assert world.own.player.display_name == "Ottilie Own"


def test_a_coach_moves_a_player_only_among_own_squads(world: World) -> None:
    address = reverse("club:squad-player-move", args=[world.own.player.public_id])
    response = signed_in(world.people.coach).post(address, {"to": str(world.foreign.squad.public_id)})
    assert response.status_code == 200
    assert "Select a valid choice" in text(response)
    response = signed_in(world.people.director).post(address, {"to": str(world.foreign.squad.public_id)})
    assert response.status_code == 302
    # Both wore 7: who was there first goes on wearing it.
    assert [(each.display_name, each.shirt) for each in queries.players_of([world.foreign.squad.pk])] == [
        ("Fridolin Far", 7),
        ("Ottilie Own", None),
    ]
    after = signed_in(world.people.director).post(
        address, {"to": str(world.own.squad.public_id)}, follow=True
    )
    assert "Moved, from today on." in text(after)


def test_erasing_asks_once_and_names_what_goes(world: World) -> None:
    client = signed_in(world.people.coach)
    page = text(client.get(reverse("club:squad-player", args=[world.own.player.public_id])))
    assert 'data-ask="Erase Ottilie Own for good?' in page
    client.post(reverse("club:squad-player-erase", args=[world.own.player.public_id]))
    assert "Ottilie" not in text(client.get(reverse("club:squad", args=[world.own.squad.public_id])))


def test_a_squad_without_a_place_this_season_waits_for_one(world: World) -> None:
    world.own.squad.seasons.all().delete()
    client = signed_in(world.people.director)
    assert "Without an age group this season" in text(client.get("/squads/"))
    address = reverse("club:squad-place", args=[world.own.squad.public_id])
    client.post(address, {"age_group": str(world.own.age_group.public_id)})
    assert "Without an age group this season" not in text(client.get("/squads/"))
