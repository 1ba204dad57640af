"""Where a session's grids go, over the API and on its page."""

from typing import Any

import pytest
from django.test import Client

from tests.factories import ZoneFactory
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World

pytestmark = pytest.mark.django_db


def laid(world: World, client: Client, **zone: Any) -> dict[str, Any]:
    """A 30 × 24 m grid twice, on one zone."""
    bare = {key: [] for key in ("goals", "groups", "conditions", "variations", "phases", "zones", "gates")}
    grid = {"key": "usual", "length_m": 30, "width_m": 24, "purpose": "all of it"}
    drill = shared_drill(owner=world.people.coach, **bare, format="4v4", grids=[grid], queue=None)
    session = planned_session(
        place=world.own,
        by=world.people.coach,
        zones=[ZoneFactory(**zone)],
        parts=[part_input(drill=drill), part_input(drill=drill)],
    )
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    page = client.get(f"/sessions/{session.public_id}/")
    assert b'id="ground"' in page.content
    return client.get(f"/api/v1/sessions/{session.public_id}/ground/").json()


def test_grids_are_placed_and_the_cones_stay(world: World, client: Client) -> None:
    found = laid(world, client, length_m=50, width_m=40)
    first, second = found["parts"]
    assert [(each["x_m"], each["y_m"]) for each in first["grids"]] == [(3.0, 3.0)]
    assert (first["grids"][0]["paces_along"], second["cones_kept"], second["cones"]) == (3, 4, 4)
    assert second["stays"].startswith("Stays from the part before: ")
    assert found["pace"][0].startswith("From the lower left corner of")


def test_what_does_not_fit_says_so_with_the_amount(world: World, client: Client) -> None:
    found = laid(world, client, length_m=32, width_m=26)
    first = found["parts"][0]
    assert first["reasons"][0]["text"] == "1 grid does not fit with 3 m of run-off; 1 m would do."
    assert first["run_off_m"] == 1.0
    tight = laid(world, client, length_m=20, width_m=20)
    assert tight["parts"][0]["grids"] == []
