"""Where everybody and every ball is at all times: the corners of their ways, straight lines between them.

`pose.pose_at` says the same for one moment. Metres and seconds, as in the scene.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator

import msgspec

from drills.drawing.pose import between, moves
from drills.game.scene import BallPath, Point, Run, RunWithBall, Scene, SceneBall, SceneGoal, goal_middle


class Knot(msgspec.Struct, frozen=True):
    """A corner of a way. Two of one time are a jump; `held`: at somebody's foot, so drawn beside them."""

    time_s: float
    x_m: float
    y_m: float
    held: bool = False

    @property
    def point(self) -> Point:
        """Where it is, in metres."""
        return self.x_m, self.y_m


Track = tuple[Knot, ...]


def player_tracks(scene: Scene) -> dict[str, Track]:
    """A track for everybody; one knot for whoever stays. Straight between knots unless somebody's moves overlap."""
    mine: dict[str, list[Run | RunWithBall]] = {}
    for _, move in moves(scene):
        if not isinstance(move, BallPath):
            mine.setdefault(move.who, []).append(move)
    return {each.key: _walked((each.x_m, each.y_m), mine.get(each.key, [])) for each in scene.players}


def ball_tracks(scene: Scene, players: dict[str, Track]) -> dict[str, Track]:
    """A track for each ball, along with whoever has it."""
    return {each.key: _rolled(scene, each, players) for each in scene.balls}


def at(track: Track, time_s: float) -> Point:
    """Where a track is at a time; at a jump, where it jumps to."""
    place = bisect_right(track, time_s, key=lambda knot: knot.time_s)
    if place == 0:
        return track[0].point
    before = track[place - 1]
    if place == len(track):
        return before.point
    after = track[place]
    return between(before.point, after.point, (time_s - before.time_s) / (after.time_s - before.time_s))


def _walked(spot: Point, mine: list[Run | RunWithBall]) -> Track:
    if not mine:
        return (Knot(0.0, *spot),)
    times = sorted({0.0, *(time for move in mine for time in (move.start_s, move.end_s))})
    return tuple(Knot(time, *_walked_to(spot, mine, time)) for time in times)


def _walked_to(spot: Point, mine: list[Run | RunWithBall], time_s: float) -> Point:
    for move in mine:
        if move.start_s < time_s:
            share = (time_s - move.start_s) / (move.end_s - move.start_s)
            spot = between(spot, (move.to_x_m, move.to_y_m), min(1.0, share))
    return spot


def _rolled(scene: Scene, ball: SceneBall, players: dict[str, Track]) -> Track:
    played = [move for _, move in moves(scene) if not isinstance(move, Run) and move.ball == ball.key]
    ends = [*(move.start_s for move in played), max((step.end_s for step in scene.steps), default=0.0)]
    knots = list(_kept(players.get(ball.at or ""), (ball.x_m, ball.y_m), 0.0, ends[0]))
    for move, end_s in zip(played, ends[1:], strict=True):
        if isinstance(move, RunWithBall):
            knots += _kept(players[move.who], knots[-1].point, move.start_s, end_s)
        else:
            knots += _passed(scene, move, knots[-1], end_s, players)
    return tuple(_tidy(knots))


def _kept(track: Track | None, spot: Point, start_s: float, end_s: float) -> Iterator[Knot]:
    """Along with a player, or lying still."""
    if track is None:
        yield Knot(start_s, *spot)
        yield Knot(end_s, *spot)
        return
    yield Knot(start_s, *at(track, start_s), held=True)
    for knot in track:
        if start_s < knot.time_s < end_s:
            yield Knot(knot.time_s, knot.x_m, knot.y_m, held=True)
    yield Knot(end_s, *at(track, end_s), held=True)


def _passed(
    scene: Scene, move: BallPath, start: Knot, end_s: float, players: dict[str, Track]
) -> Iterator[Knot]:
    """In flight, then with whoever it came to; cut short where the next move begins before it arrives."""
    target = _target(scene, move, players)
    yield Knot(move.start_s, *start.point, held=start.held)
    if end_s < move.end_s:
        share = (end_s - move.start_s) / (move.end_s - move.start_s)
        yield Knot(end_s, *between(start.point, target, share))
        return
    yield from _kept(players.get(move.to or ""), target, move.end_s, end_s)


def _target(scene: Scene, move: BallPath, players: dict[str, Track]) -> Point:
    if move.to_x_m is not None and move.to_y_m is not None:
        return move.to_x_m, move.to_y_m
    item = scene.item(move.to or "")
    return goal_middle(scene, item) if isinstance(item, SceneGoal) else at(players[move.to or ""], move.end_s)


def _tidy(knots: list[Knot]) -> Iterator[Knot]:
    """Without repetitions, and of several knots at one time only the first and the last: where a jump starts and ends."""
    for place, knot in enumerate(knots):
        before = knots[place - 1] if place else None
        after = knots[place + 1] if place + 1 < len(knots) else None
        if before == knot:
            continue
        if before and after and before.time_s == knot.time_s == after.time_s:
            continue
        yield knot
