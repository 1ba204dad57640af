"""Where everybody and every ball is at a moment of a scene. Metres and seconds, as in the scene."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from drills.game.scene import (
    BallPath,
    Move,
    Point,
    Run,
    RunWithBall,
    Scene,
    SceneBall,
    SceneGate,
    ScenePlayer,
    Step,
    goal_middle,
)


class _Story:
    """The moves of a scene by who and what makes them, in order of their start; as written where two start together."""

    def __init__(self, scene: Scene) -> None:
        self.scene = scene
        self.moves = sorted(((step, move) for step in scene.steps for move in step.moves), key=_pair_start)
        self.players = {each.key: each for each in scene.players}
        self.goals = {each.key: each for each in scene.goals}
        self.balls = {each.key: each for each in scene.balls}
        self.runs: dict[str, list[Run | RunWithBall]] = {key: [] for key in self.players}
        self.played: dict[str, list[RunWithBall | BallPath]] = {key: [] for key in self.balls}
        # By the identity of a move, which lives as long as the scene.
        self.ends: dict[int, tuple[Point, Point]] = {}
        self.kicked: dict[int, BallState] = {}
        for _, move in self.moves:
            if not isinstance(move, BallPath):
                self.runs[move.who].append(move)
            if not isinstance(move, Run):
                self.played[move.ball].append(move)


_LAST: list[_Story] = []  # the scene that is asked about again and again while it is drawn


def _story(scene: Scene) -> _Story:
    story = _LAST[0] if _LAST else None
    if story is None or story.scene is not scene:
        story = _Story(scene)
        _LAST[:] = [story]
    return story


class BallState(msgspec.Struct, frozen=True):
    """A ball at a moment: with somebody (`holder`), on its way (`flying`), or loose."""

    x_m: float
    y_m: float
    holder: str | None = None
    flying: bool = False


class Pose(msgspec.Struct, frozen=True):
    """One moment of a scene. `side` is the side that has, or last had, the first ball."""

    time_s: float
    players: dict[str, Point]
    balls: dict[str, BallState]
    side: str | None


def moves(scene: Scene) -> Iterator[tuple[Step, Move]]:
    """All moves in order of their start, with their steps; as written where two start together."""
    yield from _story(scene).moves


def is_player(scene: Scene, key: str | None) -> bool:
    """Whether a key is a player's."""
    return key in _story(scene).players


def player_at(scene: Scene, key: str, time_s: float) -> Point:
    """Where a player is at a time, in metres. Raises ValueError for a key that is no player's."""
    player = _player(scene, key)
    spot = (player.x_m, player.y_m)
    for move in _story(scene).runs[key]:
        if move.start_s >= time_s:
            break
        spot = _on_the_way(spot, move, time_s)
    return spot


def players_at(scene: Scene, time_s: float) -> dict[str, Point]:
    """Key → where each player is at a time, in metres; in one walk through the moves."""
    spots = {each.key: (each.x_m, each.y_m) for each in scene.players}
    for _, move in moves(scene):
        if isinstance(move, BallPath) or move.start_s >= time_s:
            continue
        spots[move.who] = _on_the_way(spots[move.who], move, time_s)
    return spots


def ball_at(scene: Scene, key: str, time_s: float) -> BallState:
    """Where a ball is at a time, in metres, and at whose feet. Raises ValueError for a key that is no ball."""
    story = _story(scene)
    ball = story.balls.get(key)
    if ball is None:
        raise ValueError(f"key: there is no ball {key!r}")
    last = next((each for each in reversed(story.played[key]) if each.start_s < time_s), None)
    if last is None:
        return _followed(scene, _resting(scene, ball), time_s)
    if isinstance(last, RunWithBall):
        return BallState(*player_at(scene, last.who, time_s), holder=last.who)
    return _passed(scene, last, time_s)


