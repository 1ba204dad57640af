"""What is on for the player on the ball at the start of each step: open 4 of 7, by how much, and who shuts the rest."""

from __future__ import annotations

from dataclasses import dataclass

from drills.drawing.lanes import Lane, Pace, open_options
from drills.drawing.pose import ball_at
from drills.game.scene import Scene


@dataclass(frozen=True)
class Moment:
    """The start of a step. `passer` is the key of whoever is on the ball; None while it rolls or lies loose."""

    number: int
    time_s: float
    passer: str | None
    lanes: tuple[Lane, ...] = ()

    @property
    def open(self) -> int:
        """How many lanes are open."""
        return sum(each.open for each in self.lanes)


def moments(scene: Scene, pace: Pace) -> tuple[Moment, ...]:
    """One for each step; none for a plan on which no pass can be cut out, or with several balls in play."""
    if not _is_contested(scene):
        return ()
    ball = _played(scene)[0]
    return tuple(
        Moment(
            number,
            step.start_s,
            ball_at(scene, ball, step.start_s).holder,
            open_options(scene, pace=pace, time_s=step.start_s, ball=ball),
        )
        for number, step in enumerate(scene.steps, start=1)
    )


def _is_contested(scene: Scene) -> bool:
    """One ball in play, and opponents who may cut a pass out."""
    sides = {
        each.side
        for each in scene.players
        if each.kind != "adult" and each.place not in ("outside", "queue") and each.side != "neutral"
    }
    return len(_played(scene)) == 1 and len(sides) > 1


def _played(scene: Scene) -> list[str]:
    """The balls that somebody has at the start or plays later; not those that lie ready."""
    moved = {move.ball for step in scene.steps for move in step.moves if hasattr(move, "ball")}
    return [each.key for each in scene.balls if each.at is not None or each.key in moved]
