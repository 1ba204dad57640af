"""What the start layout of a drill is made from: its text, and the numbers, the size and the bibs of one grid."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol, cast

from drills.game.bibs.tonight import Wear
from drills.game.document.choices import Edge as DocumentEdge
from drills.game.document.choices import GoalSize
from drills.game.document.content import Goal
from drills.game.document.drill import DrillDocument
from drills.game.format import Format
from drills.game.places.seats import seats_of, waiting_seats
from drills.game.places.start import Layout
from drills.game.playable import outside_edges
from drills.game.scene import Edge, SceneGate, SceneGoal, SceneZone, Side

# Widths of goals in metres where nobody said who plays. Full size: Laws of the Game, Law 1. Mini and small: common practice, no
# source. An age group's own: 16 ft, of nine a side (The FA, handbook 2016-17); that it stands for all ages is ours, no source.
GOAL_WIDTHS_M = {GoalSize.MINI: 1.5, GoalSize.SMALL: 3.0, GoalSize.AGE_GROUP: 4.88, GoalSize.FULL: 7.32}
GOAL_MOST_OF_EDGE = 0.8  # of an edge (ours, a judgement)


class OnGrid(Protocol):
    """What a plan needs of one grid as it is played tonight, in metres."""

    @property
    def format(self) -> Format:
        """The numbers that play on it."""

    @property
    def length_m(self) -> float: ...
    @property
    def width_m(self) -> float: ...
    @property
    def off(self) -> int:
        """How many players wait beside it."""

    @property
    def wear(self) -> Wear:
        """Colour as written → colour that is worn tonight."""

    @property
    def worn(self) -> Mapping[Side, str]:
        """Side → colour that it wears tonight."""


def layout_of(document: DrillDocument, grid: OnGrid) -> Layout:
    """What the start layout of one grid is made from. `document` is the drill as it is played, in that grid's colours."""
    length_m, width_m = grid.length_m, grid.width_m
    return Layout(
        activity=document.activity.value,
        format=grid.format,
        length_m=length_m,
        width_m=width_m,
        title=document.title,
        goals=tuple(_goal(each, length_m, width_m) for each in document.goals),
        zones=_zones(document, length_m, width_m),
        gates=_gates(document, length_m, width_m),
        bibs=grid.worn,
        seats=seats_of(document, grid.format),
        edges=cast(tuple[Edge, ...], outside_edges(document) or ()),
        waiting=grid.off,
        waits=waiting_seats(document, grid.format, grid.off, grid.wear) if grid.off else (),
        ball_each=True if document.balls.each else None,
        spare_balls=document.balls.spare,
    )


def _goal(goal: Goal, length_m: float, width_m: float) -> SceneGoal:
    edge_m = width_m if goal.edge in (DocumentEdge.LEFT, DocumentEdge.RIGHT) else length_m
    wide = min(goal.width_m or GOAL_WIDTHS_M[goal.size], GOAL_MOST_OF_EDGE * edge_m)
    free = goal.edge is DocumentEdge.FREE
    return SceneGoal(
        key=goal.key,
        edge=cast(Edge, goal.edge.value),
        along_m=0.0 if free else round(goal.along * edge_m, 2),
        width_m=round(wide, 2),
        small=goal.size in (GoalSize.MINI, GoalSize.SMALL),
        open=goal.open_at_start,
        x_m=round(goal.along * length_m, 2) if free else 0.0,
        y_m=round(width_m / 2, 2) if free else 0.0,
    )


def _zones(doc: DrillDocument, length_m: float, width_m: float) -> tuple[SceneZone, ...]:
    return tuple(
        SceneZone(
            key=each.key,
            x_m=round(each.left * length_m, 2),
            y_m=round(each.bottom * width_m, 2),
            length_m=round((each.right - each.left) * length_m, 2),
            width_m=round((each.top - each.bottom) * width_m, 2),
            title=each.name[:40],
        )
        for each in doc.zones
    )


def _gates(doc: DrillDocument, length_m: float, width_m: float) -> tuple[SceneGate, ...]:
    return tuple(
        SceneGate(
            key=each.key,
            x_m=round(each.x * length_m, 2),
            y_m=round(each.y * width_m, 2),
            width_m=each.width_m,
            across=each.across,
        )
        for each in doc.gates
    )