def ends_of(scene: Scene, move: Move) -> tuple[Point, Point]:
    """(start, end) of a move's straight way, in metres."""
    known = _story(scene).ends
    ends = known.get(id(move))
    if ends is None:
        ends = known[id(move)] = _ends_of(scene, move)
    return ends


def _ends_of(scene: Scene, move: Move) -> tuple[Point, Point]:
    if isinstance(move, BallPath):
        start = kicked(scene, move)
        return (start.x_m, start.y_m), _target(scene, move)
    return player_at(scene, move.who, move.start_s), (move.to_x_m, move.to_y_m)


def kicked(scene: Scene, move: BallPath) -> BallState:
    """Where a ball is as a pass or shot begins, and at whose feet."""
    known = _story(scene).kicked
    state = known.get(id(move))
    if state is None:
        state = known[id(move)] = ball_at(scene, move.ball, move.start_s)
    return state


def gate_posts(gate: SceneGate) -> tuple[Point, Point]:
    """The two cones of a gate, in metres."""
    half = gate.width_m / 2
    dx, dy = (half, 0.0) if gate.across else (0.0, half)
    return (gate.x_m - dx, gate.y_m - dy), (gate.x_m + dx, gate.y_m + dy)


def pose_at(scene: Scene, time_s: float) -> Pose:
    """Where everybody and every ball is at a time, in metres, and which side has, or last had, the first ball."""
    players = players_at(scene, time_s)
    balls = {each.key: ball_at(scene, each.key, time_s) for each in scene.balls}
    return Pose(time_s, players, balls, _side_on_ball(scene, time_s))


def between(start: Point, end: Point, share: float) -> Point:
    """The point at a share of the straight way, 0 at its start and 1 at its end."""
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _player(scene: Scene, key: str) -> ScenePlayer:
    player = _story(scene).players.get(key)
    if player is None:
        raise ValueError(f"key: there is no player {key!r}")
    return player


def _pair_start(pair: tuple[Step, Move]) -> float:
    return pair[1].start_s


def _on_the_way(spot: Point, move: Run | RunWithBall, time_s: float) -> Point:
    target = (move.to_x_m, move.to_y_m)
    return target if time_s >= move.end_s else between(spot, target, _share(move, time_s))


def _share(move: Move, time_s: float) -> float:
    return (time_s - move.start_s) / (move.end_s - move.start_s)


def _resting(scene: Scene, ball: SceneBall) -> BallState:
    if ball.at is None:
        return BallState(ball.x_m, ball.y_m)
    return BallState(*player_at(scene, ball.at, 0.0), holder=ball.at)


def _passed(scene: Scene, move: BallPath, time_s: float) -> BallState:
    target = _target(scene, move)
    if time_s < move.end_s:
        start = kicked(scene, move)
        return BallState(*between((start.x_m, start.y_m), target, _share(move, time_s)), flying=True)
    receiver = move.to if move.to in _story(scene).players else None
    return _followed(scene, BallState(*target, holder=receiver), time_s)


def _followed(scene: Scene, state: BallState, time_s: float) -> BallState:
    if state.holder is None:
        return state
    return BallState(*player_at(scene, state.holder, time_s), holder=state.holder)


def _target(scene: Scene, move: BallPath) -> Point:
    if move.to_x_m is not None and move.to_y_m is not None:
        return move.to_x_m, move.to_y_m
    goal = _story(scene).goals.get(move.to or "")
    if goal is not None:
        return goal_middle(scene, goal)
    return player_at(scene, move.to or "", move.end_s)


def _side_on_ball(scene: Scene, time_s: float) -> str | None:
    """Neutrals play for whoever has the ball, so the last one of a side who had it says whose it is."""
    if not scene.balls:
        return None
    key = scene.balls[0].key
    times = [0.0, *(move.end_s for _, move in moves(scene) if move.end_s <= time_s), time_s]
    for moment in sorted(times, reverse=True):
        holder = ball_at(scene, key, moment).holder
        side = _player(scene, holder).side if holder else "neutral"
        if side != "neutral":
            return side
    return None
