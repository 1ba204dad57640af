"""Nobody stands on anybody: players, those who are off, adults and the coach, however the demo drills are set up."""

import itertools
import math

import pytest
from msgspec.structs import replace

from drills.drawing.picture import laid
from drills.drawing.relay import relay
from drills.drawing.svg import DrawingOptions
from drills.drawing.svg.sheet import lay
from drills.game.evening import Evening, typed_ground
from drills.game.fits import fits
from drills.game.format import Format
from drills.game.places import Layout
from drills.game.played import as_played, dressed
from drills.game.scene import Scene, SceneGoal, Spot
from tests.bibrack.demo.documents import SLUGS, demo_document
from tests.drills.drawing.pictures import rungs
from tests.drills.drawing.scenes import four_a_side

STOCK = {"red bibs": 14, "blue bibs": 14, "yellow bibs": 12, "green bibs": 10, "orange bibs": 10}
# (players, adults, length and width of the ground in metres)
EVENINGS = ((7, 1, 20, 16), (10, 2, 60, 40), (13, 1, 32, 26), (18, 2, 60, 40), (23, 3, 46, 36))


def overlaps(scene: Scene) -> list[tuple[str, str]]:
    """Who is drawn over whom, as circles of the size that this plan has."""
    sheet = lay(scene, DrawingOptions())
    spots = [(each.key, sheet.at((each.x_m, each.y_m))) for each in scene.players]
    if scene.coach is not None:
        spots.append(("coach", sheet.at((scene.coach.x_m, scene.coach.y_m))))
    return [
        (one, other)
        for (one, a), (other, b) in itertools.combinations(spots, 2)
        if math.dist(a, b) < 2 * sheet.radius_u - 0.05
    ]


@pytest.mark.parametrize("slug", SLUGS)
def test_nobody_is_drawn_over_anybody_at_the_start(slug: str) -> None:
    document = demo_document(slug)
    tried = 0
    for rung in rungs(document):
        runs = [as_played(document, rung)]
        for players, adults, length_m, width_m in EVENINGS:
            evening = Evening(players, adults=adults, pieces=typed_ground(length_m, width_m), kit=STOCK)
            runs += [dressed(document, rung, each, evening) for each in fits(document, rung, evening).first]
        for run in runs:
            for grid, _times in run.pictures:
                scene = laid(run, grid).scene
                assert overlaps(scene) == [], (rung, len(scene.players))
                tried += 1
    assert tried > len(rungs(document))


def test_the_check_above_sees_an_overlap() -> None:
    scene = four_a_side()
    first = scene.players[0]
    assert overlaps(scene) == []
    assert overlaps(replace(scene, coach=Spot(x_m=first.x_m, y_m=first.y_m + 0.4))) == [(first.key, "coach")]


@pytest.mark.parametrize("off", [1, 2, 3, 5, 7])
def test_those_who_are_off_make_room_for_a_coach_who_stands_behind_that_edge(off: int) -> None:
    """The coach is drawn below the grid, and with a goal on the left, those who are off wait there too."""
    drawn = replace(four_a_side(), coach=Spot(x_m=14.6, y_m=-2), balls=four_a_side().balls[:1])
    layout = Layout(
        activity="directional game", format=Format.parse("GK+4v4+GK+2"), length_m=30, width_m=20, waiting=off,
        goals=(
            SceneGoal(key="left", edge="left", along_m=10, width_m=5),
            SceneGoal(key="right", edge="right", along_m=10, width_m=5),
        ),
    )  # fmt: skip
    found = relay(drawn, layout)
    queue = [each for each in found.scene.players if each.place == "queue"]
    assert (found.moves, len(queue)) == (True, off)
    assert all(each.y_m < 0 for each in queue)  # outside, never pushed into the grid
    assert overlaps(found.scene) == []
