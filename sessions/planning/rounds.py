"""Rounds and rests that the app proposes, in whole or half minutes on the clock; what a coach typed stays as typed."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sessions.planning.numbers import at_least, whole

HALF_MINUTE_S = 30
MOST_ROUNDS = 40
# What a rest that differs by half a minute, a half minute left over, and a round more or fewer weigh against the
# length of a round, |ln(length ÷ usual length)| (ours, a judgement to be tested with coaches).
_REST, _SPARE, _ROUND = 0.125, 0.1, 0.3


@dataclass(frozen=True, slots=True)
class Rounds:
    """So many rounds of `bout_s` seconds, `rest_s` between them; all of it lies inside the part's minutes."""

    bouts: int
    bout_s: int
    rest_s: int

    @property
    def seconds(self) -> int:
        """n·work + (n−1)·rest."""
        return self.bouts * self.bout_s + (self.bouts - 1) * self.rest_s


def on_the_clock(minutes: int, bout_s: int, rest_s: int, *, bouts: int | None = None) -> Rounds:
    """The rounds of a part of so many minutes, nearest to a drill's usual round and rest, in half minutes.

    `bouts` is how many the drill usually has, where the minutes are its own. A drill that rests keeps a rest of half a
    minute at least, unless one round is all there is. ValueError for what lasts no time.
    """
    halves = 2 * whole("minutes", minutes, 1)
    usual, rest = whole("bout_s", bout_s, 1) / HALF_MINUTE_S, at_least("rest_s", rest_s, 0) / HALF_MINUTE_S
    ways = [
        (number, (halves - (number - 1) * pause) // number, pause)
        for number in range(1, MOST_ROUNDS + 1)
        for pause in (range(min(1, math.ceil(rest)), math.ceil(rest) + 2) if number > 1 else (0,))
        if halves - (number - 1) * pause >= number
    ]

    def apart(way: tuple[int, int, int]) -> tuple[float, int]:
        number, work, pause = way
        spare = halves - number * work - (number - 1) * pause
        rested = abs(pause - rest) if number > 1 else 0.0
        more = abs(number - bouts) if bouts else 0
        return abs(math.log(work / usual)) + _REST * rested + _SPARE * spare + _ROUND * more, number

    number, work, pause = min(ways, key=apart)
    return Rounds(number, work * HALF_MINUTE_S, pause * HALF_MINUTE_S)


def usual_rounds(minutes: int, bouts: int, bout_s: int, rest_s: int) -> Rounds:
    """How a drill is usually run, as its author wrote it where that is in half minutes; else the nearest that is."""
    if bout_s % HALF_MINUTE_S == 0 and rest_s % HALF_MINUTE_S == 0:
        return Rounds(bouts, bout_s, rest_s)
    return on_the_clock(minutes, bout_s, rest_s, bouts=bouts)


def shared_out(minutes: float, bouts: int, rest_s: int) -> int:
    """Seconds of one round where nobody typed them: the minutes shared out around the rests, rounded down to half minutes.

    Where not even half a minute is left for each, what is left to the second.
    """
    even = int(max(0.0, minutes * 60 - (bouts - 1) * rest_s) // whole("bouts", bouts, 1))
    return even // HALF_MINUTE_S * HALF_MINUTE_S or even
