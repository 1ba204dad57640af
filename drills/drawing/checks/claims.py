"""Does the picture show what the text says? Each claim is read off the moves, never believed."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from drills.drawing.checks.reason import Finding, reason
from drills.drawing.lanes import open_options
from drills.drawing.pace import pace_for
from drills.drawing.pose import ball_at, ends_of, gate_posts, moves
from drills.game.scene import BallPath, Claim, Move, Point, Run, Scene, SceneGate, SceneGoal, SceneZone
from drills.game.wording.catalogue import CATALOGUE

Told = bool | str  # whether it is shown, or what is missing to tell, to be translated as it stands
_UNCLEAR = {name: CATALOGUE[f"unclear_{name}"].text for name in ("gate", "zone", "number", "receiver")}


def told(scene: Scene, under: int | None) -> Iterator[tuple[Claim, Told]]:
    """Each claim with whether the moves show it, or what it does not say to be checked at all."""
    yield from ((each, _TESTS[each.kind](scene, each, under)) for each in scene.claims)


def claims(scene: Scene, under: int | None) -> Iterator[Finding]:
    """An error for each claim that the moves don't show, a warning for each that says too little to be checked.

    `under` is the n of "under n", None for adults.
    """
    for each, found in told(scene, under):
        items = tuple(key for key in (each.who, each.to) if key)
        if isinstance(found, str):
            yield reason("claim-unclear", "warning", *items, claim=each.kind, missing=found)
        elif not found:
            yield reason("claim", "error", *items, claim=each.kind)


def touches(scene: Scene, claim: Claim) -> list[str]:
    """Who has the ball, one after another, in the claim's step or in all of them."""
    chosen = list(_ball_moves(scene, claim))
    if not chosen:
        return []
    order: list[str | None] = [ball_at(scene, chosen[0].ball, chosen[0].start_s).holder]
    for move in chosen:
        order.append(ball_at(scene, move.ball, move.start_s).holder)
        order.append(ball_at(scene, move.ball, move.end_s).holder)
    found: list[str] = []
    for key in order:
        if key is not None and (not found or found[-1] != key):
            found.append(key)
    return found


def _ball_moves(scene: Scene, claim: Claim) -> Iterator[BallPath]:
    yield from (move for move in _moves(scene, claim) if isinstance(move, BallPath))


def _moves(scene: Scene, claim: Claim) -> Iterator[Move]:
    yield from (move for step, move in moves(scene) if claim.step in (None, step.key))


def _third_player(scene: Scene, claim: Claim, _: int | None) -> Told:
    shots = [each for each in _ball_moves(scene, claim) if isinstance(scene.item(each.to or ""), SceneGoal)]
    order = touches(scene, claim)
    if not shots or len(order) < 3:
        return False
    shooter = ball_at(scene, shots[-1].ball, shots[-1].start_s).holder
    before = order[: len(order) - 1 - order[::-1].index(shooter)] if shooter in order else []
    third = shooter is not None and shooter not in before and len(set(before)) >= 2
    return third and claim.who in (None, shooter)


def _everyone(scene: Scene, claim: Claim, _: int | None) -> Told:
    order = touches(scene, claim)
    side = next((each.side for each in scene.players if each.key in order and each.side != "neutral"), None)
    inside = [each for each in scene.players if each.side == side and each.place in ("inside", "zone")]
    return bool(order) and {each.key for each in inside if each.kind == "player"} <= set(order)


def _switch(scene: Scene, claim: Claim, _: int | None) -> Told:
    """From one third of the width to the third on the other side."""
    spots = [spot for move in _ball_and_carry(scene, claim) for spot in ends_of(scene, move)]
    low = [n for n, spot in enumerate(spots) if spot[1] <= scene.width_m / 3]
    high = [n for n, spot in enumerate(spots) if spot[1] >= scene.width_m * 2 / 3]
    return bool(low and high)


def _ball_and_carry(scene: Scene, claim: Claim) -> Iterator[Move]:
    yield from (move for move in _moves(scene, claim) if not isinstance(move, Run))


def _through_gate(scene: Scene, claim: Claim, _: int | None) -> Told:
    named = scene.item(claim.to) if claim.to else None
    if claim.to and not isinstance(named, SceneGate):
        return _UNCLEAR["gate"]
    gates = [named] if isinstance(named, SceneGate) else list(scene.gates)
    paths = [ends_of(scene, move) for move in _ball_and_carry(scene, claim)]
    return any(crosses(*path, *gate_posts(gate)) for gate in gates for path in paths)


def _into_zone(scene: Scene, claim: Claim, _: int | None) -> Told:
    zone = scene.item(claim.to) if claim.to else None
    if not isinstance(zone, SceneZone):
        return _UNCLEAR["zone"]
    ends = [ends_of(scene, move)[1] for move in _ball_and_carry(scene, claim)]
    return any(
        zone.x_m <= x <= zone.x_m + zone.length_m and zone.y_m <= y <= zone.y_m + zone.width_m
        for x, y in ends
    )


def _passes(scene: Scene, claim: Claim, _: int | None) -> Told:
    if claim.number is None:
        return _UNCLEAR["number"]
    players = {each.key for each in scene.players}
    return sum(move.to in players for move in _ball_moves(scene, claim)) >= claim.number


def _goal(scene: Scene, claim: Claim, _: int | None) -> Told:
    goals = {each.key for each in scene.goals if claim.to in (None, each.key)}
    return any(move.to in goals for move in _ball_moves(scene, claim))


def _lane(scene: Scene, claim: Claim, under: int | None, *, is_open: bool) -> Told:
    if claim.to is None:
        return _UNCLEAR["receiver"]
    start = next((step.start_s for step in scene.steps if step.key == claim.step), 0.0)
    lanes = open_options(scene, pace=pace_for(under), time_s=start)
    mine = [each for each in lanes if each.receiver == claim.to and claim.who in (None, each.passer)]
    return bool(mine) and mine[0].open == is_open


def crosses(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Do the segments a–b and c–d cross or touch?"""

    def turn(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(a, b, c) * turn(a, b, d) <= 0 and turn(c, d, a) * turn(c, d, b) <= 0 and a != b


_TESTS: dict[str, Callable[[Scene, Claim, int | None], Told]] = {
    "third player finishes": _third_player,
    "everyone touches it": _everyone,
    "switch of side": _switch,
    "through a gate": _through_gate,
    "into a zone": _into_zone,
    "passes": _passes,
    "goal": _goal,
    "lane is open": lambda scene, claim, under: _lane(scene, claim, under, is_open=True),
    "lane is shut": lambda scene, claim, under: _lane(scene, claim, under, is_open=False),
}
