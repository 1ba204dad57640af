"""A layout to start from for every kind of activity, so that a drill without a drawing still has a plan."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import chain, count
from typing import TypeVar

import msgspec

from drills.game.format import Format
from drills.game.places.inside import Inside, spots
from drills.game.places.outside import Rectangle, free_spot, margin_m, on_edges, queue
from drills.game.places.spread import make_room
from drills.game.scene import (
    COACH_KEY,
    LONGEST_KEY,
    Edge,
    Point,
    Scene,
    SceneBall,
    SceneCone,
    SceneGate,
    SceneGoal,
    ScenePlayer,
    SceneZone,
    Side,
)

Thing = TypeVar("Thing", SceneGoal, SceneZone, SceneGate)

_SIDES: tuple[Side, ...] = ("A", "B", "C", "D")
_BIBS: dict[str, str] = {"A": "blue", "B": "red", "C": "green", "D": "orange", "neutral": "yellow"}
_OUT: dict[str, tuple[Edge, ...]] = {"directional game": ("top", "bottom"), "match": ("top", "bottom")}
_EVERY_EDGE: tuple[Edge, ...] = ("top", "bottom", "right", "left")
_SUPPLY = "supply"
_BALL_EACH = ("arrival", "warm-up", "fun game")


@dataclass(frozen=True, kw_only=True)
class Layout:
    """What a plan is made from. Raises ValueError for impossible lengths.

    `bibs` maps A, B, C, D, neutral to colour words; `worn` says the bib of each outfield player of a side, those inside
    first, where its groups wear different ones; `edges` are where outside players stand; `waiting` is how many
    wait in turn; `adults` is how many adults play or serve; `ball_each` None lets the activity decide.
    """

    activity: str
    format: Format
    length_m: float
    width_m: float
    title: str = ""
    goals: tuple[SceneGoal, ...] = ()
    zones: tuple[SceneZone, ...] = ()
    gates: tuple[SceneGate, ...] = ()
    bibs: Mapping[str, str] = field(default_factory=dict)
    worn: Mapping[Side, tuple[str, ...]] = field(default_factory=dict)
    edges: tuple[Edge, ...] = ()
    waiting: int = 0
    adults: int = 0
    ball_each: bool | None = None
    spare_balls: int = 0

    def __post_init__(self) -> None:
        for name in ("length_m", "width_m"):
            if not getattr(self, name) > 0:
                raise ValueError(f"{name}: must be above 0")


def lay_out(layout: Layout) -> Scene:
    """Everybody in a sensible place at the start: sides spread inside, outside players on their edges, nobody on
    top of another, keepers in front of their goals, one ball with the first side or a ball each."""
    grid = Rectangle(layout.length_m, layout.width_m, layout.goals)
    keepers = list(_keepers(layout))
    players = [*_inside(layout, keepers), *_outside(layout, grid), *keepers]
    players += _waiting(layout, grid, players)
    players += _adults(layout, players)
    cones, balls = tuple(_corners(layout)), tuple(_balls(layout, players))
    things: tuple[ScenePlayer | SceneCone | SceneBall, ...] = (*players, *cones, *balls)
    taken = {COACH_KEY, _SUPPLY, *(each.key for each in things)}
    scene = Scene(
        title=layout.title,
        length_m=layout.length_m,
        width_m=layout.width_m,
        margin_m=round(margin_m(layout.length_m, layout.width_m), 2),
        players=tuple(players),
        goals=_with_own_keys(layout.goals, taken),
        zones=_with_own_keys(layout.zones, taken),
        gates=_with_own_keys(layout.gates, taken),
        cones=cones,
        balls=balls,
    )
    return _with_coach(scene, layout.spare_balls)


def _with_own_keys(things: tuple[Thing, ...], taken: set[str]) -> tuple[Thing, ...]:
    """The same, with another key where something else has it: a drill may call a zone and a gate alike, a plan may not."""
    made = []
    for each in things:
        key = next(key for key in chain([each.key], _numbered(each.key)) if key not in taken)
        taken.add(key)
        made.append(each if key == each.key else msgspec.structs.replace(each, key=key))
    return tuple(made)


def _numbered(key: str) -> Iterator[str]:
    return (f"{key[: LONGEST_KEY - 4]}-{number}" for number in count(2))


def _inside(layout: Layout, keepers: list[ScenePlayer]) -> list[ScenePlayer]:
    sides = tuple(each.inside for each in layout.format.sides)
    found = spots(
        layout.activity, Inside(sides, layout.format.neutrals_inside, layout.length_m / layout.width_m)
    )
    groups: list[tuple[Side, list[Point]]] = [
        *zip(_SIDES, found.sides, strict=False),
        ("neutral", found.neutrals),
    ]
    many = sum(len(each) for _, each in groups)
    inset = min(0.7, layout.length_m * 0.08, layout.width_m * 0.08)
    box = (inset, inset, layout.length_m - inset, layout.width_m - inset)
    metres = [(x * layout.length_m, y * layout.width_m) for _, each in groups for x, y in each]
    gap = min(2.2, max(1.0, 0.62 * math.sqrt(layout.length_m * layout.width_m / max(1, many))))
    apart = make_room(metres, [(each.x_m, each.y_m) for each in keepers], gap_m=gap, box=box)
    sides_of = [side for side, each in groups for _ in each]
    return [_player(layout, side, n, spot) for side, n, spot in _counted(sides_of, apart)]


def _counted(sides: list[Side], places: list[Point]) -> Iterator[tuple[Side, int, Point]]:
    seen: dict[Side, int] = {}
    for side, spot in zip(sides, places, strict=True):
        seen[side] = seen.get(side, 0) + 1
        yield side, seen[side], spot


def _player(layout: Layout, side: Side, number: int, spot: Point) -> ScenePlayer:
    return ScenePlayer(
        key=f"{'n' if side == 'neutral' else side.lower()}{number}",
        x_m=round(spot[0], 2),
        y_m=round(spot[1], 2),
        side=side,
        label=str(number),
        bib=_own_bib(layout, side, number),
    )


def _own_bib(layout: Layout, side: Side, number: int) -> str:
    """The bib of the group that the side's player with this number is in."""
    worn = layout.worn.get(side, ())
    return worn[number - 1] if number <= len(worn) else _bib(layout, side)


