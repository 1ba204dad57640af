"""The plan of a drill: the one drawn by hand where there is one, else the start layout that its text describes."""

from __future__ import annotations

from dataclasses import replace as _put

import msgspec

from drills.drawing.relay import Relaid, relay
from drills.drawing.worn import in_bibs
from drills.game.bibs import in_colours
from drills.game.document.drill import DrillDocument
from drills.game.places import Layout, lay_out, layout_of
from drills.game.played import GridTonight, Played, as_played, is_age_groups
from drills.game.scene import Scene, SceneGoal
from drills.game.variations import played as in_rung


def scene_of(tonight: Played, grid: GridTonight | None = None) -> Scene:
    """The plan of one grid, the first where none is named: that of `laid`."""
    return laid(tonight, grid).scene


def scene_as_written(document: DrillDocument, rung: str = "") -> Scene:
    """The plan of a rung as it is written. Raises KeyError for an unknown one, and UnclearFormat."""
    return scene_of(as_played(document, rung))


def laid(tonight: Played, grid: GridTonight | None = None) -> Relaid:
    """The plan of one grid, and what of the drawing by hand has no place on it.

    Without a drawing it is the generated layout. A drawing stands as it is, in the bibs of its groups, where the drill is played as written, and is
    laid again for other numbers, another grid or other bibs. Goals of a match are as wide as those of tonight's age group.
    """
    found = _laid(tonight, grid or tonight.first)
    return found if tonight.goal is None else _put(found, scene=_in_size(found.scene, tonight))


def _laid(tonight: Played, grid: GridTonight) -> Relaid:
    base = tonight.base if grid.wear == tonight.first.wear else in_colours(tonight.written, grid.wear)
    doc = in_rung(base, tonight.rung)
    layout = layout_of(doc, grid)
    as_written = tonight.setup is None and tonight.grid_key in ("", doc.grids[0].key)
    if doc.scene is not None and as_written:
        return Relaid(_in_bibs(doc.scene, layout))
    drawn = doc.scene or base.scene
    if drawn is None:
        return Relaid(lay_out(layout))
    changed = any(getattr(doc, name) != getattr(base, name) for name in ("goals", "zones", "gates"))
    return relay(drawn, layout, things=changed and doc.scene is None, under=doc.under_to)


def _in_size(scene: Scene, tonight: Played) -> Scene:
    """Goals of a match as wide as tonight's own; a shorter edge is goal from end to end. Drawn goals without a match in
    the text are told by their mark.
    """
    assert tonight.goal is not None
    written = {each.key: each for each in tonight.document.goals}
    wide = tonight.goal.wide_m
    goals = tuple(
        _widened(scene, each, wide)
        if (is_age_groups(written[each.key]) if each.key in written else not each.small)
        else each
        for each in scene.goals
    )
    return scene if goals == scene.goals else msgspec.structs.replace(scene, goals=goals)


def _widened(scene: Scene, goal: SceneGoal, wide_m: float) -> SceneGoal:
    if goal.edge == "free":
        return msgspec.structs.replace(goal, width_m=wide_m)
    edge_m = scene.width_m if goal.edge in ("left", "right") else scene.length_m
    wide = min(wide_m, edge_m)
    along = min(max(goal.along_m, wide / 2), edge_m - wide / 2)
    return msgspec.structs.replace(goal, width_m=wide, along_m=round(along, 3))


def _in_bibs(scene: Scene, layout: Layout) -> Scene:
    players = tuple(in_bibs(scene.players, layout))
    return scene if players == scene.players else msgspec.structs.replace(scene, players=players)
