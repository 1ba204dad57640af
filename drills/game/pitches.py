"""Match pitches and their goals as published, by the format that is played, and the format that an age usually plays.

An age group's own format and its own pitch come before these wherever they are known. Goals that are written as mini or
small are of no age and keep their own width.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from drills.game.evening import PlayerAges
from drills.game.space import METRES_PER_YARD, Word, area_per_player, first_word, metres
from drills.game.wording.shapes import Sentence

METRES_PER_FOOT = METRES_PER_YARD / 3


@dataclass(frozen=True, slots=True)
class MatchPitch:
    """A match pitch for so many a side, in metres; among those for 11 a side the age group decides."""

    a_side: int  # players of one side, the goalkeeper among them
    length_m: float
    width_m: float
    source: str
    goal_ft: tuple[float, float]  # width and height of its goals, in feet
    goal_source: str
    oldest_u: int | None = None  # the n of the oldest "under n" that plays on it; None: and older
    keepers: int = 2

    @property
    def area_per_player_m2(self) -> float:
        """Length × width ÷ all players, goalkeepers too."""
        return area_per_player(self.length_m, self.width_m, 2 * self.a_side)

    @property
    def area_per_outfield_player_m2(self) -> float:
        """Length × width ÷ both sides' players without their keepers."""
        return area_per_player(self.length_m, self.width_m, 2 * self.a_side - self.keepers)


_HANDBOOK = "The FA, handbook 2016-17 (from a second-hand copy of the text)"
_FORMATS_2026 = "The FA, youth formats from season 2026-27 (second-hand)"
_THREES = "England Football Learning, how to play and manage 3v3 games, 2025"  # its goals, and that nobody keeps them


def _in_yards(
    a_side: int, length_yd: float, width_yd: float, goal_ft: tuple[float, float], oldest_u: int | None = None
) -> MatchPitch:
    return MatchPitch(
        a_side, metres(length_yd), metres(width_yd), _HANDBOOK, goal_ft, _HANDBOOK, oldest_u=oldest_u
    )


# The smallest format first, and 11 a side from the youngest.
MATCH_PITCHES: tuple[MatchPitch, ...] = (
    MatchPitch(3, 15, 10, _FORMATS_2026, (4, 2.5), _THREES, keepers=0),
    _in_yards(5, 40, 30, (12, 6)),
    _in_yards(7, 60, 40, (12, 6)),
    _in_yards(9, 80, 50, (16, 7)),
    _in_yards(11, 90, 55, (21, 7), oldest_u=14),
    _in_yards(11, 100, 60, (24, 8), oldest_u=16),
    _in_yards(11, 110, 70, (24, 8)),
)

# (the n of the oldest "under n", players a side) from season 2026-27: _FORMATS_2026. Other seasons' are guideline rows alone.
_USUAL_A_SIDE = ((7, 3), (9, 5), (11, 7), (13, 9))


def usual_a_side(under: int) -> int:
    """Players a side that "under n" usually play, n as in U12, by the table from season 2026-27 (The FA, second-hand).

    Raises ValueError below 1. An age group's own format comes before it wherever one is known.
    """
    if under < 1:
        raise ValueError(f"under: must be at least 1, not {under}")
    return next((a_side for oldest, a_side in _USUAL_A_SIDE if under <= oldest), 11)


def match_pitch(a_side: int, under: int | None = None) -> MatchPitch:
    """The match pitch for so many a side, 1 to 11; numbers between two formats play on the larger one's.

    `under` (n as in U14) decides among those for 11 a side alone; not said, the adults' is meant. Raises ValueError.
    """
    if not 1 <= a_side <= 11:
        raise ValueError(f"a_side: from 1 to 11, not {a_side}")
    if under is not None and under < 1:
        raise ValueError(f"under: must be at least 1, not {under}")
    old = math.inf if under is None else under
    for pitch in MATCH_PITCHES:
        if a_side <= pitch.a_side and (pitch.a_side < 11 or old <= (pitch.oldest_u or math.inf)):
            return pitch
    raise AssertionError("the last pitch is for everybody")


def first_word_for(area_per_player_m2: float, under: int, a_side: int | None = None) -> Word:
    """A first word for a grid of "under n", against the match area of the group's own format, `a_side`.

    Where no group is known, the format that the age usually plays is meant; for a drill, of its youngest age. Only for
    a grid that nobody has words for: a drill's own stand alone. Raises ValueError.
    """
    pitch = match_pitch(usual_a_side(under) if a_side is None else a_side, under)
    return first_word(area_per_player_m2, pitch.area_per_outfield_player_m2)


# The largest pitch that a match of three a side may have (_FORMATS_2026); other formats have one size.
LARGEST_OF_THREE_M2 = 20.0 * 15.0


@lru_cache(maxsize=16)
def match_area_per_player_m2(a_side: int) -> float:
    """The most room that each player of so many a side has in a match, everyone counted; of the youngest where ages differ."""
    pitch = match_pitch(a_side, under=1)
    return LARGEST_OF_THREE_M2 / (2 * pitch.a_side) if pitch.a_side == 3 else pitch.area_per_player_m2


# Players a side → the room that each of them has in a match, everyone counted, in m².
MatchAreas = Mapping[int, float]
AS_PUBLISHED = 0.001  # rows say metres to the centimetre, the table whole yards: so near is the same pitch


def areas_of_our_own(in_force: MatchAreas) -> dict[int, float]:
    """Of the areas in force at a club, in m² per player, those that are not the published ones, by format.

    Raises ValueError for a format that is not from 1 to 11 a side.
    """
    return {
        a_side: area
        for a_side, area in sorted(in_force.items())
        if not math.isclose(area, match_area_per_player_m2(a_side), rel_tol=AS_PUBLISHED)
    }


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

    @property
    def told(self) -> Sentence:
        """`Goals 3.66 × 1.83 m (12 × 6 ft), as in your matches.`"""
        return Sentence("goals_tonight", {"frame": self.said})


def goal_of(players: PlayerAges) -> GoalFrame:
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