def _bib(layout: Layout, side: Side) -> str:
    """The bib that was given; else a colour that no other side wears."""
    if side in layout.bibs:
        return layout.bibs[side]
    worn = set(layout.bibs.values())
    for each in _BIBS:
        if each not in layout.bibs:
            colour = next((word for word in (_BIBS[each], *_BIBS.values()) if word not in worn), _BIBS[each])
            worn.add(colour)
            if each == side:
                return colour
    return _BIBS[side]


def _outside(layout: Layout, grid: Rectangle) -> Iterator[ScenePlayer]:
    """Neutrals first, then each side's own, in turn round the edges."""
    who: list[tuple[Side, int]] = []
    inside = layout.format.neutrals_inside
    who += [("neutral", inside + n + 1) for n in range(layout.format.neutrals_outside)]
    for side, each in zip(_SIDES, layout.format.sides, strict=False):
        who += [(side, each.inside + n + 1) for n in range(each.outside)]
    edges = layout.edges or _OUT.get(layout.activity, _EVERY_EDGE)
    for (side, number), (edge, spot) in zip(who, on_edges(len(who), edges, grid), strict=True):
        player = _player(layout, side, number, spot)
        yield msgspec.structs.replace(player, place="outside", edge=edge)


def _keepers(layout: Layout) -> Iterator[ScenePlayer]:
    """In front of the goal on the side's own end, the first on the left; a further one beside, to serve."""
    alone = sum(each.keeper > 0 for each in layout.format.sides) == 1
    for n, each in enumerate(layout.format.sides):
        end: Edge = "right" if n % 2 or (alone and not _goal_on(layout, "left")) else "left"
        x, y = _goal_front(layout, end)
        for k in range(each.keeper):
            spot = (x, min(max(y + 2.0 * k, 0.5), layout.width_m - 0.5))
            player = _player(layout, _SIDES[n], k + 1, spot)
            bib = _bib(layout, _SIDES[n])
            yield msgspec.structs.replace(
                player, key=f"k{player.key}", kind="keeper", place="goal", edge=end, bib=bib
            )


