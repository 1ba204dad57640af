"""How far a set-up is from the design: the named terms and what each weighs."""

from __future__ import annotations

from dataclasses import dataclass, fields


@dataclass(frozen=True, slots=True)
class Weights:
    """One weight per term of the distance; the club may change them, never below 0.

    The form and the defaults are the project's own judgement, to be tested with coaches. `keepers` and `adult` stand
    beside the terms of the table because a set-up that gives up a keeper or takes a coach off coaching is not free.

    `apart` and `outside` settle what the other terms leave equal or nearly so. The mean of |ln| over several grids is least
    for one as designed beside one far from it, where a coach makes two that are alike: 6v6 and 5v5, not 7v7 and 4v4, so
    that sides can meet across the grids. And one more in the grid changes numbers by just what one more beside it changes
    the overload: of 4(+4)v4(+4) and 5(+3)v5(+3) more children play in the second.
    """

    waiting: float = 3.0  # × share of players waiting beyond what the design plans
    overload: float = 1.0  # × |ln| of the overload against the design's
    numbers: float = 1.0  # × |ln| of players inside one grid against the design's
    uneven: float = 0.25  # per player by which the sides' difference differs
    space: float = 0.5  # × |ln| of area per counted player; a fifth of it for the ratio of the sides
    neutrals: float = (
        0.3  # per kind of helper (neutrals inside, neutrals outside, own outside) that appears or vanishes
    )
    outside: float = 0.02  # per own outside player of a side more or fewer than in the design
    margin: float = 0.02  # × the square of the metres of run-off less than wished, along and across
    keepers: float = 0.25  # per keeper's goal in one grid that has no keeper tonight
    adult: float = 0.2  # an adult plays instead of coaching
    grids: float = 0.15  # per grid beyond the first: another pair of eyes is needed
    apart: float = 0.15  # × ln of the players in the biggest of several grids against the smallest
    unlike: float = 0.2  # several grids that play games of unlike kinds: helpers in one, none in another
    rotation: float = 0.05  # whole teams can no longer rotate

    def __post_init__(self) -> None:
        for each in fields(self):
            if not getattr(self, each.name) >= 0:
                raise ValueError(f"{each.name}: a weight cannot be below 0")


DEFAULT_WEIGHTS = Weights()
