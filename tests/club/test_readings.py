"""The director sees who read players' names, where and when, for as long as it is kept."""

from datetime import timedelta

import pytest
from django.utils import timezone

from club import actions
from club.choices import READS_KEPT_DAYS, NamesOn
from club.models import AccessLog
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db
ADDRESS = "/squads/readings/"


def test_what_is_read_is_seen_newest_first_and_by_person(world: World) -> None:
    director = signed_in(world.people.director)
    assert "Nobody has opened a page with names yet." in director.get(ADDRESS).content.decode()
    for person in (world.people.coach, world.people.helper):
        assert signed_in(person).get(f"/squads/{world.own.squad.public_id}/").status_code == 200
    page = director.get(ADDRESS)
    html = page.content.decode()
    assert [each.user.name for each in page.context["page"]] == ["Hedy Helper", "Carl Coach"]
    assert "The team&#x27;s list" in html
    assert f"deleted after {READS_KEPT_DAYS} days" in html
    one = director.get(ADDRESS, {"person": str(world.people.coach.public_id)})
    assert [each.user.name for each in one.context["page"]] == ["Carl Coach"]
    for odd in ("nonsense", "\x00", "²", str(world.people.stranger.public_id)):
        assert len(director.get(ADDRESS, {"person": odd, "page": odd}).context["page"]) == 2


def test_it_is_found_from_where_players_are(world: World) -> None:
    director, coach = signed_in(world.people.director), signed_in(world.people.coach)
    for address in ("/squads/", f"/squads/{world.own.squad.public_id}/"):
        assert f'href="{ADDRESS}"' in director.get(address).content.decode()
        assert ADDRESS not in coach.get(address).content.decode()


def test_many_are_paged(world: World) -> None:
    squad, coach = world.own.squad, world.people.coach
    AccessLog.objects.bulk_create(AccessLog(user=coach, squad=squad, page=NamesOn.PITCH) for _ in range(120))
    AccessLog.objects.update(at=timezone.now() - timedelta(days=3))
    actions.note_reading(user_id=world.people.helper.pk, squad_ids=[squad.pk], page=NamesOn.PITCH)
    director = signed_in(world.people.director)
    first, last = director.get(ADDRESS), director.get(ADDRESS, {"page": "5"})
    assert (len(first.context["page"]), len(last.context["page"])) == (25, 21)
    assert first.context["page"][0].user == world.people.helper
    assert "1 to 25 of 121" in first.content.decode()
