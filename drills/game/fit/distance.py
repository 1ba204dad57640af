"""The distance of one grid's numbers from the design, as named terms. |ln(x ÷ x0)|: half and double are equally far."""

from __future__ import annotations

import math

from drills.game.design import Design
from drills.game.fit.weights import DistanceWeights
from drills.game.format import Format

Terms = dict[str, float]


def ln_apart(value: float | None, wished: float | None) -> float:
    """|ln(value ÷ wished)|; 0 where either is undefined (no opponents)."""
    if not value or not wished:
        return 0.0
    return abs(math.log(value / wished))


def overload_with(fmt: Format, adults: int) -> float | None:
    """(Own outfield + neutrals + adults) ÷ opponents inside: the overload where so many adults play as neutrals too.

    None without opponents. See `Format.overload`.
    """
    opponents = sum(side.inside for side in fmt.sides[1:])
    if not opponents:
        return None
    return (fmt.sides[0].outfield + fmt.neutrals + adults) / opponents


def difference(fmt: Format) -> int:
    """By how many players the sides differ: first minus second of two, largest minus smallest of more."""
    sizes = [side.outfield for side in fmt.sides]
    return sizes[0] - sizes[1] if len(sizes) == 2 else max(sizes) - min(sizes)


def rotates_as_teams(fmt: Format, waiting: int) -> bool:
    """Whether whole teams can change places: equal sides, and as many neutrals and waiting as make whole teams."""
    team = fmt.sides[0].outfield
    return fmt.has_opponents and fmt.is_even and fmt.neutrals % team == 0 and waiting % team == 0


def helpers(fmt: Format, adults_inside: int = 0, adults_outside: int = 0) -> tuple[bool, bool, bool]:
    """Whether there are neutrals inside, neutrals outside, and own players outside; adults who help counted in."""
    return (
        fmt.neutrals_inside + adults_inside > 0,
        fmt.neutrals_outside + adults_outside > 0,
        fmt.players_outside > fmt.neutrals_outside,
    )


def missing_keepers(wished: Format, fmt: Format) -> int:
    """How many goals of one grid nobody keeps; 0 where keepers train among themselves."""
    return max(0, wished.keepers - fmt.keepers) if wished.players_inside else 0


def numbers_terms(design: Design, fmt: Format, adults: int, weights: DistanceWeights) -> Terms:
    """Name → weighted term, for the terms that one grid's numbers decide; no unit. They add up to a part of the distance.

    `adults` play as neutrals: inside where the design has neutrals there alone, else outside.
    """
    wished = design.format
    adults_inside = adults if wished.neutrals_inside and not wished.neutrals_outside else 0
    inside, wished_inside = fmt.players_inside or fmt.players, wished.players_inside or wished.players
    numbers = 0.0 if design.anyone_can_join else ln_apart(inside + adults_inside, wished_inside)
    now, then = helpers(fmt, adults_inside, adults - adults_inside), helpers(wished)
    helpers_changed = sum(a != b for a, b in zip(now, then, strict=True))
    if design.counts_everyone:
        helpers_changed *= 2  # a neutral beside a rondo is one more on the ball: 7v3, not 6v3+1
    return {
        "overload": weights.overload * ln_apart(overload_with(fmt, adults), wished.overload),
        "numbers": weights.numbers * numbers,
        "uneven": weights.uneven * abs(difference(fmt) - difference(wished)) if wished.has_opponents else 0.0,
        "neutrals": weights.neutrals * helpers_changed,
        "outside": weights.outside * abs(fmt.sides[0].outside - wished.sides[0].outside),
        "keepers": weights.keepers * missing_keepers(wished, fmt),
    }
