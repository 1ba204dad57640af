"""The ground to scale: ground beside grids, waiting lines and the ground behind goals are drawn where they are."""

from drills.game.evening import Piece
from sessions.pictures.ground import Layer, ground_plan
from sessions.planning.layout import GridToLay, lay_out
from tests.sessions.pictures.test_pictures import rects

PIECE = Piece("cage", 40, 30, "fence", "fence", "fence", "fence")


def drawn(grid: GridToLay) -> str:
    placed = lay_out([grid], [PIECE]).placed[0]
    return ground_plan(PIECE, [Layer(1, (("1", placed),))], title="Ground")


def test_a_line_stands_beside_its_grid_as_deep_as_there_is_room() -> None:
    svg = drawn(GridToLay("1", 30, 20, waits_m=(("left", 3.0),)))
    (space,), (grid,), (line,) = rects(svg, "space"), rects(svg, "layer"), rects(svg, "body")
    metre = space["width"] / 40
    assert round(line["width"] / metre, 1) == 3.0
    ends = line["x"] + line["width"] - grid["x"], grid["x"] + grid["width"] - line["x"]
    assert 0.0 in [round(each, 1) for each in ends]
    assert rects(drawn(GridToLay("1", 30, 20)), "body") == []


def test_behind_a_goal_the_ground_is_outlined_up_to_the_fence() -> None:
    svg = drawn(GridToLay("1", 30, 20, shot_at=(("left", 15.0), ("right", 15.0))))
    metre = rects(svg, "space")[0]["width"] / 40
    assert sorted(round(each["width"] / metre, 1) for each in rects(svg, "clear")) == [3.0, 7.0]
