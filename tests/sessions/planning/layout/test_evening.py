import random

import pytest

from sessions.planning.layout import Grid, Kept, LayOut, Space, lay_out, lay_out_evening
from tests.sessions.planning.layout.test_layout import FIELD, sound


def test_the_next_grid_stands_on_the_cones_of_the_one_before() -> None:
    first, second, third = lay_out_evening(
        [[Grid("1", 20, 15)], [Grid("2", 30, 15)], [Grid("3", 30, 24)]], [FIELD]
    )
    assert (first.cones_kept, second.cones_kept, third.cones_kept) == (0, 2, 2)
    assert [each.layout.placed[0].grid.x_m for each in (first, second, third)] == [3.0, 3.0, 3.0]
    assert (first.cones, first.layout.placed[0].corner) == (4, "lower left")


def test_room_for_outside_players_moves_every_grid_alike() -> None:
    with_line = Grid("2", 20, 15, strips_m=(("left", 1.5), ("bottom", 1.5)))
    found = lay_out_evening([[Grid("1", 20, 15)], [with_line]], [FIELD])
    assert [each.cones_kept for each in found] == [0, 4]


def test_one_grid_that_does_not_fit_is_proven_without_the_solver(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sessions.planning.layout.evening.lay_out", None)
    found = lay_out_evening([[Grid("a", 28, 18)], [Grid("b", 61, 10)]], [Space("free", 30, 20)])
    assert [(each.layout.placed, each.layout.proven) for each in found] == [((), True)] * 2
    assert [each.layout.widest_run_off_m for each in found] == [1.0, None]


@pytest.mark.parametrize("seed", range(25))
def test_placed_or_proven_as_the_exact_search_says(seed: int) -> None:
    chance = random.Random(seed)
    space = Space("s", chance.randint(20, 50), chance.randint(15, 40))
    edges = ("left", "right", "top", "bottom")
    grids = [
        Grid(
            str(number),
            chance.randint(5, 18),
            chance.randint(5, 14),
            strips_m=((chance.choice(edges), 1.5),) if chance.random() < 0.3 else (),
            shot_at=(chance.choice(edges),) if chance.random() < 0.2 else (),
        )
        for number in range(chance.randint(1, 3))
    ]
    found: Kept = lay_out_evening([grids], [space])[0]
    exact: LayOut = lay_out(grids, [space], seconds=5)
    assert bool(found.layout.placed) == bool(exact.placed)
    assert found.layout.widest_run_off_m == exact.widest_run_off_m
    assert sound(found.layout, space)


def test_nothing_to_lay_out_is_no_fault() -> None:
    assert lay_out_evening([[]], [FIELD])[0].cones == 0
    with pytest.raises(ValueError, match="pace_m"):
        lay_out_evening([[Grid("a", 5, 5)]], [FIELD], pace_m=0.1)
