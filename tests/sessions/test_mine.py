"""Tonight's change saved as one's own drill: in one tap, once, and undone in another."""

from typing import Any

import pytest
from django.urls import reverse

from club.queries import actor_of
from drills import actions as library
from drills.models import Drill
from sessions.models import Station
from tests.factories_sessions import part_input, planned_session
from tests.people import World, signed_in
from tests.sessions.setting_up import drill, record, set_up, stations_of

pytestmark = pytest.mark.django_db


def evening(world: World, **changes: Any) -> Any:
    """A drill in one part, twelve players; its rounds are other than the drill's own."""
    part = part_input(drill=drill(world, **changes))
    return planned_session(place=world.own, by=world.people.coach, parts=[part], players_expected=12)


def address(session: Any) -> str:
    return reverse("sessions:mine", args=[session.public_id, stations_of(session)[0].public_id])


def mine(person: Any) -> list[Drill]:
    return list(Drill.objects.filter(owner=person, adapted_from_revision__isnull=False))


def test_one_tap_saves_it_once_and_undo_takes_it_back(world: World) -> None:
    people, session = world.people, evening(world)
    set_up(world, session, players=15)
    client = signed_in(people.coach)
    page = reverse("sessions:session", args=[session.public_id])
    assert "Save as my version" in client.get(page).content.decode()
    for _tap in range(2):
        assert client.post(address(session)).status_code == 302
    [made] = mine(people.coach)
    setup = Station.objects.get(part__session=session).setup["setup"]
    station = Station.objects.select_related("revision__drill").get(part__session=session)
    assert (made.state, made.adapted_from_revision_id) == ("draft", station.revision_id)
    assert made.title.startswith(f"{station.revision.drill.title} (")
    grid = made.current_revision.document["grids"][0]
    assert (grid["length_m"], grid["width_m"]) == (setup["length_m"], setup["width_m"])
    after = client.get(page).content.decode()
    assert f'Saved as your version: <a href="{reverse("drills:drill", args=[made.public_id])}">' in after
    client.post(address(session), {"do": "undo"})
    assert mine(people.coach)[0].retired_at is not None
    assert "Save as my version" in client.get(page).content.decode()
    client.post(address(session))
    assert [each.retired_at for each in mine(people.coach)] == [None]  # the same one again


def test_what_was_edited_afterwards_is_not_undone(world: World) -> None:
    session = evening(world)
    client = signed_in(world.people.coach)
    client.post(address(session))
    [made] = mine(world.people.coach)
    edited = {**made.current_revision.document, "title": "All mine"}
    actor = actor_of(world.people.coach)
    library.revise_drill(actor=actor, public_id=made.public_id, version=made.version, document=edited)
    client.post(address(session), {"do": "undo"})
    assert mine(world.people.coach)[0].retired_at is None
    page = client.get(reverse("sessions:session", args=[session.public_id])).content.decode()
    assert "All mine</a>" in page
    client.post(address(session))
    assert len(mine(world.people.coach)) == 1


def test_a_step_at_the_pitch_is_what_was_run(world: World) -> None:
    limit = {"type": "limit", "key": "t", "kind": "touches", "scope": {}, "number": 2}
    harder = {
        "key": "two",
        "title": "Two touches",
        "rung": "harder",
        "changes": [{"type": "add_condition", "condition": limit}],
    }
    session = evening(world, variations=[harder])
    part = str(session.parts.all()[0].public_id)
    record(
        world,
        session,
        ("part_started", {"part": part}),
        ("harder", {"part": part, "to": "two"}),
        ("delivered", {}),
    )
    client = signed_in(world.people.colleague)  # a coach elsewhere, who reads it
    client.post(address(session))
    [made] = mine(world.people.colleague)
    assert "Two touches" in made.title
    assert [each["key"] for each in made.current_revision.document["conditions"]] == ["t"]
    assert "variations" not in made.current_revision.document


def test_nothing_is_offered_where_it_is_run_as_written(world: World) -> None:
    session = evening(world, work={"minutes": 18, "bouts": 4, "bout_s": 240, "rest_s": 40, "effort": 5.0})
    client = signed_in(world.people.coach)
    page = reverse("sessions:session", args=[session.public_id])
    assert "Save as my version" not in client.get(page).content.decode()
    client.post(address(session))
    assert mine(world.people.coach) == []
    assert "nothing to save" in client.get(page).content.decode()


def test_a_draft_of_somebody_else_is_not_copied_by_way_of_a_session(world: World) -> None:
    session = evening(world)
    of_it = Drill.objects.get(revisions__stations__part__session=session)
    library.return_to_draft(actor=actor_of(world.people.director), public_id=of_it.public_id)
    client = signed_in(world.people.colleague)
    page = client.get(reverse("sessions:session", args=[session.public_id])).content.decode()
    assert "Save as my version" not in page
    assert client.post(address(session)).status_code == 404
    assert mine(world.people.colleague) == []
