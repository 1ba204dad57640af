"""A plan drawn by hand, laid again on another grid and for other numbers, and what of it has no place there.

Places are stretched with the grid; who stands outside keeps their metres to the line. Times are stretched so that
nobody is faster than drawn. Who is too many leaves, those without a move first; who is missing stands where the start
layout puts them. Moves of those who left go with them, and each loss is said.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import msgspec

from drills.drawing.checks import check, unplayable
from drills.drawing.checks.claims import told
from drills.drawing.checks.reason import Finding, reason
from drills.drawing.pose import moves
from drills.drawing.words import name_of
from drills.drawing.worn import bib_of_group, in_bibs
from drills.game.groups import slot_players
from drills.game.places import Layout, lay_out
from drills.game.places.described import GOAL_MOST_OF_EDGE
from drills.game.places.spread import make_room
from drills.game.scene import BallPath, Move, Point, Run, Scene, SceneGoal, ScenePlayer, Step
from drills.game.wording.rendering import SaidError
from drills.game.wording.shapes import Part, Sentence

# How far apart people are set who were pushed together, and who is new: common practice, no source.
APART_M = 0.9
NEWCOMER_M = 1.4
NEWCOMER_SHARE = 0.065  # of the longer side: nearer, two marks would overlap on a plan of that grid
LONGEST_S = 600
Group = tuple[
    str, str, str
]  # side; inside, outside, keeper or queue; the bib, where a side's groups wear different ones
_put = msgspec.structs.replace


@dataclass(frozen=True)
class Relaid:
    """`missing` says what of the drawing has no place here; `moves` is False where only a start could be shown."""

    scene: Scene
    missing: tuple[Finding, ...] = ()
    moves: bool = True


def relay(scene: Scene, layout: Layout, *, things: bool = False, under: int | None = None) -> Relaid:
    """The scene for the numbers and the grid of a layout, which also says the bibs.

    `things`: goals, zones and gates are those of the layout, else the drawn ones, stretched. `under` as in `check`.
    Where the moves can't be played any more, the layout itself, with the reasons.
    """
    start = lay_out(layout)
    try:
        found, missing = _relaid(scene, layout, start, things, under)
    except SaidError as error:
        return Relaid(start, (_start_only(error.sentence),), moves=False)
    except ValueError as error:  # a stretch beyond what a scene may hold
        return Relaid(start, (_start_only(str(error)),), moves=False)
    errors = unplayable(found, layout.format, under=under)
    if errors:
        own = Counter((each.key, each.items) for each in check(scene, under=under))
        more = Counter((each.key, each.items) for each in errors) - own
        if more:
            why = next(each.sentence for each in errors if (each.key, each.items) in more)
            return Relaid(start, (_start_only(why),), moves=False)
    return Relaid(found, missing)


def _start_only(why: Part) -> Finding:
    return reason("start-only", "warning", why=Sentence("unfinished", {"text": why}))


def _relaid(
    scene: Scene, layout: Layout, start: Scene, things: bool, under: int | None
) -> tuple[Scene, tuple[Finding, ...]]:
    stretch = _Stretch(scene, layout.length_m, layout.width_m)
    stay, gone = _who_stays(scene, layout, start)
    zones = start.zones if things else tuple(stretch.zone(each) for each in scene.zones)
    keys = {each.key for each in zones}
    coach = stretch.placed(scene.coach) if scene.coach else None
    beside = [(coach.x_m, coach.y_m)] if coach else []
    standing = [_home(each, keys) for each in in_bibs([stretch.placed(each) for each in stay], layout)]
    players = _apart(standing, layout, beside)
    names = {each.key: name_of(each) for each in scene.players}
    goals = start.goals if things else tuple(stretch.goal(each) for each in scene.goals)
    balls = tuple(
        _put(each, at=_somebody(players)) if each.at in gone else stretch.placed(each) for each in scene.balls
    )
    gates = start.gates if things else tuple(stretch.placed(each) for each in scene.gates)
    cones = tuple(stretch.placed(each) for each in scene.cones)
    taken = {each.key for each in (*players, *goals, *zones, *gates, *cones, *balls)}
    new = list(_newcomers(players, start, layout, taken, beside))
    known = {each.key for each in players} | {each.key for each in goals}
    steps, lost = _steps(scene, stretch, known, gone)
    if steps and steps[-1].end_s > LONGEST_S:
        raise SaidError(Sentence("moves_too_long", {"most": LONGEST_S}))
    found = Scene(
        title=layout.title or scene.title,
        length_m=layout.length_m,
        width_m=layout.width_m,
        margin_m=scene.margin_m,
        players=(*players, *new),
        goals=goals,
        zones=zones,
        gates=gates,
        cones=cones,
        balls=balls,
        coach=coach,
        steps=steps,
    )
    missing = [*_said(lost, gone, names, scene, steps), *_new_said(new, steps)]
    return _with_claims(found, scene, missing, under), tuple(missing)


class _Stretch:
    """From one grid to another. What lies outside keeps its metres to the line."""

    def __init__(self, scene: Scene, length_m: float, width_m: float) -> None:
        self.scene, self.to = scene, (length_m, width_m)
        self.by_x, self.by_y = length_m / scene.length_m, width_m / scene.width_m
        self.slower = max(1.0, self.by_x, self.by_y)

    def spot(self, x_m: float, y_m: float) -> Point:
        return (
            _stretched(x_m, self.scene.length_m, self.to[0]),
            _stretched(y_m, self.scene.width_m, self.to[1]),
        )

    def placed(self, item: Any) -> Any:
        x, y = self.spot(item.x_m, item.y_m)
        return _put(item, x_m=x, y_m=y)

    def zone(self, zone: Any) -> Any:
        (x, y), (x_end, y_end) = (
            self.spot(zone.x_m, zone.y_m),
            self.spot(zone.x_m + zone.length_m, zone.y_m + zone.width_m),
        )
        return _put(zone, x_m=x, y_m=y, length_m=round(x_end - x, 2), width_m=round(y_end - y, 2))

    def goal(self, goal: SceneGoal) -> SceneGoal:
        if goal.edge == "free":
            made: SceneGoal = self.placed(goal)
            return made
        upright = goal.edge in ("left", "right")
        edge_m = self.to[1] if upright else self.to[0]
        wide = min(goal.width_m, round(GOAL_MOST_OF_EDGE * edge_m, 2))
        along = goal.along_m * (self.by_y if upright else self.by_x)
        return _put(goal, width_m=wide, along_m=round(min(max(along, wide / 2), edge_m - wide / 2), 2))

    def time(self, time_s: float) -> float:
        return round(time_s * self.slower, 3)

    def move(self, move: Move) -> Move:
        times: dict[str, float] = {"start_s": self.time(move.start_s), "end_s": self.time(move.end_s)}
        if move.to_x_m is None or move.to_y_m is None:
            return _put(move, **times)
        x, y = self.spot(move.to_x_m, move.to_y_m)
        return _put(move, to_x_m=x, to_y_m=y, **times)


def _stretched(value: float, old: float, new: float) -> float:
    if value < 0:
        return value
    return round(new + value - old if value > old else value * new / old, 2)


def _group(player: ScenePlayer, layout: Layout) -> Group:
    if player.kind == "keeper":
        return player.side, "keeper", ""
    place = player.place if player.place in ("outside", "queue") else "inside"
    return player.side, place, "" if place == "queue" else bib_of_group(player, layout)


def _wanted(start: Scene, layout: Layout) -> dict[Group, int]:
    """How many of each the start layout has: its groups are counted. Sides first, then neutrals, then who waits."""
    order = [(str(side), str(where)) for side, where in slot_players(layout.format)] + [("A", "queue")]
    there = Counter(_group(each, layout) for each in start.players if each.kind != "adult")
    return dict(sorted(there.items(), key=lambda item: order.index(item[0][:2])))


def _who_stays(scene: Scene, layout: Layout, start: Scene) -> tuple[list[ScenePlayer], set[str]]:
    """Those who take part in a move first, as drawn; adults always."""
    busy = {key for step in scene.steps for move in step.moves for key in _keys(move)}
    busy |= {each.at for each in scene.balls if each.at}
    left = _wanted(start, layout)
    stay: set[str] = set()
    for each in sorted(scene.players, key=lambda player: player.key not in busy):
        group = _group(each, layout)
        if each.kind == "adult" or left.get(group, 0) > 0:
            stay.add(each.key)
            left[group] = left.get(group, 0) - 1
    gone = {each.key for each in scene.players} - stay
    return [each for each in scene.players if each.key in stay], gone


def _keys(move: Move) -> set[str]:
    if isinstance(move, BallPath):
        return {move.to} if move.to else set()
    return {move.who}


def _home(player: ScenePlayer, zones: set[str]) -> ScenePlayer:
    """Nobody keeps to a zone that is not there."""
    if player.zone is None or player.zone in zones:
        return player
    return _put(player, zone=None, place="inside")


def _apart(players: list[ScenePlayer], layout: Layout, beside: list[Point]) -> list[ScenePlayer]:
    """Who was pushed together on a smaller grid steps aside."""
    inside = [each for each in players if each.place == "inside" and each.kind == "player"]
    others = [(each.x_m, each.y_m) for each in players if each not in inside] + beside
    spots = [(each.x_m, each.y_m) for each in inside]
    box = (0.0, 0.0, layout.length_m, layout.width_m)
    moved = make_room(spots, others, gap_m=APART_M, box=box)
    at = {
        each.key: _put(each, x_m=round(x, 2), y_m=round(y, 2))
        for each, (x, y) in zip(inside, moved, strict=True)
    }
    return [at.get(each.key, each) for each in players]


def _newcomers(
    players: Sequence[ScenePlayer], start: Scene, layout: Layout, keys: set[str], beside: list[Point]
) -> Iterator[ScenePlayer]:
    """Those whom the numbers ask for and nobody drew, where the start layout has most room for them."""
    spots = [(each.x_m, each.y_m) for each in players] + beside
    for group, count in _wanted(start, layout).items():
        there = sum(_group(each, layout) == group and each.kind != "adult" for each in players)
        free = [each for each in start.players if _group(each, layout) == group and each.kind != "adult"]
        for _ in range(min(count - there, len(free))):
            best = max(free, key=lambda each: _room((each.x_m, each.y_m), spots))
            free.remove(best)
            x, y = _clear(best, spots, layout)
            key, label = _free_key(best.key, keys), _free_label(best, players)
            made = _put(best, key=key, label=label, x_m=round(x, 2), y_m=round(y, 2))
            keys.add(made.key)
            spots.append((x, y))
            players = [*players, made]
            yield made


def _clear(player: ScenePlayer, spots: Sequence[Point], layout: Layout) -> Point:
    """Where they stand, or as near to it as there is room: along the edge, or round about."""
    x, y = player.x_m, player.y_m
    far = [n * NEWCOMER_M * sign for n in range(8) for sign in (1, -1)]
    if player.place in ("outside", "queue"):
        upright = not 0 <= x <= layout.length_m
        tried = [(x, y + by) if upright else (x + by, y) for by in far]
        edge_m = layout.width_m if upright else layout.length_m
        tried = [each for each in tried if -1 <= each[upright] <= edge_m + 1]
    else:
        tried = [(x + dx, y + dy) for dx in far[:6] for dy in far[:6]]
        tried = [each for each in tried if 0 <= each[0] <= layout.length_m and 0 <= each[1] <= layout.width_m]
    apart = max(NEWCOMER_M, NEWCOMER_SHARE * max(layout.length_m, layout.width_m))
    good = (each for each in tried if _room(each, spots) >= apart)
    return next(good, max([(x, y), *tried], key=lambda each: _room(each, spots)))


def _room(spot: Point, spots: Sequence[Point]) -> float:
    return min((math.dist(spot, each) for each in spots), default=math.inf)


def _free_key(key: str, taken: set[str]) -> str:
    return next(each for each in (key, *(f"{key}-{n}" for n in range(2, 300))) if each not in taken)


def _free_label(player: ScenePlayer, players: Sequence[ScenePlayer]) -> str:
    if player.kind == "keeper":
        return player.label
    worn = {each.label for each in players if each.side == player.side and each.kind == "player"}
    return next(str(n) for n in range(1, 300) if str(n) not in worn)


def _somebody(players: Sequence[ScenePlayer]) -> str | None:
    """A ball whose holder left goes to the first who stays inside."""
    inside = (each for each in players if each.place in ("inside", "zone") and each.kind == "player")
    return next((each.key for each in inside), None)


def _steps(
    scene: Scene, stretch: _Stretch, known: set[str], gone: set[str]
) -> tuple[tuple[Step, ...], list[tuple[int, Move]]]:
    """What can still be played. Once a ball misses somebody, whatever happened to it later can't happen."""
    lost = list(_lost(scene, known, {each.key for each in scene.balls if each.at in gone}))
    kept: list[Step] = []
    for number, step in enumerate(scene.steps, start=1):
        away = [move for place, move in lost if place == number]
        stays = tuple(stretch.move(each) for each in step.moves if each not in away)
        if stays or not step.moves:
            times = {"start_s": stretch.time(step.start_s), "end_s": stretch.time(step.end_s)}
            kept.append(_put(step, moves=stays, **times))
    return tuple(kept), lost


