"""A layout to start from for every kind of activity, so that a drill without a drawing still has a plan."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

import msgspec

from drills.game.bibs.tonight import free_colour
from drills.game.format import Format
from drills.game.groups import SIDES, FormatSlot, Where
from drills.game.places.inside import Inside, spots
from drills.game.places.keys import with_own_keys
from drills.game.places.outside import GridRectangle, free_spot, line_edge, margin_m, on_edges, queue
from drills.game.places.seats import EVERY_EDGE, Seat, Seats
from drills.game.places.spread import lattice, make_room
from drills.game.scene import (
    COACH_KEY,
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

OUTFIELD: tuple[Where, ...] = ("inside", "outside")
NOBODYS = Seat()  # somebody whom the drill has no group for
_FIRST = FormatSlot("A", "inside")

_OUT: dict[str, tuple[Edge, ...]] = {"directional game": ("top", "bottom"), "match": ("top", "bottom")}
# Where those on the edges belong to the pattern of play itself, and are placed with it.
_ON_THE_RIM = ("rondo",)
RIM_M = (
    0.6  # inside the line, for those on the edges whom the format counts inside (common practice, no source)
)
_SUPPLY = "supply"
_BALL_EACH = ("arrival", "warm-up", "fun game")


@dataclass(frozen=True, kw_only=True)
class Layout:
    """What a plan is made from. Raises ValueError for impossible lengths.

    `bibs` maps A, B, C, D, neutral to the colours that are worn; `seats` says the group of each player of a slot, with
    its own bib and its home; `edges` are where outside players stand whose group says nothing; `waiting` is how many are
    off, `waits` who they are; `adults` is how many adults play or serve; `ball_each` None lets the activity decide.
    """

    activity: str
    format: Format
    length_m: float
    width_m: float
    title: str = ""
    goals: tuple[SceneGoal, ...] = ()
    zones: tuple[SceneZone, ...] = ()
    gates: tuple[SceneGate, ...] = ()
    bibs: Mapping[Side, str] = field(default_factory=dict)
    seats: Seats = field(default_factory=dict)
    edges: tuple[Edge, ...] = ()
    waiting: int = 0
    waits: tuple[tuple[FormatSlot, Seat], ...] = ()
    adults: int = 0
    ball_each: bool | None = None
    spare_balls: int = 0

    def __post_init__(self) -> None:
        for name in ("length_m", "width_m"):
            if not getattr(self, name) > 0:
                raise ValueError(f"{name}: must be above 0")

    @cached_property
    def worn(self) -> dict[Side, tuple[str, ...]]:
        """What each outfield player of a side wears, those inside first, for sides whose groups wear different bibs."""
        found: dict[Side, tuple[str, ...]] = {}
        for side in dict.fromkeys(slot.side for slot in self.seats):
            outfield = (self.seats.get(FormatSlot(side, where), ()) for where in OUTFIELD)
            bibs = tuple(seat.bib for seats in outfield for seat in seats)
            if len(set(bibs)) > 1:
                found[side] = bibs
        return found

    def seat(self, slot: FormatSlot, place: int) -> Seat:
        """The group of the player with this place among those of a slot, from 0."""
        seats = self.seats.get(slot, ())
        return seats[place] if place < len(seats) else NOBODYS


def lay_out(layout: Layout) -> Scene:
    """Everybody in a sensible place at the start: sides spread inside, outside players on their edges, nobody on
    top of another, keepers in front of their goals, one ball with the first side or a ball each."""
    grid = GridRectangle(layout.length_m, layout.width_m, layout.goals)
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
        goals=with_own_keys(layout.goals, taken),
        zones=with_own_keys(layout.zones, taken),
        gates=with_own_keys(layout.gates, taken),
        cones=cones,
        balls=balls,
    )
    return _with_coach(scene, layout.spare_balls)


@dataclass(frozen=True, slots=True)
class _Somebody:
    """A player who is to be placed: side, number (from 1, through the side), group."""

    side: Side
    number: int
    seat: Seat


def _inside(layout: Layout, keepers: list[ScenePlayer]) -> list[ScenePlayer]:
    everyone = list(_who_is_inside(layout))
    rim = layout.activity not in _ON_THE_RIM
    in_zones = [each for each in everyone if each.seat.zone is not None]
    on_rim = [each for each in everyone if each.seat.edges and rim and each not in in_zones]
    free = [each for each in everyone if each not in in_zones and each not in on_rim]
    at = {**_in_zones(layout, in_zones), **_on_rim(layout, on_rim)}
    fixed = [*((each.x_m, each.y_m) for each in keepers), *at.values()]
    at |= _spread(layout, free, fixed)
    return [_placed(layout, each, at[each]) for each in everyone]


def _who_is_inside(layout: Layout) -> Iterator[_Somebody]:
    sizes: list[tuple[Side, int]] = [
        *((name, each.inside) for name, each in zip(SIDES, layout.format.sides, strict=False)),
        ("neutral", layout.format.neutrals_inside),
    ]
    for side, players in sizes:
        for n in range(players):
            yield _Somebody(side, n + 1, layout.seat(FormatSlot(side, "inside"), n))


def _spread(layout: Layout, free: list[_Somebody], fixed: list[Point]) -> dict[_Somebody, Point]:
    """As the activity has them, making room for those whose places are fixed."""
    by_side = {side: [each for each in free if each.side == side] for side in (*SIDES, "neutral")}
    sides = tuple(len(by_side[side]) for side in SIDES[: len(layout.format.sides)])
    found = spots(layout.activity, Inside(sides, len(by_side["neutral"]), layout.length_m / layout.width_m))
    groups = [*zip(SIDES, found.sides, strict=False), ("neutral", found.neutrals)]
    metres = [(x * layout.length_m, y * layout.width_m) for _, each in groups for x, y in each]
    who = [each for side, spots_of in groups for each in by_side[side][: len(spots_of)]]
    inset = min(0.7, layout.length_m * 0.08, layout.width_m * 0.08)
    box = (inset, inset, layout.length_m - inset, layout.width_m - inset)
    many = len(who) + len(fixed)
    # On a long grid a plan's marks are larger in metres, and so is the room that keeps them apart.
    most = max(2.2, 0.06 * max(layout.length_m, layout.width_m))
    gap = min(most, max(1.0, 0.62 * math.sqrt(layout.length_m * layout.width_m / max(1, many))))
    return dict(zip(who, make_room(metres, fixed, gap_m=gap, box=box), strict=True))


def _in_zones(layout: Layout, who: list[_Somebody]) -> dict[_Somebody, Point]:
    """Those who keep to a zone, all over it, sides between one another."""
    found: dict[_Somebody, Point] = {}
    zones = {each.key: each for each in layout.zones}
    for key in dict.fromkeys(each.seat.zone for each in who):
        here = [each for each in who if each.seat.zone == key]
        if key not in zones:
            continue
        zone = zones[key]
        here.sort(key=lambda each: (each.number, each.side))
        for each, (x, y) in zip(here, lattice(len(here), zone.length_m / zone.width_m), strict=True):
            found[each] = zone.x_m + x * zone.length_m, zone.y_m + y * zone.width_m
    return found


def _on_rim(layout: Layout, who: list[_Somebody]) -> dict[_Somebody, Point]:
    """Those on the edges whom the format counts inside, a step from the line."""
    grid = GridRectangle(layout.length_m, layout.width_m, layout.goals)
    wanted = list(_edges_in_turn(each.seat.edges for each in who))
    step = -min(RIM_M, 0.08 * layout.length_m, 0.08 * layout.width_m)
    return {each: spot for each, (_, spot) in zip(who, on_edges(wanted, grid, out_m=step), strict=True)}


def _edges_in_turn(choices: Iterable[tuple[Edge, ...]]) -> Iterator[Edge]:
    """For each person one of the edges of their group, in turn."""
    seen: dict[tuple[Edge, ...], int] = {}
    for edges in choices:
        n = seen.get(edges, 0)
        seen[edges] = n + 1
        yield edges[n % len(edges)]


def _placed(layout: Layout, who: _Somebody, spot: Point) -> ScenePlayer:
    return _player(layout, who.side, who.number, spot, who.seat)


def _player(layout: Layout, side: Side, number: int, spot: Point, seat: Seat) -> ScenePlayer:
    zone = seat.zone if seat.zone in {each.key for each in layout.zones} else None
    return ScenePlayer(
        key=f"{'n' if side == 'neutral' else side.lower()}{number}",
        x_m=round(spot[0], 2),
        y_m=round(spot[1], 2),
        side=side,
        label=str(number),
        bib=seat.bib or _bib(layout, side),
        group=seat.group or None,
        place="zone" if zone else "inside",
        zone=zone,
    )


def _bib(layout: Layout, side: Side) -> str:
    return layout.bibs.get(side) or free_colour(side, layout.bibs.values())


def _outside(layout: Layout, grid: GridRectangle) -> Iterator[ScenePlayer]:
    """Neutrals first, then each side's own, in turn round the edges of their group."""
    who: list[_Somebody] = []
    inside = layout.format.neutrals_inside
    fallback = layout.edges or _OUT.get(layout.activity, EVERY_EDGE)
    for n in range(layout.format.neutrals_outside):
        who.append(_Somebody("neutral", inside + n + 1, _outer(layout, "neutral", n)))
    for side, each in zip(SIDES, layout.format.sides, strict=False):
        who += [_Somebody(side, each.inside + n + 1, _outer(layout, side, n)) for n in range(each.outside)]
    wanted = list(_edges_in_turn(each.seat.edges or fallback for each in who))
    for somebody, (edge, spot) in zip(who, on_edges(wanted, grid), strict=True):
        player = _placed(layout, somebody, spot)
        yield msgspec.structs.replace(player, place="outside", edge=edge, zone=None)


