"""How many adults a group of children needs, by the figure in force for its ages. Advice with its source.

Local rules come first. A count below 0 is a ValueError that names its field.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from sessions.planning.numbers import whole
from sessions.planning.reasons import PlanningReason, reason


@dataclass(frozen=True, slots=True)
class AdultRule:
    """Children for one adult, and the fewest adults there may be; None where no figure in force says so.

    Raises ValueError naming the field: a ratio of 0 says nothing.
    """

    children_per_adult: int | None
    fewest: int | None
    source: str

    def __post_init__(self) -> None:
        for name in ("children_per_adult", "fewest"):
            value = getattr(self, name)
            if value is not None:
                whole(name, value, 1)


@dataclass(frozen=True, slots=True)
class Supervision:
    """Adults needed and adults there (counts), with what would clear the difference where there are too few."""

    needed: int
    there: int
    reasons: tuple[PlanningReason, ...]


def stricter(rules: Iterable[AdultRule | None]) -> AdultRule | None:
    """One rule for several groups together: the fewest children to an adult, and the largest least number of adults.

    None without any rule. `source` names all sources, each once.
    """
    known = [each for each in rules if each is not None]
    if not known:
        return None
    ratios = [each.children_per_adult for each in known if each.children_per_adult is not None]
    least = [each.fewest for each in known if each.fewest is not None]
    sources = dict.fromkeys(each.source for each in known)
    return AdultRule(min(ratios, default=None), max(least, default=None), "; ".join(sources))


def adults_needed(players: int, rule: AdultRule | None) -> int:
    """max(fewest, ceil(players ÷ children to an adult)); 0 without players, or without a rule: a group of adults."""
    if whole("players", players, 0) == 0 or rule is None:
        return 0
    by_ratio = math.ceil(players / rule.children_per_adult) if rule.children_per_adult else 0
    return max(rule.fewest or 0, by_ratio)


def supervise(players: int, rule: AdultRule | None, *, adults: int, helpers_under_18: int = 0) -> Supervision:
    """Compare the adults who are down for a session with those needed for so many players; helpers under 18 do not count."""
    whole("adults", adults, 0)
    whole("helpers_under_18", helpers_under_18, 0)
    needed = adults_needed(players, rule)
    found: list[PlanningReason] = []
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
    return Supervision(needed, adults, tuple(found))
