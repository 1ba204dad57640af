"""Where somebody starts who is drawn elsewhere: a faint outline without a number, so that nobody takes it for a player."""

from __future__ import annotations

import math
from collections.abc import Iterable

from drills.drawing.paper import Element, group
from drills.drawing.pose import Pose, moves
from drills.drawing.svg.figures import shape
from drills.drawing.svg.sheet import DrawingSheet
from drills.game.scene import BallPath, ScenePlayer

GHOST = "#9c9584"


def ghosts(sheet: DrawingSheet, pose: Pose) -> Element | None:
    """The ghosts of a picture, to lie under everybody; None where there are none."""
    gone = away(sheet, pose)
    return outlines([(each, sheet.at((each.x_m, each.y_m))) for each in gone], sheet.radius_u)


def outlines(where: Iterable[tuple[ScenePlayer, tuple[float, float]]], radius: float) -> Element | None:
    """Ghosts of players at points of the sheet, of a `radius` in its units, as one group that says how faint they are."""
    made = [_outline(player, at, radius) for player, at in where]
    if not made:
        return None
    return group(made, cls="ghosts", fill="none", stroke=GHOST, stroke_width=0.9, stroke_dasharray="2 1.8")


def away(sheet: DrawingSheet, pose: Pose) -> list[ScenePlayer]:
    """Who leaves their start bare: in a pose, neither they nor anybody else stands on it; in motion, they go away from it."""
    if sheet.options.moving:
        gone = {
            move.who
            for _, move in moves(sheet.scene)
            if not isinstance(move, BallPath)
            and _far(sheet, pose.players[move.who], (move.to_x_m, move.to_y_m))
        }
        return [each for each in sheet.scene.players if each.key in gone]
    stood = list(pose.players.values())
    return [
        each for each in sheet.scene.players if all(_far(sheet, (each.x_m, each.y_m), spot) for spot in stood)
    ]


def _far(sheet: DrawingSheet, one: tuple[float, float], other: tuple[float, float]) -> bool:
    """Whether a mark at one point of the ground leaves the middle of the other bare."""
    return math.dist(one, other) * sheet.unit_per_m >= sheet.radius_u


def _outline(player: ScenePlayer, at: tuple[float, float], radius: float) -> Element:
    made = shape(player.kind == "keeper", player.side, radius, cls="")
    made.set("transform", f"translate({at[0]:.1f} {at[1]:.1f})")
    return made
