"""How long rounds and rests are for an age, and rounds that fill a part's minutes.

On the clock rounds and rests are whole or half minutes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import log

from club.ages import OLDEST
from drills.game.evening import Players

HALF_MIN_S = 30
DEAD_S = 120  # rounds and rests leave less than this of a part's minutes
MOST_ROUNDS = 40
LONGEST_REST_S = 1200
DRINK_S = 60  # where one long spell becomes several rounds
_PER_REST = (
    0.15  # half a minute of rest more or less, as far off as a round that is a sixth longer or shorter
)
_PER_DEAD_S = 0.0005


@dataclass(frozen=True, slots=True)
class Usual:
    """Up to *under n*: a usual round of a small-sided game, and the longest spell without a break, in minutes."""

    under: int
    round_min: float
    longest_min: float


# Common practice, no source. The youngest of a group decide. Rests go with the rounds.
USUAL = (
    Usual(7, 1.5, 6),
    Usual(9, 2, 8),
    Usual(10, 2.5, 10),
    Usual(12, 3, 12),
    Usual(14, 3.5, 16),
    Usual(16, 4, 20),
    Usual(OLDEST, 4, 45),
)


@dataclass(frozen=True, slots=True)
class Rounds:
    """So many rounds of `bout_s` seconds with `rest_s` seconds between them."""

    bouts: int
    bout_s: int
    rest_s: int

    @property
    def length_s(self) -> int:
        """Rounds and the rests between them, in seconds."""
        return self.bouts * self.bout_s + (self.bouts - 1) * self.rest_s

    def fills(self, minutes: int) -> bool:
        """Whether they run in so many minutes and leave less than two of them."""
        return 0 <= minutes * 60 - self.length_s < DEAD_S


def length_words(seconds: int) -> str:
    """`2 min`, `2½ min`, `45 s`, `1 min 15 s`."""
    minutes, left = divmod(seconds, 60)
    if not minutes:
        return f"{left} s"
    return f"{minutes}½ min" if left == HALF_MIN_S else f"{minutes} min" + (f" {left} s" if left else "")


def usual_for(ages: Players) -> Usual:
    """The row of the table for a group: the one of its youngest."""
    return next((each for each in USUAL if ages.under_low <= each.under), USUAL[-1])


def rounds_for(
    before: Rounds, minutes: int, *, was: Players | None, now: Players | None, cycle: int = 1
) -> Rounds:
    """The rounds of a part with so many minutes, for a group of other ages; as they were where they still do.

    A round changes as the usual ones do, no further than to the usual one there, and a rest with it: what is as short
    already stays. Both then give way by as little as fills the minutes. A round never gets longer for younger children
    nor shorter for older ones, unless the minutes leave no other way. One long spell stays one as far as the age allows.
    `cycle` rounds take every group to every station.
    """
    old, new = (usual_for(each) if each else None for each in (was, now))
    if old is None or new is None or old.round_min == new.round_min:
        return before if before.fills(minutes) else fill(before, minutes, cycle=cycle)
    longest_s = int(new.longest_min * 60)
    if before.bouts == 1:
        wanted = Rounds(1, min(minutes * 60, longest_s), before.rest_s or DRINK_S)
        found = fill(wanted, minutes, most_s=longest_s, cycle=cycle)
        return found if found.bouts > 1 else replace(found, rest_s=before.rest_s)
    share = _share(before.bout_s, old, new)
    if share == 1 and before.fills(minutes):
        return before
    wanted = Rounds(before.bouts, _halves(before.bout_s * share, 1), _rest(before.rest_s, share))
    if new.round_min > old.round_min:
        return fill(wanted, minutes, least_s=before.bout_s, most_s=longest_s, cycle=cycle)
    return fill(wanted, minutes, most_s=min(longest_s, max(before.bout_s, HALF_MIN_S)), cycle=cycle)


def is_for_age(before: Rounds, after: Rounds, *, was: Players | None, now: Players | None) -> bool:
    """Whether a round got shorter because they are younger there, or longer because they are older; else it was the minutes."""
    old, new = (usual_for(each) if each else None for each in (was, now))
    if old is None or new is None or old.round_min == new.round_min:
        return False
    if (after.bout_s < before.bout_s) != (new.round_min < old.round_min):
        return False
    return before.bouts == 1 or _share(before.bout_s, old, new) != 1


def _share(bout_s: int, old: Usual, new: Usual) -> float:
    """How much of its length a round keeps."""
    there = new.round_min * 60 / bout_s
    share = new.round_min / old.round_min
    return max(share, min(1.0, there)) if share < 1 else min(share, max(1.0, there))


def fill(
    wanted: Rounds, minutes: int, *, least_s: int = HALF_MIN_S, most_s: int = 7200, cycle: int = 1
) -> Rounds:
    """Rounds and rests as near to these as can be that leave less than two of so many minutes.

    A round lasts from `least_s` to `most_s` seconds, and there are as many as a multiple of `cycle`; where no such rounds
    fill the part, shorter ones do, then another number of them, then any. Raises ValueError for no minutes.
    """
    if minutes < 1:
        raise ValueError(f"minutes: at least 1, not {minutes}")
    every = list(_candidates(wanted, minutes * 60))
    short = [each for each in every if each.bout_s <= most_s]
    within = [each for each in short if each.bout_s >= least_s]
    turning = ([each for each in pool if each.bouts % cycle == 0] for pool in (within, short))
    pools = [pool for pool in (*turning, within, short, every) if pool]
    found = min(pools[0], key=lambda each: _off(each, wanted, minutes * 60))
    return found if found.bouts > 1 else replace(found, rest_s=wanted.rest_s)  # one spell has no rest


def _candidates(wanted: Rounds, whole_s: int) -> Iterator[Rounds]:
    """One spell, and all numbers of rounds with the rest that is wished or one that is near to it."""
    near = _rest(wanted.rest_s, 1.0)
    rests = {max(0, near + step * HALF_MIN_S) for step in (-1, 0, 1, 2)} if near else {0}
    for bouts in range(1, MOST_ROUNDS + 1):
        for rest_s in sorted(each for each in rests if each or not near):
            bout_s = (whole_s - (bouts - 1) * rest_s) // bouts // HALF_MIN_S * HALF_MIN_S
            found = Rounds(bouts, bout_s, rest_s)
            if bout_s >= HALF_MIN_S and whole_s - found.length_s < DEAD_S:
                yield found


def _off(found: Rounds, wanted: Rounds, whole_s: int) -> tuple[float, int]:
    rest = abs(found.rest_s - wanted.rest_s) / HALF_MIN_S if found.bouts > 1 else 0.0
    dead_s = whole_s - found.length_s
    off = abs(log(found.bout_s / wanted.bout_s)) + _PER_REST * rest + _PER_DEAD_S * dead_s
    return round(off, 9), found.bouts


def _halves(seconds: float, least: int) -> int:
    """Whole or half minutes: the nearest, the shorter one of two that are as near."""
    return max(least, -int(-(seconds / HALF_MIN_S - 0.5) // 1)) * HALF_MIN_S


def _rest(rest_s: int, share: float) -> int:
    return min(LONGEST_REST_S, _halves(rest_s * share, 1)) if rest_s else 0
