"""Pitches and the bag on pages."""

from typing import Any

import pytest
from django.urls import reverse

from club import actions, queries
from club.choices import EDGES
from club.forms import PitchForm
from club.models import KitStock, Pitch, Zone
from tests.factories import (
    BibStockFactory,
    KitStockFactory,
    ZoneFactory,
)
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db


def text(response: Any) -> str:
    found: str = response.content.decode()
    return found


OPEN = {f"edge_{edge}": "open" for edge in EDGES}
NEW_PITCH = {
    "name": "Long Meadow", "surface": "grass", "length_m": "90", "width_m": "60", "parts": "2", **OPEN,
}  # fmt: skip


# Places and kit --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("parts", "zones"),
    [
        ("1", [("Whole pitch", "90.0", "60.0")]),
        ("2", [("Space 1", "60.0", "45.0"), ("Space 2", "60.0", "45.0")]),
        ("4", [(f"Space {n}", "60.0", "22.5") for n in range(1, 5)]),
    ],
)
def test_a_new_pitch_is_cut_into_equal_zones(
    world: World, parts: str, zones: list[tuple[str, str, str]]
) -> None:
    typed = NEW_PITCH | {"parts": parts}
    assert signed_in(world.people.director).post("/club/pitches/add/", typed).status_code == 302
    made = [(zone.name, str(zone.length_m), str(zone.width_m)) for zone in Zone.objects.order_by("position")]
    assert made == zones


@pytest.mark.parametrize(
    ("field", "value"), [("length_m", "0"), ("width_m", "x"), ("name", ""), ("parts", "9")]
)
def test_an_impossible_pitch_is_refused_at_the_field(field: str, value: str) -> None:
    assert list(PitchForm(NEW_PITCH | {field: value}).errors) == [field]


def test_a_pitch_off_the_list_is_gone_from_it_and_kept_in_the_books(world: World) -> None:
    zone = ZoneFactory(pitch__name="Old Yard")
    client = signed_in(world.people.director)
    client.post(reverse("club:pitch-retire", args=[zone.pitch.public_id]), {"version": "1"})
    assert (
        "Old Yard"
        not in text(client.get("/club/pitches/", headers={"accept": "text/html"})).split("</ul>")[-1]
    )
    assert Pitch.objects.get().retired_at is not None
    assert queries.zones() == []


def test_counting_the_bag_changes_what_was_typed_over(world: World) -> None:
    balls, cones = KitStockFactory(kind="balls", count=10), KitStockFactory(kind="cones", count=20)
    red = BibStockFactory(colour="red", count=12)
    shown = {
        f"kit-{balls.public_id}": 10,
        f"initial-kit-{balls.public_id}": 10,
        f"kit-{cones.public_id}": 20,
        f"initial-kit-{cones.public_id}": 20,
        f"bibs-{red.public_id}": 12,
        f"initial-bibs-{red.public_id}": 12,
    }
    actions.set_kit(kind="cones", count=24)  # a colleague, in the meantime
    client = signed_in(world.people.director)
    client.post("/club/kit/", shown | {f"kit-{balls.public_id}": 11})
    assert dict(KitStock.objects.values_list("kind", "count")) == {"balls": 11, "cones": 24}
    response = client.post("/club/kit/", shown | {f"kit-{cones.public_id}": 30})
    assert "Somebody set this to 24. Look again, then save." in text(response)
    assert dict(KitStock.objects.values_list("kind", "count")) == {"balls": 11, "cones": 24}


def test_a_reader_sees_the_bag_without_a_form(world: World) -> None:
    KitStockFactory(kind="balls", count=10)
    page = text(signed_in(world.people.reader).get("/club/kit/"))
    assert "balls" in page
    assert "Save the count" not in page
