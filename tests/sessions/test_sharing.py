"""A session shown by a link: its parts and how each is run, and nothing that tells who, where or when."""

import re
from datetime import timedelta
from typing import Any

import pytest
import time_machine
from django.test import Client
from django.utils import timezone

from club.errors import Refused
from club.queries import actor_of
from sessions import actions, pages, queries
from sessions.models import SessionLink, Station, TrainingSession
from sessions.planning.clock import clock_text
from tests.factories import ZoneFactory
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.harness.races import at_once
from tests.people import World, signed_in
from tests.sessions.setting_up import again, rondos, set_up

pytestmark = pytest.mark.django_db


@pytest.fixture
def session(world: World) -> Any:
    """Two parts with a drill, on a zone, with staff; the first is set up."""
    drill = shared_drill(owner=world.people.coach)
    made = planned_session(
        place=world.own,
        by=world.people.coach,
        title="Lanterns",
        zones=[ZoneFactory(name="Bullrush corner")],
        staff=[world.people.coach],
        parts=[part_input(drill=drill), part_input(drill=drill, title="Again")],
    )
    world.people.coach.name = "Odalys Penhallow"
    world.people.coach.save()
    return made


def plain(answer: Any) -> str:
    """What is read of a page, without the token of its form."""
    return re.sub(r'(csrfmiddlewaretoken" value=)"\w+"', r"\1", answer.content.decode())


def link_to(world: World, session: Any, days: str = "7") -> str:
    secret = actions.share_session(actor=actor_of(world.people.coach), session=session, days=days)
    return f"/sessions/shared/{secret}/"


def test_a_link_shows_the_parts_without_an_account(world: World, session: Any) -> None:
    address = link_to(world, session)
    answer = Client().get(address)
    html = answer.content.decode()
    assert (answer.status_code, answer["X-Robots-Tag"]) == (200, "noindex, nofollow")
    assert (answer["Referrer-Policy"], answer["Cache-Control"]) == ("no-referrer", "private, no-store")
    drill = session.parts.all()[0].stations.all()[0].revision.drill
    for said in (
        "<h1>Lanterns</h1>",
        world.own.age_group.label,
        "75 min",
        drill.title,
        "A pass through the lantern opens both goals.",
        "minute 2 to 20",
        "minute 22 to 40",
        "4 rounds of 4:00",
    ):
        assert said in html, said
    assert address.split("/")[3] not in SessionLink.objects.values_list("secret_hash", flat=True)


def test_nothing_tells_who_where_or_when(world: World, session: Any) -> None:
    Station.objects.update(group="Herons' keepers", place="Bullrush goal", adult=world.people.coach)
    html = Client().get(link_to(world, session)).content.decode()
    view = queries.session_view(queries.session_by_id(session.public_id))
    clocks = {
        clock_text(moment) for part in view.parts for moment in (part.times.starts_at, part.times.ends_at)
    }
    assert len(clocks) == 4
    told = {
        "Penhallow",
        "Bullrush",
        "keepers</",
        "coach@club.example",
        world.own.squad.name,
        f"{session.starts:%H:%M}",
        f"{session.ends:%H:%M}",
        f"{session.day:%Y-%m-%d}",
        f"{session.day:%d %b}",
        str(session.public_id),
        str(world.own.squad.public_id),
        *(str(each.public_id) for each in Station.objects.all()),
        *clocks,
    }
    assert [each for each in told if each in html] == []
    assert not re.search(
        r"\b([01]\d|2[0-3]):[0-5]\d\b(?! rest)", re.sub(r"rounds of \d+:\d\d|rest \d+:\d\d", "", html)
    )


def test_it_has_a_title_that_is_no_day_and_time(world: World, session: Any) -> None:
    TrainingSession.objects.update(title="")
    row = queries.session_by_id(session.public_id)
    assert re.search(r"\d\d:\d\d", str(row))
    assert pages.shared_title(row) == "A training session"


def test_each_is_shown_as_it_was_set_up_else_as_written(world: World) -> None:
    evening = rondos(world)
    written = pages.shared_session(again(evening))
    set_up(world, again(evening))
    shown = pages.shared_session(again(evening))
    view = queries.session_view(again(evening))
    for part, before, of_page in zip(shown.parts, written.parts, view.parts, strict=True):
        [station], [plain], [own] = part.stations, before.stations, of_page.stations
        assert own.setup is not None
        sizes = station.numbers, station.length_m, station.width_m
        assert sizes == (own.setup.numbers, own.setup.length_m, own.setup.width_m)
        assert sizes != (plain.numbers, plain.length_m, plain.width_m)
        assert (station.kit, plain.numbers) == (sorted(own.kit.items()), own.drill.document.format)
    assert shown.kit == sorted(view.kit.items())


