import random
from itertools import combinations, product

import pytest

from sessions.planning.layout import Grid, LayOut, Rectangle, Space, lay_out

FIELD = Space("field", 60, 40)


def inside(space: Space, body: Rectangle, run_off_m: float) -> bool:
    return (
        body.x_m >= run_off_m - 1e-6
        and body.y_m >= run_off_m - 1e-6
        and body.x_m + body.length_m <= space.length_m - run_off_m + 1e-6
        and body.y_m + body.width_m <= space.width_m - run_off_m + 1e-6
    )


def apart_m(one: Rectangle, other: Rectangle) -> float:
    """The gap between two along the axis on which they are further apart; below 0 where they overlap."""
    across = max(other.x_m - one.x_m - one.length_m, one.x_m - other.x_m - other.length_m)
    along = max(other.y_m - one.y_m - one.width_m, one.y_m - other.y_m - other.width_m)
    return max(across, along)


def sound(answer: LayOut, space: Space) -> bool:
    bodies = [each.body for each in answer.placed]
    return (
        all(inside(space, body, answer.run_off_m) for body in bodies)
        and all(apart_m(a, b) >= answer.run_off_m - 1e-6 for a, b in combinations(bodies, 2))
        and all(
            apart_m(c, b.body) >= -1e-6
            for a in answer.placed
            for c in a.clear
            for b in answer.placed
            if a != b
        )
    )


def test_one_grid_stands_a_run_off_from_the_corner_and_says_its_paces() -> None:
    answer = lay_out([Grid("a", 25, 20)], [FIELD], pace_m=0.8)
    assert answer.proven
    assert (answer.placed[0].grid.x_m, answer.placed[0].grid.y_m) == (3.0, 3.0)
    assert (answer.placed[0].corner, answer.placed[0].paces) == ("lower left", (4, 4))


def test_grids_are_turned_where_only_that_fits() -> None:
    answer = lay_out([Grid("a", 30, 20)], [Space("strip", 26, 36)])
    assert answer.placed[0].turned == 1
    assert (answer.placed[0].grid.length_m, answer.placed[0].grid.width_m) == (20.0, 30.0)


def test_too_tight_is_proven_and_says_which_run_off_would_do() -> None:
    answer = lay_out([Grid("a", 28, 18)], [Space("free", 30, 20)])
    assert (answer.placed, answer.proven, answer.widest_run_off_m) == ((), True, 1.0)
    assert answer.reasons[0].text == "1 grid does not fit with 3 m of run-off; 1 m would do."
    assert lay_out([Grid("a", 31, 18)], [Space("free", 30, 20)]).widest_run_off_m is None


def test_an_open_edge_takes_the_run_off_outside() -> None:
    assert lay_out(
        [Grid("a", 28, 18)], [Space("free", 30, 20, open=("left", "right", "top", "bottom"))]
    ).placed


def test_shared_edges_need_no_run_off_between() -> None:
    two = [Grid("a", 10, 10, shares_edges=True), Grid("b", 10, 10, shares_edges=True)]
    assert lay_out(two, [Space("strip", 26, 16)]).placed
    assert not lay_out([two[0], Grid("c", 10, 10)], [Space("strip", 26, 16)]).placed
    assert lay_out([two[0], Grid("c", 10, 10)], [Space("strip", 29, 16)]).placed


def test_nobody_stands_behind_a_goal_that_is_shot_at() -> None:
    shot = Grid("shot", 20, 20, shot_at=("right",))
    other = Grid("other", 10, 20)
    # turned away from the other grid the clear ground would leave the space, so the strip must hold both
    assert lay_out([shot, other], [Space("strip", 3 + 20 + 15 + 10 + 3, 26)]).placed
    assert not lay_out([shot, other], [Space("strip", 3 + 20 + 15 + 10 + 2, 26)]).placed
    assert lay_out([shot, other], [Space("strip", 39, 26, stopped=("left",))]).placed


def test_goals_back_to_back_share_the_clear_ground() -> None:
    two = [Grid("a", 20, 20, shot_at=("right",)), Grid("b", 20, 20, shot_at=("right",))]
    answer = lay_out(two, [Space("strip", 3 + 20 + 15 + 20 + 3, 26)])
    assert answer.placed
    assert sound(answer, Space("strip", 61, 26))


def test_a_waiting_line_and_taken_ground_count() -> None:
    line = Grid("a", 20, 10, strips_m=(("left", 2.0),))
    assert lay_out([line], [Space("s", 28, 16)]).placed[0].body.length_m == 22.0
    assert not lay_out([line], [Space("s", 27.9, 16)]).placed
    assert not lay_out([line], [Space("s", 28, 16, taken=(Rectangle(10, 5, 2, 2),))]).placed


def by_hand(grids: list[Grid], space: Space, run_off_m: int) -> bool:
    """Every whole metre and both turns: enough, since all sides are whole."""
    ways = []
    for grid in grids:
        sides = {(grid.length_m, grid.width_m), (grid.width_m, grid.length_m)}
        spots = product(range(int(space.length_m) + 1), range(int(space.width_m) + 1), sides)
        bodies = [Rectangle(x, y, *each) for x, y, each in spots]
        ways.append([body for body in bodies if inside(space, body, run_off_m)])
    return any(
        all(apart_m(a, b) >= run_off_m for a, b in combinations(chosen, 2)) for chosen in product(*ways)
    )


@pytest.mark.parametrize("seed", range(30))
def test_placed_exactly_where_trying_every_metre_finds_a_place(seed: int) -> None:
    chance = random.Random(seed)
    space = Space("s", chance.randint(8, 13), chance.randint(6, 9))
    grids = [Grid(str(n), chance.randint(2, 5), chance.randint(2, 4)) for n in range(chance.randint(1, 3))]
    run_off_m = chance.randint(0, 1)
    answer = lay_out(grids, [space], run_off_m=run_off_m, seconds=10)
    assert answer.proven
    assert bool(answer.placed) == by_hand(grids, space, run_off_m)
    assert sound(answer, space)


def test_what_a_packer_places_is_placed() -> None:
    from rectpack import newPacker

    for seed in range(6):
        chance = random.Random(seed)
        sides = [(chance.randint(8, 20), chance.randint(6, 14)) for _ in range(4)]
        packer = newPacker(rotation=True)
        for length, width in sides:
            packer.add_rect(length + 3, width + 3)
        packer.add_bin(60 - 3, 40 - 3)
        packer.pack()
        answer = lay_out([Grid(str(n), *each) for n, each in enumerate(sides)], [FIELD], seconds=5)
        assert len(answer.placed) == 4 or len(packer.rect_list()) < 4
        assert sound(answer, FIELD)


def test_impossible_input_names_its_field() -> None:
    with pytest.raises(ValueError, match="length_m"):
        Grid("a", -1, 5)
    with pytest.raises(ValueError, match="run_off_m"):
        lay_out([Grid("a", 5, 5)], [FIELD], run_off_m=-1)
