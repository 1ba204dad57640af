"""How far a set-up is from the design: the named terms, what each weighs, and why. The one table of them."""

from __future__ import annotations

from dataclasses import dataclass, fields

from drills.game.wording.rendering import text_of
from drills.game.wording.shapes import Sentence


@dataclass(frozen=True, slots=True)
class DistanceWeights:
    """One weight per term of the distance, never below 0. What each counts is said in `terms`. Raises ValueError naming a
    weight below 0.

    The form and the weights are the project's own judgement, to be tested with coaches; the club does not set them.
    `keepers` and `adult` stand beside the terms of the first table because a set-up that gives up a keeper or takes a coach
    off coaching is not free.

    `apart` and `outside` settle what the other terms leave equal or nearly so. The mean of |ln| over several grids is least
    for one as designed beside one far from it, where a coach makes two that are alike: 6v6 and 5v5, not 7v7 and 4v4, so
    that sides can meet across the grids. And one more in the grid changes numbers by just what one more beside it changes
    the overload: of 4(+4)v4(+4) and 5(+3)v5(+3) more children play in the second.
    """

    waiting: float = 3.0
    overload: float = 1.0
    numbers: float = 1.0
    uneven: float = 0.25
    space: float = 0.5
    neutrals: float = 0.3
    outside: float = 0.02
    margin: float = 0.02
    keepers: float = 0.25
    adult: float = 0.2
    grids: float = 0.15
    apart: float = 0.15
    unlike: float = 0.2
    rotation: float = 0.05

    def __post_init__(self) -> None:
        for each in fields(self):
            if not getattr(self, each.name) >= 0:
                raise ValueError(f"{each.name}: a weight cannot be below 0")


DEFAULT_WEIGHTS = DistanceWeights()


@dataclass(frozen=True, slots=True)
class Term:
    """One term of the distance: its name, its weight, and what it counts."""

    name: str
    weight: float
    counts: str


def terms() -> tuple[Term, ...]:
    """Every term in the order of `DistanceWeights`, with its default weight and what it counts in plain English."""
    names = (each.name for each in fields(DistanceWeights))
    return tuple(
        Term(name, getattr(DEFAULT_WEIGHTS, name), text_of(Sentence(f"term_{name}"))) for name in names
    )
