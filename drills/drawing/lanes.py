"""Is a passing lane open? By how many seconds, and who cuts it where; and whether the receiver is closed down.

Deterministic: the ball rolls at one speed along a straight line; a defender cuts it by a lunge at what passes close by, or reacts,
then runs straight at top speed, and has the ball within reach. The run (constant speeds, reaction time) follows Spearman et al.
2017, "Physics-based modeling of pass probabilities in soccer", an adult's values Spearman 2018, "Beyond expected goals", both MIT
Sloan conference: values from memory, not verified; the lunge is
common practice, no source. Ours gives seconds, not probabilities, and has values per age (`pace.py`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from drills.drawing.interception import arrival, in_the_way, seen, soonest
from drills.drawing.pace import ADULT_PACE, LUNGE_S, Pace
from drills.drawing.pose import Pose, ball_at, ends_of, pose_at
from drills.game.scene import BallPath, Point, Scene, ScenePlayer

PRESSED_S = 0.8  # less than this between the ball's arrival and a defender's: closed down (common practice, no source)


@dataclass(frozen=True)
class Lane:
    """A pass that the player on the ball could play. `cut_at` is where the first defender would meet it.

    `receiver_margin_s`: how long after the ball the first defender, `closed_by`, is at the receiver.
    """

    passer: str
    receiver: str
    start: Point
    end: Point
    margin_s: float
    cut_by: str | None
    cut_at: Point | None
    receiver_margin_s: float
    closed_by: str | None
    blocked: bool = False  # somebody stands on the line

    @property
    def open(self) -> bool:
        """Whether nobody meets the ball (a margin of more than 0 s) and nobody stands on the line."""
        return self.margin_s > 0 and not self.blocked

    @property
    def closed_down(self) -> bool:
        """A defender is at the receiver before the ball, or with it."""
        return self.receiver_margin_s <= 0

    @property
    def pressed(self) -> bool:
        """The ball arrives, but so does a defender: before it, or within a first touch."""
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
    lunge_m: float | None = None,
    lunge_s: float = LUNGE_S,
) -> float:
    """Seconds by which the ball is ahead of one defender at the worst point of its way; open when above 0.

    Points are (x_m, y_m). A defender runs after `reaction_s`; with `lunge_m` they also lunge after `lunge_s` at what passes so
    close, and stop what is played at their body. One who stands (speed 0) cuts only what comes within reach or lunge;
    otherwise the margin is infinite. Formulas: `interception.py`. Raises ValueError where ball and target are the same
    point or a figure is impossible.
    """
    pace = Pace(ball_speed, reaction_s, defender_speed, reach_m, lunge_m, lunge_s)
    _check(ball, target, pace)
    return soonest(seen(ball, target, defender), pace).margin_s


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
    played_s = math.dist(start, end) / pace.ball_speed
    for each in defenders:
        spot = pose.players[each.key]
        aside = seen(start, end, spot)
        cut, hit = soonest(aside, pace), in_the_way(aside)
        if (cut.margin_s < margin or hit) and not blocked:
            cut_by, cut_at = each.key, spot if hit else _along(start, end, cut.at_m)
        margin, blocked = min(cut.margin_s, margin), blocked or hit
        late = arrival(math.dist(spot, end), pace) - played_s
        if late < free:
            free, closed_by = late, each.key
    return Lane(*who, start, end, margin, cut_by, cut_at, free, closed_by, blocked)


def _along(start: Point, end: Point, distance_m: float) -> Point:
    share = distance_m / math.dist(start, end)
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _check(ball: Point, target: Point, pace: Pace) -> None:
    if math.dist(ball, target) == 0:
        raise ValueError("target: is where the ball is")
    if not pace.ball_speed > 0:
        raise ValueError("ball_speed: must be above 0 m/s")
    for name in ("reaction_s", "defender_speed", "reach_m", "lunge_m", "lunge_s"):
        value = getattr(pace, name)
        if value is not None and not value >= 0:
            raise ValueError(f"{name}: must not be below 0")
