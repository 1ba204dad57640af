"""Rounds and rests that the app proposes, in whole or half minutes on the clock; what a coach typed stays as typed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from sessions.planning.numbers import at_least, whole

# How rounds fill a part: common practice, no source.
HALF_MINUTE_S = 30
MOST_ROUNDS = 40
DEAD_S = 120  # rounds that fill a part leave less than this of it
# What a rest that differs by half a minute, a half minute left over, and a round more or fewer weigh against the
# length of a round, |ln(length ÷ usual length)| (ours, a judgement to be tested with coaches).
_REST, _SPARE, _ROUND = 0.25, 0.1, 0.3


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

    def fills(self, minutes: int) -> bool:
        """Whether they run in so many minutes and leave less than two of them."""
        return 0 <= minutes * 60 - self.seconds < DEAD_S


Way = tuple[int, int, int]  # rounds, half minutes of each and of the rests


@dataclass(frozen=True, slots=True)
class Within:
    """What rounds that fill a part are held to: seconds of one, and a number that is a multiple of `cycle`."""

    least_s: int = HALF_MINUTE_S
    most_s: int = 7200
    cycle: int = 1
    more_rest: int = 1  # half minutes that a rest may be longer than wished

    def of(self, ways: Sequence[Way], halves: int) -> list[Way]:
        """Those that leave less than two minutes; where none is within, shorter rounds, then another number, then any."""
        full = [each for each in ways if halves - _halves(each) < DEAD_S // HALF_MINUTE_S]
        short = [each for each in full if each[1] * HALF_MINUTE_S <= self.most_s]
        within = [each for each in short if each[1] * HALF_MINUTE_S >= self.least_s]
        turning = ([each for each in pool if each[0] % self.cycle == 0] for pool in (within, short))
        return next(pool for pool in (*turning, within, short, full) if pool)


def _halves(way: Way) -> int:
    number, work, pause = way
    return number * work + (number - 1) * pause


def on_the_clock(
    minutes: int, bout_s: int, rest_s: int, *, bouts: int | None = None, within: Within | None = None
) -> Rounds:
    """The rounds of a part of so many minutes, nearest to a drill's usual round and rest, in half minutes.

    `bouts` is how many the drill usually has, where the minutes are its own. A drill that rests keeps a rest of half a
    minute at least, unless one round is all there is. With `within` they leave less than two of the minutes. ValueError
    for what lasts no time.
    """
    halves = 2 * whole("minutes", minutes, 1)
    usual, rest = whole("bout_s", bout_s, 1) / HALF_MINUTE_S, at_least("rest_s", rest_s, 0) / HALF_MINUTE_S
    longest = math.ceil(rest) + (1 if within is None else within.more_rest)
    ways = [
        (number, (halves - (number - 1) * pause) // number, pause)
        for number in range(1, MOST_ROUNDS + 1)
        for pause in (range(min(1, math.ceil(rest)), longest + 1) if number > 1 else (0,))
        if halves - (number - 1) * pause >= number
    ]

    def apart(way: Way) -> tuple[float, int]:
        number, work, pause = way
        spare = halves - _halves(way)
        rested = abs(pause - rest) if number > 1 else 0.0
        more = abs(number - bouts) if bouts else 0
        return abs(math.log(work / usual)) + _REST * rested + _SPARE * spare + _ROUND * more, number

    number, work, pause = min(ways if within is None else within.of(ways, halves), key=apart)
    return Rounds(number, work * HALF_MINUTE_S, pause * HALF_MINUTE_S)


def usual_rounds(minutes: int, bouts: int, bout_s: int, rest_s: int) -> Rounds:
    """How a drill is usually run, as its author wrote it where that is in half minutes; else the nearest that is."""
    if bout_s % HALF_MINUTE_S == 0 and rest_s % HALF_MINUTE_S == 0:
        return Rounds(bouts, bout_s, rest_s)
    return on_the_clock(minutes, bout_s, rest_s, bouts=bouts)


def shared_out(minutes: float, bouts: int, rest_s: int) -> int:
    """Seconds of one round where nobody typed them: the minutes shared out around the rests, rounded down to half minutes.

    Where not even half a minute is left for each, what is left to the second. Raises ValueError for no bouts.
    """
    even = int(max(0.0, minutes * 60 - (bouts - 1) * rest_s) // whole("bouts", bouts, 1))
    return even // HALF_MINUTE_S * HALF_MINUTE_S or even
