"""How equal grids lie on a piece of ground."""

from drills.game.evening import Piece
from drills.game.fit.arrays import ArrayCell, Shots, arrays, gaps_m, least_margins_m, places, room_m
from drills.game.space import ALL_EDGES, SizedGrid

OPEN = Piece("", 50, 30)


def test_a_place_for_a_grid_keeps_a_strip_where_players_stand_outside() -> None:
    place, turned = places(Piece("", 30, 20), 1, Shots())
    assert place.inside(ALL_EDGES) == (28, 18)
    assert place.inside(("left", "right")) == (28, 20)
    assert place.inside(()) == (30, 20)
    assert (turned.inside(ALL_EDGES), turned.turned) == ((18, 28), True)


def test_grids_side_by_side_share_the_ground_with_a_gap() -> None:
    sizes = {
        (place.columns, place.rows, place.turned): (place.length_m, place.width_m)
        for place in places(OPEN, 2, Shots())
    }
    assert sizes == {
        (2, 1, False): (24, 30),
        (2, 1, True): (30, 24),
        (1, 2, False): (50, 14),
        (1, 2, True): (14, 50),
    }
    assert places(Piece("", 4, 2), 3, Shots()) == ()


def test_no_column_or_row_stays_empty() -> None:
    assert {grids: set(arrays(grids)) for grids in (1, 2, 3, 4, 5)} == {
        1: {(1, 1)},
        2: {(1, 2), (2, 1)},
        3: {(1, 3), (3, 1), (2, 2)},
        4: {(1, 4), (4, 1), (2, 2)},
        5: {(1, 5), (5, 1), (2, 3), (3, 2)},
    }


def test_the_strip_is_two_metres_where_there_is_room_and_never_less_than_one() -> None:
    place = ArrayCell(30, 24)
    assert place.strip_m(SizedGrid(28, 20), ALL_EDGES) == 1.0
    assert place.strip_m(SizedGrid(26, 19), ALL_EDGES) == 2.0
    assert place.strip_m(SizedGrid(27, 20), ALL_EDGES) == 1.5
    assert place.strip_m(SizedGrid(28, 20), ()) == 0.0


def test_edges_take_their_margins_from_three_metres_down() -> None:
    cage = Piece("", 40, 30, "fence", "fence", "fence", "group")
    found = {
        place.run_off_m: (place.length_m, place.width_m)
        for place in places(cage, 1, Shots())
        if not place.turned
    }
    assert found == {
        (3, 3): (34, 24),
        (3, 2): (34, 26),
        (3, 1): (34, 27),  # one to the fence, never less than two to the others
        (2, 3): (36, 24),
        (2, 2): (36, 26),
        (2, 1): (36, 27),
        (1, 3): (38, 24),
        (1, 2): (38, 26),
        (1, 1): (38, 27),
    }
    assert (least_margins_m(cage, Shots()), room_m(cage)) == ((2, 3), (38, 27))


def test_behind_a_goal_other_groups_are_further_away() -> None:
    half = Piece("", 40, 30, right="group")
    both, one = Shots(2, 0, 15, 0, 15, 0), Shots(1, 0, 15, 0, 15, 0)
    longest = {
        shots: max(p.length_m for p in places(half, 1, shots) if not p.turned) for shots in (both, one)
    }
    assert longest == {both: 25, one: 37}  # with one goal it faces the other way
    assert gaps_m(both, 2, 1) == (15, 3)
    assert gaps_m(one, 2, 1) == (3, 3)  # two of them stand back to back
    assert gaps_m(Shots(), 3, 3) == (2, 2)