def _goal_on(layout: Layout, edge: Edge) -> SceneGoal | None:
    return max(
        (each for each in layout.goals if each.edge == edge), key=lambda goal: goal.width_m, default=None
    )


def _goal_front(layout: Layout, edge: Edge) -> Point:
    goal = _goal_on(layout, edge)
    y = goal.along_m if goal else layout.width_m / 2
    out = min(0.9, layout.length_m * 0.06)
    return (out if edge == "left" else layout.length_m - out), y


def _waiting(layout: Layout, grid: Rectangle, players: list[ScenePlayer]) -> Iterator[ScenePlayer]:
    first = next((each for each in players if each.side == "A"), None)
    behind = (0.0, first.y_m) if first and layout.activity == "pattern" else (0.0, layout.width_m / 2)
    taken = [(each.x_m, each.y_m) for each in players]
    taken += [(0.0, each.along_m) for each in layout.goals if each.edge == "left"]
    number = sum(each.side == "A" and each.kind == "player" for each in players)
    for n, spot in enumerate(queue(layout.waiting, behind, grid, taken), start=1):
        yield msgspec.structs.replace(_player(layout, "A", number + n, spot), place="queue")


def _adults(layout: Layout, players: list[ScenePlayer]) -> list[ScenePlayer]:
    taken = [(each.x_m, each.y_m) for each in players]
    found = []
    for n in range(layout.adults):
        choices = [
            (layout.length_m * x, layout.width_m * y) for x in (0.5, 0.4, 0.6, 0.3, 0.7) for y in (0.06, 0.94)
        ]
        spot = max(choices, key=lambda each: min((2.5, *(math.dist(each, other) for other in taken))))
        taken.append(spot)
        adult = ScenePlayer(
            key=f"adult{n + 1}", x_m=round(spot[0], 2), y_m=round(spot[1], 2), side="neutral", kind="adult"
        )
        found.append(msgspec.structs.replace(adult, role="server"))
    return found


def _balls(layout: Layout, players: list[ScenePlayer]) -> Iterator[SceneBall]:
    first = [
        each for each in players if each.side == "A" and each.kind == "player" and each.place == "inside"
    ]
    alone = len(layout.format.sides) == 1
    each_has = layout.ball_each if layout.ball_each is not None else layout.activity in _BALL_EACH
    if not each_has and layout.activity in ("technique", "duel"):
        first = first[:: 2 if alone else 1]  # one for two: the first of each pair
    elif not each_has:
        first = first[:1]
    for n, player in enumerate(first, start=1):
        yield SceneBall(key=f"ball{n}", at=player.key)


def _corners(layout: Layout) -> Iterator[SceneCone]:
    corners = ((0.0, 0.0), (layout.length_m, 0.0), (layout.length_m, layout.width_m), (0.0, layout.width_m))
    for n, (x, y) in enumerate(corners, start=1):
        yield SceneCone(key=f"corner{n}", x_m=x, y_m=y)


def _with_coach(scene: Scene, spare_balls: int) -> Scene:
    out_m = 0.65 * scene.margin_m
    spot = free_spot(scene, out_m)
    placed = msgspec.structs.replace(scene, coach=spot)
    if not spare_balls:
        return placed
    beside = [(spot.x_m + share * scene.length_m, spot.y_m) for share in (0.0, 0.1)]
    ready = free_spot(scene, out_m, taken=beside)
    supply = SceneBall(key=_SUPPLY, x_m=ready.x_m, y_m=ready.y_m, count=spare_balls)
    return msgspec.structs.replace(placed, balls=(*scene.balls, supply))
