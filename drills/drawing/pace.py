"""How fast a ball, a defender's start and a defender's run are: the values behind passing lanes, per age."""

from __future__ import annotations

from dataclasses import dataclass

LUNGE_S = 0.2  # an adult's (common practice, no source)


@dataclass(frozen=True)
class Pace:
    """Speeds in m/s, times in seconds, distances in metres.

    Running: after `reaction_s` at `defender_speed` to within `reach_m`. Lunging: after `lunge_s` at whatever passes
    within `lunge_m`; without `lunge_m` nobody lunges.
    """

    ball_speed: float
    reaction_s: float
    defender_speed: float
    reach_m: float
    lunge_m: float | None = None
    lunge_s: float = LUNGE_S


# Ball, reaction and speed: Spearman 2018, "Beyond expected goals", MIT Sloan conference (value from memory, not verified). Lunge: a long step and a leg, begun while the passer swings, so
# sooner than a reaction and a step would take (common practice, no source).
ADULT_PACE = Pace(15.0, 0.7, 5.0, 0.8, 1.5, LUNGE_S)
# Up to under n. Younger: short passes of 5–12 m/s (value from memory, not verified); the rest scaled by judgement, no source.
# Lunge: shorter legs, read later (common practice, no source); two who stand 2 m apart leave no way between them at any age,
# and what has rolled about 2.5 m is within a lunge's time.
_PACES = (
    (8, Pace(7.0, 0.9, 3.5, 0.5, 1.1, 0.33)),
    (10, Pace(8.0, 0.85, 3.9, 0.6, 1.2, 0.3)),
    (12, Pace(9.5, 0.8, 4.2, 0.6, 1.2, 0.27)),
    (14, Pace(11.0, 0.75, 4.5, 0.7, 1.3, 0.24)),
    (16, Pace(12.5, 0.7, 4.8, 0.8, 1.4, 0.22)),
)


def pace_for(under: int | None) -> Pace:
    """The pace for "under n", n being that of the oldest year group; None means adults."""
    if under is None:
        return ADULT_PACE
    return next((pace for up_to, pace in _PACES if under <= up_to), ADULT_PACE)
