"""The plan of a document: drawn by hand where it may be, else laid out from the text."""

import pytest

from drills.drawing.checks import check
from drills.drawing.picture import laid, scene_as_written, scene_of
from drills.game.fit import fit
from drills.game.format import Format
from drills.game.playable import design_of
from drills.game.played import as_played
from tests.drills.samples import WHOLE, outside, small, whole

SCENE = {
    "length_m": 25, "width_m": 20,
    "players": [{"key": "a1", "x_m": 5, "y_m": 5, "side": "A", "kind": "player", "place": "inside", "bib": "red"}],
}  # fmt: skip


def test_the_layout_has_everybody_and_passes_the_plans_own_checks() -> None:
    scene = scene_as_written(whole())
    assert (scene.length_m, scene.width_m) == (25, 20)
    assert [each for each in check(scene, Format.parse("5v5+2in")) if each.severity == "error"] == []
    assert sum(each.place == "outside" for each in scene.players) == 0
    assert {each.key: each.open for each in scene.goals} == {"west-goal": True, "east-goal": False}
    assert [(each.key, each.x_m, each.length_m) for each in scene.zones] == [("mid", 10.0, 5.0)]


def test_helpers_of_every_side_stand_outside() -> None:
    scene = scene_as_written(outside())
    assert [each for each in check(scene, Format.parse("4v4+4")) if each.severity == "error"] == []
    assert {each.edge for each in scene.players if each.place == "outside"} == {
        "left",
        "right",
        "top",
        "bottom",
    }


def test_a_drawing_by_hand_stands_as_written_and_is_laid_again_for_anything_else() -> None:
    document = whole(scene=SCENE)
    assert scene_as_written(document) is document.scene
    assert scene_of(as_played(document, grid_key="usual")) is document.scene
    large = laid(as_played(document, grid_key="large"))
    assert (large.scene.length_m, len(large.scene.players), large.moves) == (35, 12, True)
    assert (large.scene.players[0].key, large.scene.players[0].x_m) == ("a1", 7)  # 5 of 25 m
    assert scene_as_written(document, "wide").players[0].key == "a1"


def test_tonights_set_up_decides_numbers_and_size() -> None:
    document = whole()
    best = fit(design_of(document), players=15, length_m=30, width_m=20)[0]
    scene = scene_of(as_played(document, "", best))
    assert (scene.length_m, scene.width_m) == (best.length_m, best.width_m)
    assert len([each for each in scene.players if each.kind == "player"]) == best.format.players


def test_bibs_follow_the_groups_and_tonights_stock() -> None:
    document = whole(scene={**SCENE, "players": [{**SCENE["players"][0], "bib": "red"}]})  # type: ignore[index]
    best = fit(design_of(document), players=12, length_m=25, width_m=20)[0]
    for drawn in (document, whole()):
        scene = scene_of(as_played(drawn, "", best, ({"red": "green"},)))
        assert {each.bib for each in scene.players if each.side == "A"} == {"green"}


def test_a_goal_never_overhangs_its_edge() -> None:
    document = small(goals=[{"key": "big", "edge": "left", "size": "full"}])
    assert scene_as_written(document).goals[0].width_m == 7.2  # 0.8 of a 9 m edge, not 7.32 m (Law 1)


@pytest.mark.parametrize("key", ["eight", "wide"])
def test_every_rung_has_a_plan(key: str) -> None:
    assert scene_as_written(whole(), key).title == WHOLE["title"]
