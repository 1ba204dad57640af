import random

import pytest

from drills.game.evening import STANDS, Piece
from drills.game.space import ALL_EDGES
from sessions.planning.layout import GridToLay, KeptLayout, LayOut, lay_out, lay_out_evening
from tests.sessions.planning.layout.by_hand import fenced, sound
from tests.sessions.planning.layout.test_layout import FIELD


def test_the_next_grid_stands_on_the_cones_of_the_one_before() -> None:
    first, second, third = lay_out_evening(
        [[GridToLay("1", 20, 15)], [GridToLay("2", 30, 15)], [GridToLay("3", 30, 24)]], [FIELD]
    )
    assert (first.cones_kept, second.cones_kept, third.cones_kept) == (0, 2, 2)
    assert [each.layout.placed[0].grid.x_m for each in (first, second, third)] == [3.0, 3.0, 3.0]
    assert (first.cones, first.layout.placed[0].corner) == (4, "lower left")


def test_room_for_outside_players_moves_every_grid_alike() -> None:
    with_line = GridToLay("2", 20, 15, strips_m=(("left", 1.5), ("bottom", 1.5)))
    found = lay_out_evening([[GridToLay("1", 20, 15)], [with_line]], [FIELD])
    assert [each.cones_kept for each in found] == [0, 4]


def test_one_grid_is_placed_or_refused_without_the_solver(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sessions.planning.layout.evening.search", None)
    found = lay_out_evening([[GridToLay("a", 28, 18)], [GridToLay("b", 61, 10)]], [fenced("cage", 30, 20)])
    assert [(each.layout.margins.least_m, each.layout.proven) for each in found] == [(1, False), (1, True)]
    assert [len(each.layout.placed) for each in found] == [1, 0]
    assert [each.layout.reasons[0].text for each in found] == [
        "The fence is 1 m away: slow down at the edge.",
        "Too close to the fence: make it 28 m long.",
    ]


@pytest.mark.parametrize("seed", range(60))
def test_placed_or_proven_as_the_exact_search_says(seed: int) -> None:
    chance = random.Random(seed)
    edges = {edge: chance.choice(STANDS) for edge in ALL_EDGES}
    piece = fenced("s", chance.randint(20, 50), chance.randint(15, 40), **edges)
    grids = [
        GridToLay(
            str(number),
            chance.randint(5, 18),
            chance.randint(5, 14),
            strips_m=((chance.choice(ALL_EDGES), 1.0),) if chance.random() < 0.3 else (),
            shot_at=((chance.choice(ALL_EDGES), chance.choice((5.0, 15.0))),)
            if chance.random() < 0.4
            else (),
        )
        for number in range(chance.randint(1, 3))
    ]
    found: KeptLayout = lay_out_evening([grids], [piece])[0]
    exact: LayOut = lay_out(grids, [piece], seconds=5)
    assert bool(found.layout.placed) == bool(exact.placed)
    assert found.layout.margins == exact.margins
    assert sound(found.layout, grids, piece)


def test_six_alike_lie_in_columns_and_rows_when_the_time_is_over() -> None:
    grids = [GridToLay(str(n), 11, 12, shot_at=(("left", 5.0),)) for n in range(6)]
    for piece in (fenced("cage", 46, 31), fenced("half", 60, 30, top="group")):
        found = lay_out_evening([grids], [piece], seconds=0.001)[0].layout
        assert len(found.placed) == 6
        assert sound(found, grids, piece)


def test_grids_use_all_pieces_of_ground() -> None:
    pieces = [fenced("first", 20, 16), Piece("second", 20, 16)]
    grids = [GridToLay("a", 14, 10), GridToLay("b", 20, 16)]
    found = lay_out_evening([grids], pieces)[0].layout
    assert [each.space for each in found.placed] == ["first", "second"]


def test_nothing_to_lay_out_is_no_fault() -> None:
    assert lay_out_evening([[]], [FIELD])[0].cones == 0
    with pytest.raises(ValueError, match="pace_m"):
        lay_out_evening([[GridToLay("a", 5, 5)]], [FIELD], pace_m=0.1)
