"""What actions of training and of the library write, to the last field, and what they refuse at the last moment."""

from typing import Any

import pytest
from django.http import Http404
from django.utils import timezone

from club import queries as club
from club.errors import Refused
from drills import access as library_access
from drills import actions as drills
from drills.models import Drill
from sessions import actions
from sessions.actions.lighter import _lighter
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World


@pytest.mark.django_db
def test_who_kept_a_template_is_written_down(world: World) -> None:
    director = club.actor_of(world.people.director)
    session = planned_session(place=world.own, by=world.people.director, parts=[part_input()])
    kept = actions.keep_order(actor=director, session=session, name="Two and a game")
    kept.refresh_from_db()
    assert (kept.name, kept.kept_by_id, len(kept.parts)) == ("Two and a game", world.people.director.pk, 1)


def test_a_part_is_not_made_lighter_by_all_its_rounds() -> None:
    part = part_input(minutes=18, bouts=4, bout_s=240, rest_s=30)
    lighter = _lighter(part, "bouts", 3)
    assert (lighter.bouts, lighter.minutes) == (1, 18 - 13)
    for size in (0, 4, 5):
        with pytest.raises(Refused):
            _lighter(part, "bouts", size)


@pytest.mark.django_db
def test_a_drill_that_has_no_revision_yet_has_nothing_to_derive(world: World) -> None:
    drill = shared_drill(owner=world.people.coach)
    Drill.objects.filter(pk=drill.pk).update(current_revision=None)
    before = drill.variations.count()
    drills.rederive_drill(drill_id=drill.pk)
    assert drill.variations.count() == before


@pytest.mark.django_db
def test_a_drill_that_was_retired_while_somebody_wrote_is_not_revised(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    coach = club.actor_of(world.people.coach)
    drill = shared_drill(owner=world.people.coach)
    document = library_access.editable(coach, drill.public_id).current_revision.document
    seen = library_access.editable

    def retired_meanwhile(actor: Any, public_id: Any) -> Any:
        found = seen(actor, public_id)
        Drill.objects.filter(pk=found.pk).update(retired_at=timezone.now())
        return found

    monkeypatch.setattr("drills.actions.write.access.editable", retired_meanwhile)
    with pytest.raises(Http404):
        drills.revise_drill(
            actor=coach,
            public_id=drill.public_id,
            version=drill.version,
            document={**document, "title": "Late"},
        )
