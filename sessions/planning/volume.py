"""How much the young do in a week: organised hours, days and rest days. Advice with its source.

Weekly organised hours should not exceed the age in years, with two rest days a week: NATA 2019 statement, read
in a second-hand copy; more overuse injuries above: Jayanthi et al. 2015, AJSM 43(4):794–801.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sessions.planning.numbers import at_least, whole
from sessions.planning.reasons import Reason, reason

REST_DAYS_WANTED = 2


@dataclass(frozen=True, slots=True)
class Volume:
    """A week of organised minutes: hours, days with something on, days without."""

    hours: float
    days: int
    rest_days: int
    reasons: tuple[Reason, ...]


def volume(daily_minutes: Sequence[float], youngest_years: int) -> Volume:
    """Seven days' organised minutes against the lowest age (in years) of the age group."""
    if len(daily_minutes) != 7:
        raise ValueError(f"daily_minutes: a week has 7 days, not {len(daily_minutes)}")
    minutes = [at_least("daily_minutes", value, 0) for value in daily_minutes]
    hours, days = sum(minutes) / 60, sum(1 for value in minutes if value > 0)
    found: list[Reason] = []
    if hours > whole("youngest_years", youngest_years, 1):
        found.append(reason("hours_over_age", hours=hours, over=hours - youngest_years, age=youngest_years))
    if 7 - days < REST_DAYS_WANTED:
        found.append(reason("rest_days_short", rest_days=7 - days, wanted=REST_DAYS_WANTED))
    return Volume(hours, days, 7 - days, tuple(found))
