"""How many adults a group of children needs. Advice with its source; local rules come first."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sessions.planning.numbers import whole
from sessions.planning.reasons import Reason, reason

FEWEST_ADULTS = 2
SOURCE = "NSPCC Child Protection in Sport Unit, supervision ratios; local rules come first"

# (highest age, children per adult). Ages 0–2 and 4 upwards as published; the row for age 3 is a
# value from memory, not verified.
RATIOS: tuple[tuple[int, int], ...] = ((2, 3), (3, 4), (8, 6), (12, 8), (18, 10))


@dataclass(frozen=True, slots=True)
class Supervision:
    """Adults needed and there; `ratio` is children per adult (None for a group of adults)."""

    needed: int
    there: int
    ratio: int | None
    reasons: tuple[Reason, ...]
    source: str = SOURCE


def children_per_adult(youngest_years: int | None) -> int | None:
    """Children per adult for the youngest in the group, in years; None from 19 on, and for None: adults."""
    if youngest_years is None:
        return None
    whole("youngest_years", youngest_years, 0)
    return next((ratio for highest, ratio in RATIOS if youngest_years <= highest), None)


def adults_needed(players: int, youngest_years: int | None) -> int:
    """max(2, ceil(players ÷ ratio)); 0 where nobody is there to look after or the group is of adults."""
    ratio = children_per_adult(youngest_years)
    if whole("players", players, 0) == 0 or ratio is None:
        return 0
    return max(FEWEST_ADULTS, math.ceil(players / ratio))


def supervise(
    players: int, youngest_years: int | None, *, adults: int, helpers_under_18: int = 0
) -> Supervision:
    """Compare the adults who are down for it with those needed; helpers under 18 do not count."""
    whole("adults", adults, 0)
    whole("helpers_under_18", helpers_under_18, 0)
    needed = adults_needed(players, youngest_years)
    found: list[Reason] = []
    if adults < needed:
        found.append(
            reason(
                "adults_short",
                None,
                (reason("clear_adults_more", more=needed - adults), reason("parent_stopgap")),
                players=players,
                needed=needed,
                there=adults,
            )
        )
        if helpers_under_18:
            found.append(reason("helpers_not_counted", count=helpers_under_18))
    return Supervision(needed, adults, children_per_adult(youngest_years), tuple(found))