def test_a_link_ends_when_it_runs_out_or_is_deleted(world: World, session: Any) -> None:
    address = link_to(world, session, "30")
    with time_machine.travel(timezone.now() + timedelta(days=29, hours=23), tick=False):
        assert Client().get(address).status_code == 200
    with time_machine.travel(timezone.now() + timedelta(days=30, seconds=1), tick=False):
        over = Client().get(address)
    assert (over.status_code, over["X-Robots-Tag"]) == (404, "noindex, nofollow")
    assert plain(over) == plain(Client().get("/sessions/shared/never-made/"))
    client = signed_in(world.people.coach)
    html = client.get(f"/sessions/{session.public_id}/share/").content.decode()
    assert "opens until" in html
    assert address not in html
    [ending] = re.findall(rf"/sessions/{session.public_id}/share/[\w-]+/end/", html)
    assert client.post(ending).status_code == 302
    assert Client().get(address).status_code == 404
    assert client.post(ending).status_code == 302, "twice changes nothing"
    assert "opens until" not in client.get(f"/sessions/{session.public_id}/share/").content.decode()


def test_a_link_of_another_session_is_not_ended(world: World, session: Any) -> None:
    address = link_to(world, session)
    other = planned_session(
        place=world.own, by=world.people.coach, day=session.day + timedelta(days=1), parts=[part_input()]
    )
    ending = f"/sessions/{other.public_id}/share/{SessionLink.objects.get().public_id}/end/"
    assert signed_in(world.people.coach).post(ending).status_code == 404
    assert Client().get(address).status_code == 200


def test_it_is_made_shown_once_and_offered_for_7_or_30_days(world: World, session: Any) -> None:
    client, address = signed_in(world.people.coach), f"/sessions/{session.public_id}/share/"
    offered = client.get(address).content.decode()
    assert re.findall(r'<option value="(\d+)"', offered) == ["7", "30"]
    assert "No names, no place, no time: just the parts." in offered
    assert address in client.get(f"/sessions/{session.public_id}/").content.decode()
    made = client.post(address, {"days": "7"}).content.decode()
    [found, *_same] = re.findall(r"/sessions/shared/[\w-]+/", made)
    assert Client().get(found).status_code == 200
    for days in ("90", "0", "-7", "", "x" * 5000):
        assert client.post(address, {"days": days}).status_code == 302
    assert SessionLink.objects.count() == 1


def test_a_session_without_parts_is_not_shared(world: World) -> None:
    bare = planned_session(place=world.own, by=world.people.coach)
    with pytest.raises(Refused, match="There are no parts yet"):
        link_to(world, bare)
    client = signed_in(world.people.coach)
    assert "/share/" not in client.get(f"/sessions/{bare.public_id}/").content.decode()


def test_twenty_at_most_are_open(world: World, session: Any) -> None:
    for _number in range(20):
        link_to(world, session)
    with pytest.raises(Refused, match="There are 20 links already"):
        link_to(world, session)
    SessionLink.objects.update(expires_at=timezone.now())
    link_to(world, session)
    assert actions.forget_session_links() == 20
    assert SessionLink.objects.count() == 1


def test_opened_too_often_it_waits(world: World, session: Any) -> None:
    address = link_to(world, session)
    with time_machine.travel("2031-03-03T18:00:05Z", tick=False):
        SessionLink.objects.update(expires_at="2031-03-04T18:00Z")
        codes = [Client().get(address).status_code for _ in range(61)]
        answer = Client().get(address)
    assert codes == [200] * 60 + [429]
    assert (answer["Retry-After"], answer["X-Robots-Tag"]) == ("60", "noindex, nofollow")


def test_whoever_made_it_is_erased_from_it_and_it_goes_on(world: World, session: Any) -> None:
    address = link_to(world, session)
    SessionLink.objects.update(made_by=None)  # as the foreign key does
    [link] = queries.links_of(session)
    assert link.made_by == ""
    assert Client().get(address).status_code == 200


@pytest.mark.django_db(transaction=True)
def test_the_last_place_for_a_link_is_taken_once(world: World, session: Any) -> None:
    for _number in range(19):
        link_to(world, session)
    assert at_once(2, lambda: link_to(world, session)) == {"done": 1, "refused": 1}
