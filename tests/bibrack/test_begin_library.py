"""A new club's first evening: its empty library begins with our drills and ready sessions, all of them or none."""

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import msgspec
import pytest
from django.core.exceptions import PermissionDenied
from django.urls import reverse
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from bibrack import actions
from bibrack.demo import library
from club import queries as club
from club.errors import Refused
from drills import actions as drills
from drills.actions import derive
from drills.choices import DrillState
from drills.game.document import DrillDocument
from drills.models import Drill
from drills.tasks import rederive_outdated
from sessions import queries
from sessions.models import PartOrder
from tests.bibrack.demo.documents import demo_document
from tests.drills.test_outdated import taken, waiting
from tests.factories import ThemeFactory
from tests.factories_sessions import shared_drill
from tests.harness.races import at_once
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db
FIRST = next(each for theme, each in library.ready_sessions() if theme == "ball-mastery")


@pytest.fixture(autouse=True)
def small_library(monkeypatch: pytest.MonkeyPatch) -> None:
    """The drills of one ready session, and that one."""
    slugs = [each.drill for each in FIRST.parts]

    def documents() -> Iterator[tuple[str, DrillDocument]]:
        yield from ((slug, demo_document(slug)) for slug in slugs)

    monkeypatch.setattr(library, "documents", documents)
    monkeypatch.setattr(library, "ready_sessions", lambda: iter([("ball-mastery", FIRST)]))


def begin(world: World) -> Any:
    return actions.begin_with_our_library(actor=club.actor_of(world.people.director))


def test_the_drills_are_the_directors_and_the_clubs_standard(world: World) -> None:
    assert begin(world) == actions.Begun(drills=4, ready=1)
    assert {(each.owner, each.state) for each in Drill.objects.all()} == {
        (world.people.director, DrillState.CLUB_STANDARD)
    }
    [ready] = queries.part_orders()
    assert (ready.name, ready.kept_by, ready.theme.key) == (FIRST.name, world.people.director, "ball-mastery")
    assert [each.drill.title for each in ready.drills.all()] == [
        demo_document(each.drill).title for each in FIRST.parts
    ]


def test_themes_that_the_club_has_stay_as_they_are(world: World) -> None:
    ThemeFactory(key="press", title="Hunt them", moment="losing it", position=99)
    begin(world)
    themes = {each.key: each for each in club.themes()}
    assert len(themes) == 14
    assert (themes["press"].title, themes["press"].position) == ("Hunt them", 99)


def test_only_while_the_library_is_empty_and_then_nothing_is_touched(world: World) -> None:
    shared_drill(owner=world.people.coach)
    with pytest.raises(Refused, match="drills in the library already"):
        begin(world)
    assert (Drill.objects.count(), PartOrder.objects.count(), len(club.themes())) == (1, 0, 0)


def test_nobody_but_the_director(world: World) -> None:
    for person in (world.people.coach, world.people.administrator, world.people.reader):
        with pytest.raises(PermissionDenied):
            actions.begin_with_our_library(actor=club.actor_of(person))


