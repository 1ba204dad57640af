"""How long rounds and rests are for an age, and rounds that fill a part's minutes.

On the clock rounds and rests are whole or half minutes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from club.ages import OLDEST
from drills.game.evening import PlayerAges
from sessions.planning.rounds import HALF_MINUTE_S, Rounds, Within, on_the_clock

# Between rounds: common practice, no source.
LONGEST_REST_S = 1200
MORE_REST = 3  # half minutes, where groups would else not come to every station
DRINK_S = 60  # where one long spell becomes several rounds


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


def length_words(seconds: int) -> str:
    """`2 min`, `2½ min`, `45 s`, `1 min 15 s`."""
    minutes, left = divmod(seconds, 60)
    if not minutes:
        return f"{left} s"
    return f"{minutes}½ min" if left == HALF_MINUTE_S else f"{minutes} min" + (f" {left} s" if left else "")


def usual_for(ages: PlayerAges) -> Usual:
    """The row of the table for a group: the one of its youngest."""
    return next((each for each in USUAL if ages.under_low <= each.under), USUAL[-1])


def rounds_for(
    before: Rounds, minutes: int, *, was: PlayerAges | None, now: PlayerAges | None, cycle: int = 1
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
    return fill(wanted, minutes, most_s=min(longest_s, max(before.bout_s, HALF_MINUTE_S)), cycle=cycle)


def is_for_age(before: Rounds, after: Rounds, *, was: PlayerAges | None, now: PlayerAges | None) -> bool:
    """Whether a round got shorter because they are younger there, or longer because they are older; else it was the minutes."""
    old, new = (usual_for(each) if each else None for each in (was, now))
    if old is None or new is None or old.round_min == new.round_min:
        return False
    if (after.bout_s < before.bout_s) != (new.round_min < old.round_min):
        return False
    return after.bouts > 1 if before.bouts == 1 else _share(before.bout_s, old, new) != 1


def _share(bout_s: int, old: Usual, new: Usual) -> float:
    """How much of its length a round keeps."""
    there = new.round_min * 60 / bout_s
    share = new.round_min / old.round_min
    return max(share, min(1.0, there)) if share < 1 else min(share, max(1.0, there))


def fill(
    wanted: Rounds, minutes: int, *, least_s: int = HALF_MINUTE_S, most_s: int = 7200, cycle: int = 1
) -> Rounds:
    """Rounds and rests as near to these as can be that leave less than two of so many minutes, held to what is named.

    Raises ValueError for no minutes.
    """
    within = Within(least_s, most_s, cycle)
    found = on_the_clock(minutes, wanted.bout_s, wanted.rest_s, within=within)
    if found.bouts % cycle:
        longer = replace(within, more_rest=MORE_REST)
        found = on_the_clock(minutes, wanted.bout_s, wanted.rest_s, within=longer)
    return found if found.bouts > 1 else replace(found, rest_s=wanted.rest_s)  # one spell has no rest


def _halves(seconds: float, least: int) -> int:
    """Whole or half minutes: the nearest, the shorter one of two that are as near."""
    return max(least, -int(-(seconds / HALF_MINUTE_S - 0.5) // 1)) * HALF_MINUTE_S


def _rest(rest_s: int, share: float) -> int:
    return min(LONGEST_REST_S, _halves(rest_s * share, 1)) if rest_s else 0
