"""The plan of a drill as data: what stands where, and what moves when.

Metres from the grid's lower-left corner, x along the length, y along the width, both to the right and upwards.
Times are seconds on the scene's own clock, which starts at 0 with the first step.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

import msgspec

MOST_ITEMS = 200
MOST_MOVES = 200
COACH_KEY = "coach"

LONGEST_KEY = 40
Key = Annotated[
    str, msgspec.Meta(min_length=1, max_length=LONGEST_KEY, pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]*$")
]
Label = Annotated[str, msgspec.Meta(max_length=40)]
Title = Annotated[str, msgspec.Meta(max_length=120)]
Coordinate = Annotated[float, msgspec.Meta(ge=-200, le=200)]
Extent = Annotated[float, msgspec.Meta(gt=0, le=130)]
Seconds = Annotated[float, msgspec.Meta(ge=0, le=600)]
Count = Annotated[int, msgspec.Meta(ge=1, le=200)]

Point = tuple[float, float]  # x and y in metres
Side = Literal["A", "B", "C", "D", "neutral"]
Kind = Literal["player", "keeper", "adult"]
Place = Literal["inside", "outside", "zone", "queue", "goal"]
Edge = Literal["left", "right", "top", "bottom", "free"]
ClaimKind = Literal[
    "third player finishes",
    "everyone touches it",
    "switch of side",
    "through a gate",
    "into a zone",
    "passes",
    "goal",
    "lane is open",
    "lane is shut",
]


class ScenePiece(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A frozen piece of a scene; unknown fields are refused, so a typing error never passes silently."""


class Spot(ScenePiece, frozen=True, kw_only=True):
    """A point of the plan, in metres."""

    x_m: Coordinate
    y_m: Coordinate


class ScenePlayer(ScenePiece, frozen=True, kw_only=True):
    """Somebody on the plan. `side` is the side played for; a keeper or an adult has the kind that says so."""

    key: Key
    x_m: Coordinate
    y_m: Coordinate
    side: Side = "A"
    kind: Kind = "player"
    place: Place = "inside"
    edge: Edge | None = None  # the side of the grid an outside player keeps to
    zone: Key | None = None
    group: Key | None = None  # the group of the drill that they are in, where the plan was made from its text
    label: Label = ""  # a number or a letter; longer words stand in the text alternative only
    role: Label = ""
    bib: Label = ""  # a colour word


class SceneGoal(ScenePiece, frozen=True, kw_only=True):
    """A goal. On an edge `along_m` is its middle, from the left or from the bottom; a free one has a point."""

    key: Key
    edge: Edge
    along_m: Coordinate = 0.0
    width_m: Extent = 2.0
    small: bool = True
    open: bool = True
    x_m: Coordinate = 0.0  # free goals only: the middle of the goal line
    y_m: Coordinate = 0.0
    faces: Literal["left", "right", "top", "bottom"] = "left"  # free goals only: where shots come from
    label: Label = ""


class SceneCone(ScenePiece, frozen=True, kw_only=True):
    key: Key
    x_m: Coordinate
    y_m: Coordinate
    colour: Label = ""


class SceneGate(ScenePiece, frozen=True, kw_only=True):
    """Two cones to go between. `across`: the cones stand side by side, so one goes up or down."""

    key: Key
    x_m: Coordinate
    y_m: Coordinate
    width_m: Extent = 2.0
    across: bool = False


class SceneZone(ScenePiece, frozen=True, kw_only=True):
    """A rectangle with a name, from its lower-left corner."""

    key: Key
    x_m: Coordinate
    y_m: Coordinate
    length_m: Extent
    width_m: Extent
    title: Label = ""


class SceneBall(ScenePiece, frozen=True, kw_only=True):
    """A ball with somebody (`at` names the player) or on the ground. More than one in a place is a supply."""

    key: Key
    at: Key | None = None
    x_m: Coordinate = 0.0
    y_m: Coordinate = 0.0
    count: Count = 1


class Run(ScenePiece, frozen=True, kw_only=True, tag_field="kind", tag="run"):
    """Somebody runs to a point without a ball."""

    who: Key
    to_x_m: Coordinate
    to_y_m: Coordinate
    start_s: Seconds
    end_s: Seconds


class RunWithBall(ScenePiece, frozen=True, kw_only=True, tag_field="kind", tag="run_with_ball"):
    """Somebody takes a ball along."""

    who: Key
    ball: Key
    to_x_m: Coordinate
    to_y_m: Coordinate
    start_s: Seconds
    end_s: Seconds


class BallPath(ScenePiece, frozen=True, kw_only=True, tag_field="kind", tag="ball"):
    """A pass or a shot: to a player, to a goal, or to a point."""

    ball: Key
    to: Key | None = None
    to_x_m: Coordinate | None = None
    to_y_m: Coordinate | None = None
    start_s: Seconds
    end_s: Seconds
    high: bool = False  # over everybody's reach, so that nobody on the way can cut it out


Move = Run | RunWithBall | BallPath


class Step(ScenePiece, frozen=True, kw_only=True):
    """One picture of the plan in motion: moves that start and end inside its seconds."""

    key: Key
    title: Title = ""
    start_s: Seconds
    end_s: Seconds
    moves: Annotated[tuple[Move, ...], msgspec.Meta(max_length=60)] = ()


class Claim(ScenePiece, frozen=True, kw_only=True):
    """What the text says that the moves show. `who` and `to` name players, gates or zones, `number` passes."""

    kind: ClaimKind
    who: Key | None = None
    to: Key | None = None
    number: Count | None = None
    step: Key | None = None


Item = ScenePlayer | SceneGoal | SceneCone | SceneGate | SceneZone | SceneBall