def test_all_or_nothing(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(library, "ready_sessions", lambda: iter([("no-such-theme", FIRST)]))
    with pytest.raises(KeyError):
        begin(world)
    assert (Drill.objects.count(), len(club.themes())) == (0, 0)


@pytest.mark.django_db(transaction=True)
def test_two_at_once_begin_once(world: World) -> None:
    assert at_once(2, lambda: begin(world)) == {"done": 1, "refused": 1}
    assert Drill.objects.count() == 4


def test_the_director_is_offered_it_on_today_until_there_is_a_drill(world: World) -> None:
    address = reverse("begin-library")
    offer = f'action="{address}"'
    assert offer not in signed_in(world.people.coach).get("/").content.decode()
    client = signed_in(world.people.director)
    assert offer in client.get("/").content.decode()
    said = client.post(address, follow=True)
    assert said.redirect_chain[-1][0] == reverse("tonight")
    assert "4 drills and 1 ready sessions are yours" in said.content.decode()
    assert offer not in client.get("/").content.decode()
    again = client.post(address, follow=True)
    assert "nothing was added" in again.content.decode()
    assert Drill.objects.count() == 4


def test_a_template_of_the_club_with_the_same_name_stays_as_it_is(world: World) -> None:
    PartOrder.objects.create(
        name=FIRST.name, parts=[{"kind": "game", "title": "", "minutes": 20, "cr10": 5.0}]
    )
    assert begin(world) == actions.Begun(drills=4, ready=0)
    assert PartOrder.objects.get().minutes is None


def searchable() -> int:
    return Drill.objects.filter(variations__isnull=False).distinct().count()


def test_where_drills_can_be_played_is_worked_out_by_one_job(world: World) -> None:
    begin(world)
    assert (searchable(), waiting()) == (0, [("quick", {"after": 0})])
    client, address = signed_in(world.people.director), reverse("worked-out")
    assert "0 of 4 drills can be found by players and space." in client.get("/").content.decode()
    assert "worked-out" not in signed_in(world.people.coach).get("/").content.decode()
    [first, *_others] = Drill.objects.order_by("pk")
    drills.rederive_drill(drill_id=first.pk)
    asked = client.get(address).content.decode()
    assert "1 of 4 drills" in asked
    assert f'hx-get="{address}"' in asked
    taken()
    assert rederive_outdated.func(after=0) == 3
    asked = client.get(address).content.decode()
    assert "All drills can be found by players and space now." in asked
    assert "hx-get" not in asked
    assert "worked-out" not in client.get("/").content.decode()


def test_a_job_that_died_goes_on_where_it_was_and_nothing_is_doubled(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    begin(world)
    done: list[int] = []

    def until_killed(*, drill_id: int, made_anew: set[str]) -> None:
        if len(done) == 2:
            raise SystemExit
        drills.rederive_drill(drill_id=drill_id, made_anew=made_anew)
        done.append(drill_id)

    with monkeypatch.context() as patched:
        patched.setattr(derive, "rederive_drill", until_killed)
        with pytest.raises(SystemExit):
            rederive_outdated.func(after=0)
    assert searchable() == 2
    assert rederive_outdated.func(after=0) == 2
    assert (searchable(), Drill.objects.count()) == (4, 4)
    rungs = {
        each.pk: 1 + len(each.current_revision.document.get("variations", ())) for each in Drill.objects.all()
    }
    assert {each.pk: each.variations.count() for each in Drill.objects.all()} == rungs


def test_a_job_that_never_came_is_said_and_asked_for_again(world: World) -> None:
    begin(world)
    taken()  # and lost
    client, address = signed_in(world.people.director), reverse("worked-out")
    assert "It takes longer than it should." not in client.get(address).content.decode()
    Drill.objects.update(changed_at=timezone.now() - timedelta(minutes=11))
    assert "It takes longer than it should." in client.get(address).content.decode()
    assert client.post(address).status_code == 302
    assert waiting() == [("quick", {"after": 0})]
    assert (Drill.objects.count(), PartOrder.objects.count()) == (4, 1)
    with pytest.raises(PermissionDenied):
        actions.work_out_rest(actor=club.actor_of(world.people.coach))


def test_more_ready_sessions_cost_no_more_queries(
    world: World, monkeypatch: pytest.MonkeyPatch, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    library.add_themes()
    made = library.add_drills_of_director(club.actor_of(world.people.director))
    several = [("ball-mastery", msgspec.structs.replace(FIRST, name=f"No. {number}")) for number in range(5)]
    for ready in (several[:1], several[1:]):
        monkeypatch.setattr(library, "ready_sessions", lambda ready=ready: iter(ready))
        with django_assert_num_queries(9):
            assert library.add_ready_sessions(club.actor_of(world.people.director), made) == len(ready)