def _outer(layout: Layout, side: Side, place: int) -> Seat:
    """Where the drill doesn't tell the two apart, those outside come after those inside."""
    if layout.seats.get(FormatSlot(side, "outside")):
        return layout.seat(FormatSlot(side, "outside"), place)
    if side == "neutral":
        inside = layout.format.neutrals_inside
    else:
        inside = layout.format.sides[SIDES.index(side)].inside
    return layout.seat(FormatSlot(side, "inside"), inside + place)


def _keepers(layout: Layout) -> Iterator[ScenePlayer]:
    """In front of the goal on the side's own end, the first on the left; a further one beside, to serve."""
    alone = sum(each.keeper > 0 for each in layout.format.sides) == 1
    for n, each in enumerate(layout.format.sides):
        end: Edge = "right" if n % 2 or (alone and not _goal_on(layout, "left")) else "left"
        x, y = _goal_front(layout, end)
        for k in range(each.keeper):
            spot = (x, min(max(y + 2.0 * k, 0.5), layout.width_m - 0.5))
            seat = layout.seat(FormatSlot(SIDES[n], "keeper"), k)
            player = _player(layout, SIDES[n], k + 1, spot, seat)
            yield msgspec.structs.replace(
                player, key=f"k{player.key}", kind="keeper", place="goal", edge=end, zone=None
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


def _waiting(layout: Layout, grid: GridRectangle, players: list[ScenePlayer]) -> Iterator[ScenePlayer]:
    edge = line_edge({each.edge for each in layout.goals}) or "left"
    along = grid.edge_m(edge) / 2
    first = next((each for each in players if each.side == "A"), None)
    if first is not None and layout.activity == "pattern":
        along = first.y_m if edge in ("left", "right") else first.x_m
    taken = [(each.x_m, each.y_m) for each in players]
    numbers = Counter(each.side for each in players if each.kind == "player")
    for n, spot in enumerate(queue(layout.waiting, along, edge, grid, taken)):
        slot, seat = layout.waits[n] if n < len(layout.waits) else (_FIRST, NOBODYS)
        if slot.where == "keeper":
            slot = _FIRST
        numbers[slot.side] += 1
        player = _player(layout, slot.side, numbers[slot.side], spot, seat)
        yield msgspec.structs.replace(player, place="queue", zone=None)


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