class Scene(ScenePiece, frozen=True, kw_only=True, omit_defaults=False):
    """A plan to scale. Raises ValueError where it contradicts itself (keys, references, times, limits)."""

    scene_version: Literal[1] = 1
    title: Title = ""
    length_m: Extent
    width_m: Extent
    margin_m: Annotated[float, msgspec.Meta(ge=0, le=40)] = 2.0  # ground shown round the grid
    players: tuple[ScenePlayer, ...] = ()
    goals: tuple[SceneGoal, ...] = ()
    cones: tuple[SceneCone, ...] = ()
    zones: tuple[SceneZone, ...] = ()
    gates: tuple[SceneGate, ...] = ()
    balls: tuple[SceneBall, ...] = ()
    coach: Spot | None = None
    steps: Annotated[tuple[Step, ...], msgspec.Meta(max_length=20)] = ()
    claims: Annotated[tuple[Claim, ...], msgspec.Meta(max_length=20)] = ()

    def __post_init__(self) -> None:
        _check_keys(self)
        _check_references(self)
        _check_times(self)

    def items(self) -> Iterator[Item]:
        """Everything that has a key and a place, in the order in which it is drawn from the ground up."""
        yield from self.zones
        yield from self.goals
        yield from self.gates
        yield from self.cones
        yield from self.players
        yield from self.balls

    def item(self, key: str) -> Item | None:
        """What has this key; None where nothing has."""
        return next((each for each in self.items() if each.key == key), None)

    def with_item_moved(self, key: str, x_m: float, y_m: float) -> Scene | None:
        """The same scene with one item elsewhere; None when there is no such item.

        A goal on an edge slides along it; a ball that was with somebody is put on the ground.
        """
        if key == COACH_KEY and self.coach is not None:
            return msgspec.structs.replace(self, coach=Spot(x_m=x_m, y_m=y_m))
        for field in ("players", "cones", "gates", "zones", "balls", "goals"):
            items: tuple[Item, ...] = getattr(self, field)
            if any(each.key == key for each in items):
                moved = tuple(_moved(each, x_m, y_m) if each.key == key else each for each in items)
                return msgspec.structs.replace(self, **{field: moved})
        return None


def _moved(item: Item, x_m: float, y_m: float) -> Item:
    if isinstance(item, SceneGoal) and item.edge != "free":
        along = y_m if item.edge in ("left", "right") else x_m
        return msgspec.structs.replace(item, along_m=along)
    if isinstance(item, SceneBall):
        return msgspec.structs.replace(item, at=None, x_m=x_m, y_m=y_m)
    return msgspec.structs.replace(item, x_m=x_m, y_m=y_m)


def _check_keys(scene: Scene) -> None:
    seen: set[str] = set()
    for each in scene.items():
        if each.key in seen:
            raise ValueError(f"key: {each.key!r} is used twice")
        seen.add(each.key)
    if len(seen) > MOST_ITEMS:
        raise ValueError(f"items: {len(seen)} are more than {MOST_ITEMS}")
    moves = sum(len(each.moves) for each in scene.steps)
    if moves > MOST_MOVES:
        raise ValueError(f"moves: {moves} are more than {MOST_MOVES}")
    steps = [each.key for each in scene.steps]
    if len(set(steps)) != len(steps):
        raise ValueError("steps: a key is used twice")


def _check_references(scene: Scene) -> None:
    players = {each.key for each in scene.players}
    balls = {each.key for each in scene.balls}
    targets = players | {each.key for each in scene.goals}
    zones = {each.key for each in scene.zones}
    for ball in scene.balls:
        _known("balls.at", ball.at, players)
    for player in scene.players:
        _known("players.zone", player.zone, zones)
    for step in scene.steps:
        for move in step.moves:
            if isinstance(move, BallPath):
                _known("moves.ball", move.ball, balls)
                _known("moves.to", move.to, targets)
                _one_end(move)
            else:
                _known("moves.who", move.who, players)
            if isinstance(move, RunWithBall):
                _known("moves.ball", move.ball, balls)
    everything = {each.key for each in scene.items()}
    for claim in scene.claims:
        _known("claims.who", claim.who, everything)
        _known("claims.to", claim.to, everything)
        _known("claims.step", claim.step, {each.key for each in scene.steps})


def _known(field: str, key: str | None, keys: set[str]) -> None:
    if key is not None and key not in keys:
        raise ValueError(f"{field}: there is no {key!r} in the scene")


def _one_end(move: BallPath) -> None:
    point = move.to_x_m is not None and move.to_y_m is not None
    half = (move.to_x_m is None) != (move.to_y_m is None)
    if half or point == (move.to is not None):
        raise ValueError("moves.to: a ball goes to somebody or to a point with x and y, one of the two")


def _check_times(scene: Scene) -> None:
    clock = 0.0
    for step in scene.steps:
        if step.start_s < clock or step.end_s <= step.start_s:
            raise ValueError(
                f"steps.{step.key}: must end after it starts, and not start before the last ended"
            )
        clock = step.end_s
        for move in step.moves:
            if not step.start_s <= move.start_s < move.end_s <= step.end_s:
                raise ValueError(f"steps.{step.key}.moves: must start and end inside the step")


def goal_middle(scene: Scene, goal: SceneGoal) -> Point:
    """The middle of the goal line, in metres."""
    match goal.edge:
        case "left":
            return 0.0, goal.along_m
        case "right":
            return scene.length_m, goal.along_m
        case "bottom":
            return goal.along_m, 0.0
        case "top":
            return goal.along_m, scene.width_m
    return goal.x_m, goal.y_m
