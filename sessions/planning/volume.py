"""How much the young do in a week: organised hours, days and rest days, against the figures in force. Advice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sessions.planning.numbers import at_least
from sessions.planning.reasons import PlanningReason, reason


@dataclass(frozen=True, slots=True)
class WeekLimits:
    """Organised hours a week at most, days of rest at least; None where no figure in force says so."""

    hours_most: float | None = None
    rest_days_least: int | None = None


@dataclass(frozen=True, slots=True)
class Volume:
    """A week of organised minutes: hours, days with something on, days without."""

    hours: float
    days: int
    rest_days: int
    reasons: tuple[PlanningReason, ...]


def volume(daily_minutes: Sequence[float], limits: WeekLimits) -> Volume:
    """Seven days' organised minutes against the limits of the age group."""
    if len(daily_minutes) != 7:
        raise ValueError(f"daily_minutes: a week has 7 days, not {len(daily_minutes)}")
    minutes = [at_least("daily_minutes", value, 0) for value in daily_minutes]
    hours, days = sum(minutes) / 60, sum(1 for value in minutes if value > 0)
    most, least = limits.hours_most, limits.rest_days_least
    found: list[PlanningReason] = []
    if most is not None and hours > most:
        found.append(reason("hours_over_age", hours=hours, over=hours - most, limit=most))
    if least is not None and 7 - days < least:
        found.append(reason("rest_days_short", rest_days=7 - days, wanted=least))
    return Volume(hours, days, 7 - days, tuple(found))
