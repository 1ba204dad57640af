"""Do the numbers match the format, and does everybody stand where they play?"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

from drills.drawing.checks.reason import Finding, Severity, reason
from drills.drawing.paper import fmt
from drills.drawing.pose import pose_at
from drills.drawing.words import name_of
from drills.game.format import Format
from drills.game.groups import SIDES
from drills.game.scene import Point, Scene, SceneGoal, ScenePlayer
from drills.game.wording.shapes import Sentence

APART_M = 0.8  # two people closer than this stand on one spot (common practice, no source)
QUEUE_APART_M = 0.4  # in a line (common practice, no source)
FAR_OUT_M = 4.0  # an outside player farther off can't take part (common practice, no source)


def numbers(scene: Scene, wanted: Format) -> Iterator[Finding]:
    """Players who wait in a queue and adults do not count."""
    for group, count, found in _groups(scene, wanted):
        if count != len(found):
            keys = [each.key for each in found]
            yield reason("numbers", "error", *keys, group=group, wanted=str(count), shown=str(len(found)))


def _groups(scene: Scene, wanted: Format) -> Iterator[tuple[Sentence, int, list[ScenePlayer]]]:
    for n, name in enumerate(SIDES):
        side = wanted.sides[n] if n < len(wanted.sides) else None
        mine = [each for each in scene.players if each.side == name and each.kind != "adult"]
        field = [each for each in mine if each.kind == "player"]
        yield (
            Sentence("group_of_side_inside", {"side": name}),
            side.inside if side else 0,
            [each for each in field if _is_inside(each)],
        )
        outside = [each for each in field if each.place == "outside"]
        yield Sentence("group_of_side_outside", {"side": name}), side.outside if side else 0, outside
        keepers = [each for each in mine if each.kind == "keeper"]
        yield Sentence("group_of_keepers", {"side": name}), side.keeper if side else 0, keepers
    free = [each for each in scene.players if each.side == "neutral" and each.kind == "player"]
    inside = [each for each in free if _is_inside(each)]
    yield Sentence("group_of_neutrals_inside"), wanted.neutrals_inside, inside
    outside = [each for each in free if each.place == "outside"]
    yield Sentence("group_of_neutrals_outside"), wanted.neutrals_outside, outside


def _is_inside(player: ScenePlayer) -> bool:
    return player.place in ("inside", "zone", "goal")


def places(scene: Scene) -> Iterator[Finding]:
    """Everybody stands where their place says: in the grid, in their zone, outside; and a goal of an edge stands on it.

    Adults and who queues stand anywhere.
    """
    for each in scene.players:
        if each.kind == "adult" or each.place == "queue":
            continue
        if each.place == "outside":
            yield from _outside(scene, each)
        elif each.place == "zone" and each.zone is not None:
            yield from _in_zone(scene, each)
        elif each.kind == "player" and beyond_m(scene, (each.x_m, each.y_m)) > 0:
            yield reason("not-inside", "error", each.key, who=name_of(each))
    for goal in scene.goals:
        if _off_edge(scene, goal):
            yield reason("goal-off-edge", "error", goal.key, goal=goal.key)


def beyond_m(scene: Scene, spot: Point) -> float:
    """How far a point lies from the grid in metres, 0 inside and on the line."""
    dx = max(0.0, -spot[0], spot[0] - scene.length_m)
    dy = max(0.0, -spot[1], spot[1] - scene.width_m)
    return math.hypot(dx, dy)


def _outside(scene: Scene, player: ScenePlayer) -> Iterator[Finding]:
    out = beyond_m(scene, (player.x_m, player.y_m))
    inner = 0 < player.x_m < scene.length_m and 0 < player.y_m < scene.width_m
    if inner:
        yield reason("not-outside", "error", player.key, who=name_of(player))
    elif not _on_edge(scene, player):
        yield reason("wrong-edge", "error", player.key, who=name_of(player), edge=player.edge or "")
    elif out > FAR_OUT_M:
        yield reason("far-out", "warning", player.key, who=name_of(player), metres=fmt(out))


def _on_edge(scene: Scene, player: ScenePlayer) -> bool:
    return {
        "left": player.x_m <= 0,
        "right": player.x_m >= scene.length_m,
        "bottom": player.y_m <= 0,
        "top": player.y_m >= scene.width_m,
    }.get(player.edge or "free", True)


def _in_zone(scene: Scene, player: ScenePlayer) -> Iterator[Finding]:
    zone = next(each for each in scene.zones if each.key == player.zone)
    across = zone.x_m <= player.x_m <= zone.x_m + zone.length_m
    if not (across and zone.y_m <= player.y_m <= zone.y_m + zone.width_m):
        name = zone.title or zone.key
        yield reason("not-in-zone", "error", player.key, zone.key, who=name_of(player), zone=name)


def _off_edge(scene: Scene, goal: SceneGoal) -> bool:
    if goal.edge == "free":
        return False
    along = scene.width_m if goal.edge in ("left", "right") else scene.length_m
    return goal.along_m - goal.width_m / 2 < -1e-9 or goal.along_m + goal.width_m / 2 > along + 1e-9


def nobody_on_top(scene: Scene) -> Iterator[Finding]:
    """At the start and at the end of each step; two who stay where they are are named once."""
    seen: set[tuple[str, str]] = set()
    moments = [0.0, *(step.end_s for step in scene.steps)]
    for number, time_s in enumerate(moments):
        when = Sentence("after_step", {"number": number}) if number else ""
        spots = pose_at(scene, time_s).players
        for a, b in _too_close(scene.players, spots):
            if (a.key, b.key) not in seen:
                seen.add((a.key, b.key))
                severity: Severity = "warning" if number else "error"
                names = {"who": name_of(a), "other": name_of(b)}
                yield reason("on-top", severity, a.key, b.key, when=when, **names)


def _too_close(
    players: Sequence[ScenePlayer], spots: dict[str, Point]
) -> Iterator[tuple[ScenePlayer, ScenePlayer]]:
    for a, b in itertools.combinations(players, 2):
        least = QUEUE_APART_M if a.place == b.place == "queue" else APART_M
        if math.dist(spots[a.key], spots[b.key]) < least:
            yield a, b
