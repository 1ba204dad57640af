"""A part's minutes as rounds of play with rests between: in whole or half minutes, which a coach reads off a watch."""

from __future__ import annotations

from dataclasses import dataclass

from sessions.planning.numbers import whole

HALF_MINUTE_S = 30
SHORTEST_ROUND_S = 30
MOST_ROUNDS = 40


@dataclass(frozen=True, slots=True)
class Rounds:
    """So many rounds of so many seconds, with rests between them; no rest after the last, nor beside a single one."""

    bouts: int
    bout_s: int
    rest_s: int

    @property
    def all_s(self) -> int:
        """Seconds from the first start to the last end."""
        return self.bouts * self.bout_s + (self.bouts - 1) * self.rest_s


def rounds_in(minutes: int, *, bout_s: int, rest_s: int) -> Rounds:
    """As many rounds as the minutes hold of a drill's own, as long as they can be.

    A round of a minute or more lasts whole or half minutes (common practice, no source); what that leaves over comes after
    the last. ValueError for less than one minute.
    """
    whole_s = whole("minutes", minutes, 1) * 60
    bouts = max(1, min(MOST_ROUNDS, round((whole_s + rest_s) / (bout_s + rest_s))))
    while bouts > 1 and (whole_s - (bouts - 1) * rest_s) // bouts < SHORTEST_ROUND_S:
        bouts -= 1
    rest_s = rest_s if bouts > 1 else 0
    each_s = (whole_s - (bouts - 1) * rest_s) // bouts
    if each_s >= 2 * HALF_MINUTE_S:
        each_s -= each_s % HALF_MINUTE_S
    return Rounds(bouts, each_s, rest_s)
