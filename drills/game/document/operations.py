"""Variations: named sets of typed changes to the base, addressed by stable keys and never chained."""

from __future__ import annotations

from typing import Annotated

import msgspec

from drills.game.document.choices import ChangeClass, Direction, Edge, Heading, Rung
from drills.game.document.conditions import Condition
from drills.game.document.content import (
    Balls,
    Ends,
    Gate,
    Goal,
    GridZone,
    Group,
    Key,
    KitItem,
    Line,
    Metres,
    OnWinning,
    Phase,
    Queue,
    Restart,
    Scoring,
    Shape,
    Share,
    Start,
    Work,
)
from drills.game.scene import Scene


class SetGrid(Shape, frozen=True, kw_only=True, tag="set_grid"):
    length_m: Metres
    width_m: Metres


class SetFormat(Shape, frozen=True, kw_only=True, tag="set_format"):
    format: Line


class AddCondition(Shape, frozen=True, kw_only=True, tag="add_condition"):
    condition: Condition


class ReplaceCondition(Shape, frozen=True, kw_only=True, tag="replace_condition"):
    condition: Condition  # its key names the one that is replaced


class RemoveCondition(Shape, frozen=True, kw_only=True, tag="remove_condition"):
    key: Key


class PutGroup(Shape, frozen=True, kw_only=True, tag="put_group"):
    """Add a group, or replace the one with the same key."""

    group: Group


class RemoveGroup(Shape, frozen=True, kw_only=True, tag="remove_group"):
    key: Key


class PutGoal(Shape, frozen=True, kw_only=True, tag="put_goal"):
    goal: Goal


class RemoveGoal(Shape, frozen=True, kw_only=True, tag="remove_goal"):
    key: Key


class MoveGoal(Shape, frozen=True, kw_only=True, tag="move_goal"):
    key: Key
    edge: Edge
    along: Share = 0.5


class PutZone(Shape, frozen=True, kw_only=True, tag="put_zone"):
    zone: GridZone


class RemoveZone(Shape, frozen=True, kw_only=True, tag="remove_zone"):
    key: Key


class PutGate(Shape, frozen=True, kw_only=True, tag="put_gate"):
    gate: Gate


class RemoveGate(Shape, frozen=True, kw_only=True, tag="remove_gate"):
    key: Key


class PutPhase(Shape, frozen=True, kw_only=True, tag="put_phase"):
    phase: Phase


class SetKit(Shape, frozen=True, kw_only=True, tag="set_kit"):
    kit: tuple[KitItem, ...]


class SetBalls(Shape, frozen=True, kw_only=True, tag="set_balls"):
    balls: Balls


class SetStart(Shape, frozen=True, kw_only=True, tag="set_start"):
    start: Start


class SetRestarts(Shape, frozen=True, kw_only=True, tag="set_restarts"):
    restarts: tuple[Restart, ...]


class SetScoring(Shape, frozen=True, kw_only=True, tag="set_scoring"):
    scoring: tuple[Scoring, ...]


class SetEnds(Shape, frozen=True, kw_only=True, tag="set_ends"):
    ends: Ends


class SetOnWinning(Shape, frozen=True, kw_only=True, tag="set_on_winning"):
    on_winning: OnWinning


class SetQueue(Shape, frozen=True, kw_only=True, tag="set_queue"):
    queue: Queue


class SetDirection(Shape, frozen=True, kw_only=True, tag="set_direction"):
    direction: Direction


class SetHeading(Shape, frozen=True, kw_only=True, tag="set_heading"):
    heading: Heading
    headers_per_player: Annotated[int, msgspec.Meta(ge=0, le=50)] = 0


class SetWork(Shape, frozen=True, kw_only=True, tag="set_work"):
    work: Work


class MoveItem(Shape, frozen=True, kw_only=True, tag="move_item"):
    """Move one item of the scene, in metres from the lower-left corner of the grid."""

    key: Key
    x_m: Annotated[float, msgspec.Meta(ge=-40, le=170)]
    y_m: Annotated[float, msgspec.Meta(ge=-40, le=170)]


class SetScene(Shape, frozen=True, kw_only=True, tag="set_scene"):
    """A drawing of the rung's own, for its own grid and numbers; it goes on last, whatever else changes."""

    scene: Scene


Operation = (
    SetGrid
    | SetFormat
    | AddCondition
    | ReplaceCondition
    | RemoveCondition
    | PutGroup
    | RemoveGroup
    | PutGoal
    | RemoveGoal
    | MoveGoal
    | PutZone
    | RemoveZone
    | PutGate
    | RemoveGate
    | PutPhase
    | SetKit
    | SetBalls
    | SetStart
    | SetRestarts
    | SetScoring
    | SetEnds
    | SetOnWinning
    | SetQueue
    | SetDirection
    | SetHeading
    | SetWork
    | MoveItem
    | SetScene
)

_CLASSES: dict[type[Shape], ChangeClass] = {
    SetGrid: ChangeClass.SPACE,
    PutZone: ChangeClass.SPACE,
    RemoveZone: ChangeClass.SPACE,
    MoveItem: ChangeClass.SPACE,
    SetScene: ChangeClass.SPACE,
    MoveGoal: ChangeClass.SPACE,
    SetDirection: ChangeClass.SPACE,
    SetFormat: ChangeClass.PEOPLE,
    PutGroup: ChangeClass.PEOPLE,
    RemoveGroup: ChangeClass.PEOPLE,
    PutGoal: ChangeClass.EQUIPMENT,
    RemoveGoal: ChangeClass.EQUIPMENT,
    PutGate: ChangeClass.EQUIPMENT,
    RemoveGate: ChangeClass.EQUIPMENT,
    SetKit: ChangeClass.EQUIPMENT,
    SetBalls: ChangeClass.EQUIPMENT,
}


def change_class(operation: Operation) -> ChangeClass:
    """The class of a change follows from the operation: space, equipment or people, else it is the task."""
    return _CLASSES.get(type(operation), ChangeClass.TASK)


class Variation(Shape, frozen=True, kw_only=True):
    """Only the changes to the base, and where it stands on the ladder."""

    key: Key
    title: Line
    rung: Rung
    changes: Annotated[tuple[Operation, ...], msgspec.Meta(min_length=1, max_length=12)]
    why: Line | None = None  # what it is for
    effort: Annotated[float, msgspec.Meta(ge=0, le=10)] | None = None
