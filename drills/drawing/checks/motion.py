"""Can it be played as drawn? Nobody in two places, a ball always somewhere, speeds that people have."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

from drills.drawing.checks.reason import Finding, reason
from drills.drawing.lanes import pass_lane
from drills.drawing.pace import pace_for
from drills.drawing.paper import fmt
from drills.drawing.pose import ball_at, ends_of, moves, player_at, players_at
from drills.drawing.words import name_of
from drills.game.scene import BallPath, Move, Run, RunWithBall, Scene, SceneGoal

REACH_M = 1.5  # a step and a leg (common practice, no source)
# By under n (U13 to U17). Mean + 3 SD of top sprints of highly trained boys in m/s: Al Haddad et al. 2015, IJSPP 10:888–896.
TOP_SPEEDS = {13: 8.17, 14: 9.25, 15: 9.50, 16: 9.67, 17: 9.53}
CHILD_TOP_SPEED = 7.0  # up to U12: value from memory, not verified
ADULT_TOP_SPEED = 10.0  # value from memory, not verified
# A hard side-foot pass: 21.4 ± 1.5 m/s at most, read second-hand; the study itself was not traced.
PASS_TOP_SPEED = 21.4
SHOT_TOP_SPEED = 32.0  # value from memory, not verified


def top_speed(under: int | None) -> float:
    """The fastest anyone who plays "under n" may be drawn to run, in m/s; None means adults."""
    if under is None or under > 17:
        return ADULT_TOP_SPEED
    return CHILD_TOP_SPEED if under < 13 else TOP_SPEEDS[under]


def one_place_each(scene: Scene) -> Iterator[Finding]:
    """Two moves of one person must not overlap."""
    runs = [move for _, move in moves(scene) if not isinstance(move, BallPath)]
    for player in scene.players:
        mine = [each for each in runs if each.who == player.key]
        for before, after in itertools.pairwise(mine):
            if after.start_s < before.end_s:
                yield reason("two-places", "error", player.key, who=name_of(player), time=fmt(after.start_s))


def ball_is_somewhere(scene: Scene) -> Iterator[Finding]:
    """A ball is moved by one move at a time, and only by who has it or is within a step of it."""
    for ball in scene.balls:
        busy_until = 0.0
        for _, move in moves(scene):
            if isinstance(move, Run) or move.ball != ball.key:
                continue
            if move.start_s < busy_until - 1e-9:
                yield reason("ball-twice", "error", ball.key, ball=ball.key, time=fmt(move.start_s))
            yield from _taken_up(scene, move)
            busy_until = move.end_s if isinstance(move, BallPath) else busy_until


def _taken_up(scene: Scene, move: BallPath | RunWithBall) -> Iterator[Finding]:
    state = ball_at(scene, move.ball, move.start_s)
    spot, time = (state.x_m, state.y_m), fmt(move.start_s)
    if isinstance(move, RunWithBall):
        near = math.dist(spot, player_at(scene, move.who, move.start_s)) <= REACH_M
        if state.holder != move.who and not (state.holder is None and near):
            who = next(name_of(each) for each in scene.players if each.key == move.who)
            yield reason("not-holding", "error", move.who, move.ball, who=who, ball=move.ball, time=time)
    elif state.holder is None and not _somebody_near(scene, spot, move.start_s):
        yield reason("nobody-plays", "error", move.ball, ball=move.ball, time=time)


def passes_arrive(scene: Scene) -> Iterator[Finding]:
    """A ball played to a point must find somebody there, unless it is a shot or the last thing that happens."""
    for _, move in moves(scene):
        if not isinstance(move, BallPath):
            continue
        target = scene.item(move.to) if move.to else None
        if isinstance(target, SceneGoal) and not target.open:
            yield reason(
                "shut-goal", "warning", move.ball, target.key, goal=target.key, time=fmt(move.start_s)
            )
        if move.to is None and not _somebody_near(scene, ends_of(scene, move)[1], move.end_s):
            yield reason("nobody-there", "warning", move.ball, ball=move.ball, time=fmt(move.end_s))


def passes_get_through(scene: Scene, under: int | None) -> Iterator[Finding]:
    """A pass that is drawn along the ground must be on where everybody stands when it is played."""
    names = {each.key: name_of(each) for each in scene.players}
    for _, move in moves(scene):
        lane = pass_lane(scene, move, pace=pace_for(under)) if isinstance(move, BallPath) else None
        if lane is None or lane.open or lane.cut_by is None:
            continue
        who = {"who": names[lane.passer], "receiver": names[lane.receiver], "defender": names[lane.cut_by]}
        yield reason(
            "cut-out", "warning", lane.passer, lane.receiver, lane.cut_by, time=fmt(move.start_s), **who
        )


def speeds(scene: Scene, under: int | None) -> Iterator[Finding]:
    """Nobody runs faster than `top_speed`, no pass or shot goes faster than one can be hit (m/s). `under` None means adults."""
    names = {each.key: name_of(each) for each in scene.players}
    for _, move in moves(scene):
        speed = speed_of(scene, move)
        if isinstance(move, BallPath):
            shot = isinstance(scene.item(move.to or ""), SceneGoal)
            cap = SHOT_TOP_SPEED if shot else PASS_TOP_SPEED
            if speed > cap:
                yield reason(
                    "ball-too-fast", "error", move.ball, ball=move.ball, speed=fmt(speed), cap=fmt(cap)
                )
        elif speed > top_speed(under):
            cap_text = fmt(top_speed(under), 2)
            yield reason("too-fast", "error", move.who, who=names[move.who], speed=fmt(speed), cap=cap_text)


def speed_of(scene: Scene, move: Move) -> float:
    """Mean speed of a move in m/s."""
    return math.dist(*ends_of(scene, move)) / (move.end_s - move.start_s)


def _somebody_near(scene: Scene, spot: tuple[float, float], time_s: float) -> bool:
    return any(math.dist(spot, each) <= REACH_M for each in players_at(scene, time_s).values())
