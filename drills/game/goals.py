"""The goals of a match, by the format that is played: an age group's own goal on its plans, in its words and on its kit list.

Goals that are written as mini or small keep their own width; the club's frames for small-sided games are of no age.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from drills.game.evening import Players
from drills.game.pitches import match_pitch, usual_a_side
from drills.game.space import METRES_PER_YARD
from drills.game.wording.shapes import Sentence

METRES_PER_FOOT = METRES_PER_YARD / 3


@dataclass(frozen=True, slots=True)
class GoalFrame:
    """A goal between its posts and under its bar, in feet, as it was published."""

    wide_ft: float
    high_ft: float
    source: str

    @property
    def wide_m(self) -> float:
        """In metres, to the centimetre."""
        return round(self.wide_ft * METRES_PER_FOOT, 2)

    @property
    def high_m(self) -> float:
        """In metres, to the centimetre."""
        return round(self.high_ft * METRES_PER_FOOT, 2)

    @property
    def said(self) -> Sentence:
        """`3.66 × 1.83 m (12 × 6 ft)`."""
        return Sentence(
            "goal_frame",
            {
                "wide_m": f"{self.wide_m:.2f}",
                "high_m": f"{self.high_m:.2f}",
                "wide_ft": f"{self.wide_ft:g}",
                "high_ft": f"{self.high_ft:g}",
            },
        )


def goal_of(players: Players) -> GoalFrame:
    """The goal of the group's own format; of the one that its oldest usually play where it has none.

    Among 11 a side the oldest decide, as about the pitch.
    """
    under = players.under_high
    a_side = players.a_side
    if a_side is None:
        a_side = 11 if under is None else usual_a_side(under)
    return _frame(min(a_side, 11), under)


@lru_cache(maxsize=64)
def _frame(a_side: int, under: int | None) -> GoalFrame:
    pitch = match_pitch(a_side, under)
    return GoalFrame(*pitch.goal_ft, pitch.goal_source)


__all__ = ["GoalFrame", "goal_of"]
