"""Booked zones as the ground that they make."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from club.choices import EDGES
from drills.game.document.choices import GoalSize
from drills.game.evening import STANDS, Evening, FixedGoal
from sessions import queries
from sessions.queries.evening import pieces_in
from sessions.queries.rows import zones_of
from sessions.queries.spaces import Booked, spaces_of
from tests.factories import ZoneFactory
from tests.factories_sessions import planned_session
from tests.people import World


def zone(
    pitch: str, position: int, length: float, width: float, *, goals: Any = (), **edges: str
) -> dict[str, Any]:
    stands = {f"edge_{edge}": edges.get(edge, "open") for edge in EDGES}
    row = {"pitch": pitch, "zone": f"Z{position}", "position": position, "has_lights": False, **stands}
    return {**row, "length_m": length, "width_m": width, "fixed_goals": list(goals)}


def goal(edge: str, along: float = 0.5, size: str = "full") -> dict[str, Any]:
    return {"edge": edge, "along": along, "size": size}


def edges_of(booked: Booked) -> tuple[str, ...]:
    return tuple(booked.piece.at(edge) for edge in ("left", "right", "bottom", "top"))


THIRDS = [
    zone("Mill", 0, 60, 30, left="open", right="group", bottom="fence", top="group", goals=[goal("bottom", 0.3)]),
    zone("Mill", 1, 60, 20, left="fence", right="open", bottom="group", top="group", goals=[goal("left")]),
    zone("Mill", 2, 60, 30, bottom="group", goals=[goal("bottom"), goal("top", 0.9, "mini")]),
]  # fmt: skip


def test_one_zone_is_a_piece_with_its_own_edges() -> None:
    (found,) = spaces_of(THIRDS[:1])
    assert (found.piece.key, found.piece.length_m, found.piece.width_m, found.zones) == (
        "Mill: Z0",
        60,
        30,
        1,
    )
    assert edges_of(found) == ("open", "group", "fence", "group")
    assert found.piece.goals == (FixedGoal("bottom", 0.3, GoalSize.FULL),)


def test_two_zones_side_by_side_lose_their_joint_and_keep_the_stricter_ends() -> None:
    (found,) = spaces_of(THIRDS[:2])
    assert (found.piece.key, found.piece.length_m, found.piece.width_m, found.zones) == (
        "Mill: Z0, Z1",
        60,
        50,
        2,
    )
    assert edges_of(found) == ("fence", "group", "fence", "group")
    # The left goal stood 10 m up a zone that now begins at 30 m of 50.
    assert found.piece.goals == (
        FixedGoal("bottom", 0.3, GoalSize.FULL),
        FixedGoal("left", 0.8, GoalSize.FULL),
    )


def test_three_zones_are_one_in_whatever_order_they_come() -> None:
    (found,) = spaces_of([THIRDS[2], THIRDS[0], THIRDS[1]])
    assert (found.piece.key, found.piece.width_m, found.zones) == ("Mill: Z0, Z1, Z2", 80, 3)
    assert edges_of(found) == ("fence", "group", "fence", "open")
    # The goal at the joint is none any more.
    assert [(each.edge, each.along) for each in found.piece.goals] == [
        ("bottom", 0.3),
        ("left", 0.5),
        ("top", 0.9),
    ]


@pytest.mark.parametrize(
    ("zones", "keys"),
    [
        ([THIRDS[0], THIRDS[2]], ["Mill: Z0", "Mill: Z2"]),  # the one between them is somebody else's
        ([THIRDS[0], zone("Mill", 1, 40, 30)], ["Mill: Z0", "Mill: Z1"]),
        ([THIRDS[0], zone("Barn", 1, 60, 30)], ["Mill: Z0", "Barn: Z1"]),
        ([zone("Barn", 1, 60, 30), THIRDS[1], THIRDS[0]], ["Barn: Z1", "Mill: Z0, Z1"]),
        ([], []),
    ],
)
def test_what_does_not_lie_side_by_side_stays_apart(zones: list[dict[str, Any]], keys: list[str]) -> None:
    assert [each.piece.key for each in spaces_of(zones)] == keys


SIZES = st.sampled_from([20.0, 30.0, 40.5])
ZONES = st.builds(
    lambda pitch, length, width, stands, along: (pitch, length, width, stands, along),
    st.sampled_from(["Mill", "Barn"]), SIZES, SIZES, st.tuples(*[st.sampled_from(STANDS)] * 4), st.floats(0, 1),
)  # fmt: skip


@given(st.lists(ZONES, max_size=6), st.permutations(range(6)), st.sets(st.integers(0, 5)))
def test_no_ground_is_made_or_lost(found: list[Any], order: list[int], booked: set[int]) -> None:
    rows = [
        zone(pitch, n, length, width, goals=[goal("left", along)], **dict(zip(EDGES, stands, strict=True)))
        for n, (pitch, length, width, stands, along) in enumerate(found)
    ]
    rows = [rows[n] for n in order if n in booked and n < len(rows)]
    pieces = spaces_of(rows)
    assert sum(each.piece.area_m2 for each in pieces) == pytest.approx(
        sum(each["length_m"] * each["width_m"] for each in rows)
    )
    assert sum(each.zones for each in pieces) == len(rows)
    # Every goal at an end stands where it stood, in metres from its own zone's corner.
    by_name = {f"{each['pitch']}: {each['zone']}": each for each in rows}
    for each in pieces:
        pitch, names = each.piece.key.split(": ")
        below_m, stood = 0.0, []
        for name in names.split(", "):
            row = by_name[f"{pitch}: {name}"]
            stood.append(below_m + row["fixed_goals"][0]["along"] * row["width_m"])
            below_m += row["width_m"]
        assert [goal.along * each.piece.width_m for goal in each.piece.goals] == pytest.approx(stood)
    fences = {each["pitch"] for each in rows if each["edge_left"] == "fence"}
    assert fences == {each.piece.key.split(":")[0] for each in pieces if each.piece.left == "fence"}


def test_ground_is_asked_from_the_largest_piece_on() -> None:
    halves = [zone("Mill", 0, 60, 40), zone("Mill", 1, 60, 40)]
    for zones, space in (
        ([], (130, 130)),  # nobody said: as much as it takes
        (halves[:1], (60, 40)),
        (halves, (60, 80)),  # side by side
        ([*halves, zone("Quarry", 0, 100, 60)], (100, 60)),
        ([halves[0], zone("Mill", 1, 30, 20)], (60, 40)),
    ):
        piece = Evening(12, pieces=pieces_in(zones)).ground[0]
        assert (piece.length_m, piece.width_m) == space


@pytest.mark.django_db
def test_rows_and_what_a_session_reads_of_them_are_the_same_ground(world: World) -> None:
    first = ZoneFactory(
        pitch__has_lights=True, edge_left="fence", edge_top="group", fixed_goals=[goal("left", 0.25)]
    )
    second = ZoneFactory(pitch=first.pitch, edge_bottom="group", edge_right="fence")
    session = planned_session(place=world.own, zones=[second, first])
    framed = queries.session_by_id(session.public_id)
    assert framed is not None
    (found,) = spaces_of([first, second])
    assert spaces_of(zones_of(session)) == spaces_of(zones_of(framed)) == [found]
    assert (found.piece.key, found.has_lights) == (f"{first.pitch.name}: {first.name}, {second.name}", True)
    assert edges_of(found) == ("fence", "fence", "open", "open")
    assert found.piece.goals == (FixedGoal("left", 0.125, GoalSize.FULL),)
