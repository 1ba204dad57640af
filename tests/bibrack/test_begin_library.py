"""A new club's first evening: its empty library begins with our drills and ready sessions, all of them or none."""

from collections.abc import Iterator
from typing import Any

import pytest
from django.core.exceptions import PermissionDenied
from django.urls import reverse

from bibrack import actions
from bibrack.demo import library
from club import queries as club
from club.errors import Refused
from drills.choices import DrillState
from drills.game.document import DrillDocument
from drills.models import Drill
from sessions import queries
from sessions.models import PartOrder
from tests.bibrack.demo.documents import demo_document
from tests.factories import ThemeFactory
from tests.factories_sessions import shared_drill
from tests.harness.in_bulk import library_in_bulk
from tests.harness.races import at_once
from tests.people import World, signed_in

__all__ = ["library_in_bulk"]
pytestmark = pytest.mark.django_db
FIRST = next(each for theme, each in library.ready_sessions() if theme == "ball-mastery")


@pytest.fixture(autouse=True)
def small_library(monkeypatch: pytest.MonkeyPatch) -> None:
    """The drills of one ready session, and that one: the whole takes as long as the demo club."""
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


@pytest.mark.usefixtures("library_in_bulk")
def test_the_director_is_offered_it_on_today_until_there_is_a_drill(world: World) -> None:
    offer = reverse("begin-library")
    assert offer not in signed_in(world.people.coach).get("/").content.decode()
    client = signed_in(world.people.director)
    assert offer in client.get("/").content.decode()
    said = client.post(offer, follow=True)
    assert said.redirect_chain[-1][0] == reverse("drills:list")
    assert "4 drills and 1 ready sessions are yours" in said.content.decode()
    assert offer not in client.get("/").content.decode()
    again = client.post(offer, follow=True)
    assert "nothing was added" in again.content.decode()
    assert Drill.objects.count() == 4


def test_a_template_of_the_club_with_the_same_name_stays_as_it_is(world: World) -> None:
    PartOrder.objects.create(
        name=FIRST.name, parts=[{"kind": "game", "title": "", "minutes": 20, "cr10": 5.0}]
    )
    assert begin(world) == actions.Begun(drills=4, ready=0)
    assert PartOrder.objects.get().minutes is None
