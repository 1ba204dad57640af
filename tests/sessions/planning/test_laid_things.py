"""What stands on the ground for a station: cones on corners, goals on edges, and the drill's own minutes shared out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.game.document import DrillDocument, decode
from sessions.planning.laying import GridAt, laying_s, things_of
from tests.drills.samples import WHOLE

GRID = GridAt("Mill", (30, 30, 300, 200), (30, 30, 300, 200))
TURNED = GridAt("Mill", (30, 30, 200, 300), (30, 30, 200, 300), turned=1)
CORNERS = {(30, 30), (330, 30), (30, 230), (330, 230)}
GOALS = [{"key": "near", "edge": "left"}, {"key": "far", "edge": "right", "along": 0.25, "size": "full"}]


def document(**changes: object) -> DrillDocument:
    bare = {key: [] for key in ("groups", "conditions", "variations", "phases", "zones", "gates", "goals")}
    cones = [{"kind": "marker cones", "count": 6}]
    return decode({**WHOLE, **bare, "kit": cones, "setup_minutes": 5, **changes})


def spots(things: object) -> dict[str, set[tuple[int, int]]]:
    found: dict[str, set[tuple[int, int]]] = {}
    for each in things:  # type: ignore[attr-defined]
        if not each.mark:
            found.setdefault(each.kind, set()).add(each.area[:2])
    return found


def test_four_cones_stand_on_the_corners_and_the_rest_somewhere_in_the_grid() -> None:
    found = things_of(
        document(), {"marker cones": 6, "balls": 12, "bibs": 4}, [GRID], drill="lamps", first=True
    )
    assert spots(found) == {"marker cones": CORNERS}
    assert [(each.mark, each.area) for each in found if each.mark] == [
        ("lamps 0", GRID.grid),
        ("lamps 1", GRID.grid),
    ]
    assert sum(each.seconds for each in found) == 300


def test_goals_stand_on_their_edges_also_where_the_grid_is_turned() -> None:
    kit = {"mini goals": 1, "moveable goals": 1}
    straight, turned = (
        spots(things_of(document(goals=GOALS), kit, [grid], drill="lamps")) for grid in (GRID, TURNED)
    )
    assert straight == {"mini goals": {(30, 130)}, "moveable goals": {(330, 80)}}
    # A quarter turn to the left: the left edge comes to lie below, the right one above.
    assert turned == {"mini goals": {(130, 30)}, "moveable goals": {(180, 330)}}


def test_a_small_goal_takes_the_place_of_one_that_nobody_keeps() -> None:
    found = spots(things_of(document(goals=GOALS), {"mini goals": 2}, [GRID], drill="lamps"))
    assert found == {"mini goals": {(30, 130), (330, 80)}}


def test_the_first_part_takes_the_drills_minutes_and_a_later_one_what_its_kit_takes() -> None:
    kit = {"marker cones": 6}
    first = things_of(document(), kit, [GRID], drill="lamps", first=True)
    later = things_of(document(), kit, [GRID], drill="lamps")
    quick = things_of(document(setup_minutes=0), kit, [GRID], drill="lamps")
    assert [sum(each.seconds for each in things) for things in (first, later, quick)] == [300, 48, 0]
    twice = things_of(document(), {"marker cones": 12}, [GRID, TURNED], drill="lamps", first=True)
    assert sum(each.seconds for each in twice) == 600


def test_a_drill_without_kit_still_takes_its_minutes() -> None:
    (only,) = things_of(document(kit=[]), {}, [GRID], drill="lamps", first=True)
    assert (only.kind, only.seconds) == ("", 300)
    assert things_of(document(kit=[], setup_minutes=0), {}, [GRID], drill="lamps") == ()


def test_less_than_no_kit_is_refused() -> None:
    with pytest.raises(ValueError, match="kit marker cones"):
        things_of(document(), {"marker cones": -1}, [GRID], drill="lamps")


@given(
    st.dictionaries(
        st.sampled_from(
            ["marker cones", "flat markers", "mini goals", "moveable goals", "poles", "ropes", "balls"]
        ),
        st.integers(0, 30),
    ),
    st.lists(st.sampled_from([GRID, TURNED]), min_size=1, max_size=2, unique=True),
    st.integers(0, 20),
    st.booleans(),
)
def test_all_kit_is_laid_once_and_its_seconds_add_up(
    kit: dict[str, int], grids: list[GridAt], minutes: int, first: bool
) -> None:
    found = things_of(document(goals=GOALS, setup_minutes=minutes), kit, grids, drill="lamps", first=first)
    assert len(set(found)) == len(found)
    counts = {kind: sum(each.kind == kind for each in found) for kind in kit}
    laid = {kind: count for kind, count in kit.items() if kind != "balls" and count}
    assert {kind: count for kind, count in counts.items() if count} == laid
    if laid and not first:
        assert sum(each.seconds for each in found) <= laying_s(kit, 10_000)