def _lost(scene: Scene, known: set[str], broken: set[str]) -> Iterator[tuple[int, Move]]:
    numbers = {step.key: number for number, step in enumerate(scene.steps, start=1)}
    for step, move in moves(scene):
        ball = None if isinstance(move, Run) else move.ball
        if ball in broken or not _keys(move) <= known:
            if ball is not None:
                broken.add(ball)
            yield numbers[step.key], move


def _said(
    lost: list[tuple[int, Move]],
    gone: set[str],
    names: dict[str, Sentence],
    scene: Scene,
    steps: Sequence[Step],
) -> Iterator[Finding]:
    for key in (each.key for each in scene.players if each.key in gone):
        count = sum(key in _keys(move) for _, move in lost)
        if count:
            yield reason("left-out-moves", "warning", key, who=names[key], count=str(count))
    others = [number for number, move in lost if not _keys(move) & gone]
    if others:
        yield reason("left-out-ball", "warning", number=str(min(others)))
    kept = {each.key for each in steps}
    for number, step in enumerate(scene.steps, start=1):
        if step.key not in kept:
            yield reason("left-out-step", "warning", number=str(number))


def _new_said(new: Sequence[ScenePlayer], steps: Sequence[Step]) -> Iterator[Finding]:
    if new and any(each.moves for each in steps):
        who = Sentence("who_else", {"names": tuple(name_of(each) for each in new)})
        yield reason("no-moves-yet", "warning", *(each.key for each in new), who=who)


def _with_claims(found: Scene, scene: Scene, missing: list[Finding], under: int | None) -> Scene:
    """The claims that the plan still shows; the others are told as missing, if the drawing showed them."""
    if not scene.claims:
        return found
    keys = {each.key for each in found.items()} | {each.key for each in found.steps}
    able = [each for each in scene.claims if {each.who, each.to, each.step} - {None} <= keys]
    shown = [claim for claim, yes in told(_put(found, claims=tuple(able)), under) if yes is True]
    for claim, yes in told(scene, under):
        if yes is True and claim not in shown:
            missing.append(reason("left-out-claim", "warning", claim=claim.kind))
    return _put(found, claims=tuple(shown))
