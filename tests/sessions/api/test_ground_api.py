"""Where a session's grids go, over the API and on its page."""

from typing import Any

import pytest
from django.test import Client

from club.choices import EDGES
from tests.factories import ZoneFactory
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World

pytestmark = pytest.mark.django_db

FENCED = {f"edge_{edge}": "fence" for edge in EDGES}
BETWEEN = {f"edge_{edge}": "group" for edge in EDGES}


def laid(world: World, client: Client, *, goals: Any = (), **zone: Any) -> dict[str, Any]:
    """A 30 × 24 m grid twice, on one zone."""
    bare = {key: [] for key in ("goals", "groups", "conditions", "variations", "phases", "zones", "gates")}
    grid = {"key": "usual", "length_m": 30, "width_m": 24, "purpose": "all of it"}
    drill = shared_drill(
        owner=world.people.coach, **{**bare, "goals": list(goals)}, format="4v4", grids=[grid], queue=None
    )
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
    found = laid(world, client, length_m=50, width_m=40, **FENCED)
    first, second = found["parts"]
    assert [(each["x_m"], each["y_m"]) for each in first["grids"]] == [(3.0, 3.0)]
    assert first["grids"][0]["paces_along"] == 3
    assert first["laying"].startswith("Before the start: ")
    assert second["laying"].startswith("Already set up: ")
    assert "changeover" not in second["laying"]
    assert found["pace"][0].startswith("From the lower left corner of")


def test_a_near_fence_is_a_note_and_what_does_not_fit_says_which_size_would_do(
    world: World, client: Client
) -> None:
    near = laid(world, client, length_m=32, width_m=26, **FENCED)["parts"][0]
    assert [each["text"] for each in near["reasons"]] == ["The fence is 1 m away: slow down at the edge."]
    assert (len(near["grids"]), near["run_off_m"]) == (1, 1.0)
    for zone, said in (
        ({"length_m": 32, "width_m": 25, **FENCED}, "Too close to the fence: make it 23 m wide."),
        ({"length_m": 20, "width_m": 20}, "Too big for your space: make it 20 × 20 m."),
    ):
        tight = laid(world, client, **zone)["parts"][0]
        assert [each["text"] for each in tight["reasons"]] == [said]
        assert tight["grids"] == []


def test_beyond_open_ground_no_run_off_is_needed(world: World, client: Client) -> None:
    first = laid(world, client, length_m=32, width_m=26)["parts"][0]
    assert first["reasons"] == []
    assert [(each["x_m"], each["y_m"]) for each in first["grids"]] == [(0.0, 0.0)]
    # A fence on one long side: 26 m hold 24 and less than 3 m of run-off beside it.
    fence = laid(world, client, length_m=32, width_m=26, edge_top="fence")["parts"][0]
    assert fence["run_off_m"] == 2.0


SHOT_AT = [{"key": edge, "edge": edge, "size": "full"} for edge in ("left", "right")]


@pytest.mark.parametrize(
    ("edges", "goals"),
    [
        (FENCED, None),  # the fence stops it
        ({}, None),  # open ground beyond
        ({**FENCED, "edge_left": "group"}, "1 goal"),
        (BETWEEN, "2 goals"),
    ],
)
def test_only_a_goal_that_is_shot_at_towards_another_group_says_so(
    world: World, client: Client, edges: dict[str, str], goals: str | None
) -> None:
    parts = laid(world, client, goals=SHOT_AT, length_m=40, width_m=30, **edges)["parts"]
    assert all(len(part["grids"]) == 1 for part in parts)
    said = [each["text"] for part in parts for each in part["reasons"]]
    assert [goals in each for each in said] == [True, True] if goals else said == []
