"""The plan beside the form: it follows what is typed, says what it leaves out, and is the plan that the drill's page shows."""

from typing import Any

import pytest
from django.urls import reverse

from drills.drawing.picture import scene_as_written
from drills.forms import drafted
from drills.models import Drill
from drills.queries.found import document_of
from tests.drills.people import People, make_people
from tests.drills.typed import THEMES, gates, opened, write
from tests.people import signed_in

NUMBERS = {"format": "GK+4v4+GK", "grids__0__length_m": "36", "grids__0__width_m": "24"}


def typed(**fields: Any) -> Any:
    data = opened()
    write(data, **fields)
    return data


def test_numbers_and_size_are_enough() -> None:
    found = drafted(None, typed(**NUMBERS), themes=THEMES)
    assert found.document is not None
    assert found.missing == ""
    scene = scene_as_written(found.document)
    assert (scene.length_m, scene.width_m, len(scene.players), len(scene.goals)) == (36, 24, 10, 2)


def test_what_is_typed_besides_is_drawn() -> None:
    found = drafted(None, gates(), themes=THEMES)
    assert found.document is not None
    scene = scene_as_written(found.document)
    assert len(scene.goals) == len(found.document.goals) > 0
    assert len(scene.players) == 12


def test_what_cannot_be_read_is_left_out_and_said() -> None:
    found = drafted(None, typed(**NUMBERS, minutes="soon"), themes=THEMES)
    assert found.document is not None
    assert found.missing == "Minutes: This is not a number."


@pytest.mark.parametrize(
    ("fields", "missing"),
    [
        ({}, ""),
        ({"format": "5v5"}, ""),
        ({**NUMBERS, "format": "many"}, "is not a number of players"),
        ({**NUMBERS, "grids__0__length_m": "9000"}, "At most 120"),
    ],
)
def test_without_numbers_or_size_there_is_none(fields: dict[str, str], missing: str) -> None:
    found = drafted(None, typed(**fields), themes=THEMES)
    assert found.document is None
    assert missing in found.missing
    assert bool(found.missing) == bool(missing)


@pytest.fixture
def people() -> People:
    return make_people()


@pytest.mark.django_db
def test_the_drill_begins_with_the_groups_of_its_format_and_is_drawn_alike(people: People) -> None:
    coach = signed_in(people.coach)
    whole = typed(
        title="Ferry",
        activity="possession",
        moment="in possession",
        purpose="Keep it.",
        grids__0__purpose="as it is",
        **NUMBERS,
    )
    address = reverse("drills:write")
    before = drafted(None, whole, themes=THEMES)
    fragment = coach.post(
        address, {**whole.dict(), "do": "draw"}, headers={"HX-Request": "true"}
    ).content.decode()
    assert fragment.lstrip().startswith("<figure")
    assert Drill.objects.count() == 0
    assert coach.post(address, whole).status_code == 302
    document = document_of(Drill.objects.get().current_revision)
    assert [each.least for each in document.groups] == [4, 1, 4, 1]
    assert before.document is not None
    assert scene_as_written(before.document) == scene_as_written(document)


@pytest.mark.django_db
def test_without_a_script_a_button_draws_and_complains_of_nothing(people: People) -> None:
    coach = signed_in(people.coach)
    page = coach.post(reverse("drills:write"), {**typed(**NUMBERS).dict(), "do": "draw"}).content.decode()
    assert "<figure" in page
    assert "Not saved yet" not in page
    assert 'class="errors"' not in page
