"""When and where one defender cuts a ball that rolls straight: by running, by lunging, or by standing in its way.

The ball leaves at 0 s and is at s metres after s / v seconds, v its speed in m/s. Each way gives a cut: the margin, which is the
least of "defender's time minus ball's time" in seconds over every s in (0, D], and the s in metres at which it is said to
happen. Closed forms, derived here; dense sampling is their check in the tests.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from drills.drawing.pace import Pace
from drills.game.scene import Point

BODY_M = 0.4  # half the width of somebody who stands in the way: the ball hits them (no source)


class Aside(NamedTuple):
    """Where a defender stands, seen from the ball: metres along the lane and off its line, and how long the lane is."""

    along_m: float
    off_m: float
    length_m: float


class Cut(NamedTuple):
    """`margin_s` above 0: the ball is through, by so much. `at_m`: how far from where the ball was played."""

    margin_s: float
    at_m: float


NEVER = Cut(math.inf, 0.0)


def seen(ball: Point, target: Point, defender: Point) -> Aside:
    """A defender as the lane sees them; points (x_m, y_m), ball and target apart."""
    length = math.dist(ball, target)
    ux, uy = (target[0] - ball[0]) / length, (target[1] - ball[1]) / length
    qx, qy = defender[0] - ball[0], defender[1] - ball[1]
    return Aside(qx * ux + qy * uy, abs(qx * uy - qy * ux), length)


def soonest(aside: Aside, pace: Pace) -> Cut:
    """The cut of whichever way is ahead; a body counts only where people lunge, so that older values stand."""
    running = by_run(aside, pace)
    if pace.lunge_m is None:
        return running
    return min(running, by_lunge(aside, pace), by_body(aside, pace), key=lambda cut: cut.margin_s)


def by_run(aside: Aside, pace: Pace) -> Cut:
    """React, then run at top speed w to within reach r: t + max(0, distance − r) / w.

    Defender's time minus ball's time is convex along the lane, so its free minimum may be clamped to the lane: with k = w / v
    and h metres off the line at a, it is at a + h·k / sqrt(1 − k²), within reach at its far end. For v ≤ w it is at D: the
    longer such a ball rolls, the more a defender gains on it.
    """
    at = min(max(_worst_point(aside, pace), 0.0), aside.length_m)
    late = time_to(math.hypot(at - aside.along_m, aside.off_m), pace)
    return Cut(late - at / pace.ball_speed, at)


def by_lunge(aside: Aside, pace: Pace) -> Cut:
    """A step and a leg at what passes within lunge distance r₂, at once after lunge time t₂.

    The time is t₂ all over the disc of r₂, so the worst point is where the ball leaves it: a + sqrt(r₂² − h²), at most D. Said to
    happen beside the defender, or where the ball is after t₂ if it is past them by then.
    """
    a, h, length = aside
    reach = pace.lunge_m
    if reach is None or h > reach:
        return NEVER
    half = math.sqrt(reach * reach - h * h)
    last = min(a + half, length)
    if last <= 0 or a - half > length:
        return NEVER
    at = min(max(a, pace.lunge_s * pace.ball_speed), last)
    return Cut(pace.lunge_s - last / pace.ball_speed, at)


def by_body(aside: Aside, pace: Pace) -> Cut:
    """The ball hits whoever stands on its line; they need no time for that."""
    return Cut(-aside.along_m / pace.ball_speed, aside.along_m) if in_the_way(aside) else NEVER


def in_the_way(aside: Aside) -> bool:
    """Whether the defender stands on the line, between ball and target."""
    return 0 < aside.along_m < aside.length_m and aside.off_m <= BODY_M


def arrival(distance_m: float, pace: Pace) -> float:
    """Seconds until a defender so far from a spot is at it, lunging or running, whichever is sooner."""
    running = time_to(distance_m, pace)
    lunging = pace.lunge_m is not None and distance_m <= pace.lunge_m
    return min(running, pace.lunge_s) if lunging else running


def time_to(distance_m: float, pace: Pace) -> float:
    """Seconds until a defender who runs has what is so far away within reach; infinite for one who stands."""
    beyond = distance_m - pace.reach_m
    if beyond < 1e-9:  # the end of the reach, computed, may lie a rounding error beyond it
        return pace.reaction_s
    return math.inf if pace.defender_speed == 0 else pace.reaction_s + beyond / pace.defender_speed


def _worst_point(aside: Aside, pace: Pace) -> float:
    if pace.ball_speed <= pace.defender_speed:
        return aside.length_m
    k = pace.defender_speed / pace.ball_speed
    root = math.sqrt(1 - k * k)
    if aside.off_m / root > pace.reach_m:
        return aside.along_m + aside.off_m * k / root
    return aside.along_m + math.sqrt(max(0.0, pace.reach_m**2 - aside.off_m**2))
