"""Is a passing lane open? By how many seconds, and who cuts it where.

Deterministic: the ball rolls at one speed along a straight line; a defender reacts, then runs straight at top speed,
and has the ball within reach. The shape of the model (constant speeds, reaction time) follows Spearman et al. 2017,
"Physics-based modeling of pass probabilities in soccer", MIT Sloan conference: value from memory, not verified.
Ours gives seconds, not probabilities, and has values per age.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from drills.drawing.pose import Pose, ball_at, ends_of, pose_at
from drills.game.scene import BallPath, Point, Scene, ScenePlayer

BODY_M = 0.4  # half the width of somebody who stands in the way: the ball hits them (no source)
PRESSED_S = 0.8  # less than this between the ball's arrival and a defender's: closed down (common practice, no source)


@dataclass(frozen=True)
class Pace:
    """Speeds in m/s, reaction in seconds, reach in metres."""

    ball_speed: float
    reaction_s: float
    defender_speed: float
    reach_m: float


ADULT_PACE = Pace(15.0, 0.7, 5.0, 0.8)  # ball, reaction and speed: value from memory, not verified
# Up to under n. Younger: short passes of 5–12 m/s (value from memory, not verified); the rest scaled by judgement, no source.
_PACES = (
    (8, Pace(7.0, 0.9, 3.5, 0.5)),
    (10, Pace(8.0, 0.85, 3.9, 0.6)),
    (12, Pace(9.5, 0.8, 4.2, 0.6)),
    (14, Pace(11.0, 0.75, 4.5, 0.7)),
    (16, Pace(12.5, 0.7, 4.8, 0.8)),
)


def pace_for(under: int | None) -> Pace:
    """The pace for "under n", n being that of the oldest year group; None means adults."""
    if under is None:
        return ADULT_PACE
    return next((pace for up_to, pace in _PACES if under <= up_to), ADULT_PACE)


@dataclass(frozen=True)
class Lane:
    """A pass that the player on the ball could play. `cut_at` is where the first defender would meet it."""

    passer: str
    receiver: str
    start: Point
    end: Point
    margin_s: float
    cut_by: str | None
    cut_at: Point | None
    receiver_margin_s: float
    closed_by: str | None
    blocked: bool = (
        False  # somebody stands on the line; the margin, with its reaction time, does not see that
    )

    @property
    def open(self) -> bool:
        return self.margin_s > 0 and not self.blocked

    @property
    def pressed(self) -> bool:
        """The ball arrives, but so does a defender."""
        return self.receiver_margin_s < PRESSED_S


def lane_margin_s(
    ball: Point,
    target: Point,
    defender: Point,
    *,
    ball_speed: float,
    reaction_s: float,
    defender_speed: float,
    reach_m: float,
) -> float:
    """Seconds by which the ball is ahead of one defender at the worst point of its way; open when above 0.

    Points are (x_m, y_m). A defender who stands (speed 0) cuts only what comes within reach; otherwise the margin
    is infinite. Raises ValueError where ball and target are the same point or a figure is impossible.
    """
    pace = Pace(ball_speed, reaction_s, defender_speed, reach_m)
    _check(ball, target, pace)
    return _defender_margin(ball, target, defender, pace)[0]


def open_options(
    scene: Scene, *, pace: Pace = ADULT_PACE, time_s: float = 0.0, ball: str | None = None
) -> tuple[Lane, ...]:
    """Every pass of the player on the ball to team-mates and neutrals, safest first.

    Empty where nobody has the ball. Opponents who stand outside or wait in a queue do not defend. A neutral on the
    ball plays for the side that had it last.
    """
    pose = pose_at(scene, time_s)
    key = ball or (scene.balls[0].key if scene.balls else "")
    holder = pose.balls[key].holder if key in pose.balls else None
    passer = _named(scene, holder)
    if passer is None:
        return ()
    side = passer.side if passer.side != "neutral" else (pose.side or "A")
    defenders = [each for each in scene.players if _defends(each, side)]
    mates = [each for each in scene.players if _receives(each, side) and each.key != passer.key]
    spots = {each.key: pose.players[each.key] for each in mates}
    start = pose.players[passer.key]
    lanes = [
        _lane((passer.key, key), (start, end), defenders, pose, pace)
        for key, end in spots.items()
        if end != start
    ]
    return tuple(sorted(lanes, key=lambda lane: (-lane.margin_s, lane.receiver)))


def pass_lane(scene: Scene, move: BallPath, *, pace: Pace = ADULT_PACE) -> Lane | None:
    """The lane of a pass as drawn, at the moment it is played; None for a shot, a high ball or a pass to nobody.

    The ball rolls as fast as it is drawn, or at the pace of the age where it is drawn slower.
    """
    passer = _named(scene, ball_at(scene, move.ball, move.start_s).holder)
    receiver = _named(scene, move.to)
    start, end = ends_of(scene, move)
    if passer is None or receiver is None or move.high or start == end:
        return None
    pose = pose_at(scene, move.start_s)
    side = passer.side if passer.side != "neutral" else (pose.side or "A")
    drawn = math.dist(start, end) / (move.end_s - move.start_s)
    quick = replace(pace, ball_speed=max(drawn, pace.ball_speed))
    defenders = [each for each in scene.players if _defends(each, side) and each.key != receiver.key]
    return _lane((passer.key, receiver.key), (start, end), defenders, pose, quick)


def _named(scene: Scene, key: str | None) -> ScenePlayer | None:
    return next((each for each in scene.players if each.key == key), None)


def _defends(player: ScenePlayer, side: str) -> bool:
    return (
        player.kind != "adult"
        and player.side not in (side, "neutral")
        and player.place not in ("outside", "queue")
    )


def _receives(player: ScenePlayer, side: str) -> bool:
    return player.side in (side, "neutral") and player.place != "queue"


def _lane(
    who: tuple[str, str], ends: tuple[Point, Point], defenders: Sequence[ScenePlayer], pose: Pose, pace: Pace
) -> Lane:
    start, end = ends
    margin, cut_by, cut_at = math.inf, None, None
    free, closed_by, blocked = math.inf, None, False
    arrival = math.dist(start, end) / pace.ball_speed
    for each in defenders:
        spot = pose.players[each.key]
        own, along = _defender_margin(start, end, spot, pace)
        hit = _in_the_way(start, end, spot)
        if (own < margin and not blocked) or (hit and not blocked):
            cut_by, cut_at = each.key, spot if hit else _along(start, end, along)
        margin, blocked = min(own, margin), blocked or hit
        late = _time_to(math.dist(spot, end), pace) - arrival
        if late < free:
            free, closed_by = late, each.key
    return Lane(*who, start, end, margin, cut_by, cut_at, free, closed_by, blocked)


def _defender_margin(ball: Point, target: Point, defender: Point, pace: Pace) -> tuple[float, float]:
    """The margin in seconds and the worst point's distance from the ball in metres.

    Defender's time minus ball's time is convex along the lane, so the free minimum may be clamped to the lane.
    """
    length = math.dist(ball, target)
    ux, uy = (target[0] - ball[0]) / length, (target[1] - ball[1]) / length
    qx, qy = defender[0] - ball[0], defender[1] - ball[1]
    along, off = qx * ux + qy * uy, abs(qx * uy - qy * ux)
    worst = min(max(_worst_point(along, off, length, pace), 0.0), length)
    late = _time_to(math.hypot(worst - along, off), pace)
    return late - worst / pace.ball_speed, worst


def _in_the_way(ball: Point, target: Point, defender: Point) -> bool:
    length = math.dist(ball, target)
    ux, uy = (target[0] - ball[0]) / length, (target[1] - ball[1]) / length
    qx, qy = defender[0] - ball[0], defender[1] - ball[1]
    return 0 < qx * ux + qy * uy < length and abs(qx * uy - qy * ux) <= BODY_M


def _worst_point(along: float, off: float, length: float, pace: Pace) -> float:
    if pace.ball_speed <= pace.defender_speed:
        return length  # the longer such a ball rolls, the more a defender gains on it
    k = pace.defender_speed / pace.ball_speed
    root = math.sqrt(1 - k * k)
    if off / root > pace.reach_m:
        return along + off * k / root
    return along + math.sqrt(max(0.0, pace.reach_m**2 - off**2))


def _time_to(distance_m: float, pace: Pace) -> float:
    beyond = distance_m - pace.reach_m
    if beyond < 1e-9:  # the end of the reach, computed, may lie a rounding error beyond it
        return pace.reaction_s
    return math.inf if pace.defender_speed == 0 else pace.reaction_s + beyond / pace.defender_speed


def _along(start: Point, end: Point, distance_m: float) -> Point:
    share = distance_m / math.dist(start, end)
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _check(ball: Point, target: Point, pace: Pace) -> None:
    if math.dist(ball, target) == 0:
        raise ValueError("target: is where the ball is")
    if not pace.ball_speed > 0:
        raise ValueError("ball_speed: must be above 0 m/s")
    for name in ("reaction_s", "defender_speed", "reach_m"):
        if not getattr(pace, name) >= 0:
            raise ValueError(f"{name}: must not be below 0")
