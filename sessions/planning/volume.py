"""How much the young do in a week: organised hours, days and rest days, against the figures in force. Advice."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from sessions.planning.numbers import at_least
from sessions.planning.reasons import PlanningReason, reason


@dataclass(frozen=True, slots=True)
class MinutesLimit:
    """So many minutes at most, and who says so."""

    most: float
    source: str


@dataclass(frozen=True, slots=True)
class MatchPlayed:
    """A match, or a tournament, with the minutes of one player in it; `day` as it is said."""

    day: str
    minutes: float
    tournament: bool = False


@dataclass(frozen=True, slots=True)
class WeekLimits:
    """Organised hours a week at most, days of rest at least, match minutes of one player on a day and on a tournament
    day; None where no figure in force says so.
    """

    hours_most: float | None = None
    rest_days_least: int | None = None
    match_day: MinutesLimit | None = None
    tournament_day: MinutesLimit | None = None


@dataclass(frozen=True, slots=True)
class Volume:
    """A week of organised minutes: hours, days with something on, days without."""

    hours: float
    days: int
    rest_days: int
    reasons: tuple[PlanningReason, ...]


def volume(daily_minutes: Sequence[float], limits: WeekLimits, also: Collection[int] = ()) -> Volume:
    """Seven days' organised minutes, one figure a day, against the limits of the age group.

    `also` are days, from 0, on which there is football of which no minutes are known: they are no rest days.
    Raises ValueError for more or fewer than seven days, or minutes below 0.
    """
    if len(daily_minutes) != 7:
        raise ValueError(f"daily_minutes: a week has 7 days, not {len(daily_minutes)}")
    minutes = [at_least("daily_minutes", value, 0) for value in daily_minutes]
    hours, days = sum(minutes) / 60, sum(1 for day, value in enumerate(minutes) if value > 0 or day in also)
    most, least = limits.hours_most, limits.rest_days_least
    found: list[PlanningReason] = []
    if most is not None and hours > most:
        found.append(reason("hours_over_age", hours=hours, over=hours - most, limit=most))
    if least is not None and 7 - days < least:
        found.append(reason("rest_days_short", rest_days=7 - days, wanted=least))
    return Volume(hours, days, 7 - days, tuple(found))


def match_minutes(played: Iterable[MatchPlayed], limits: WeekLimits) -> tuple[PlanningReason, ...]:
    """Each day on which one player's match minutes, all matches of the day together, are more than the figure in force.

    A day with a tournament has the figure of a tournament day; where there is none, that of any day. ValueError below 0.
    """
    days: dict[str, list[MatchPlayed]] = {}
    for each in played:
        at_least("minutes", each.minutes, 0)
        days.setdefault(each.day, []).append(each)
    found = []
    for day, games in days.items():
        tournament = any(each.tournament for each in games)
        limit = (limits.tournament_day if tournament else None) or limits.match_day
        minutes = sum(each.minutes for each in games)
        if limit is not None and minutes > limit.most + 1e-9:
            over = float(minutes - limit.most)
            code = "match_minutes_over_tournament" if limit is limits.tournament_day else "match_minutes_over"
            clear = reason("clear_match_minutes", over=over)
            found.append(
                reason(
                    code,
                    clears=(clear,),
                    day=day,
                    minutes=float(minutes),
                    over=float(over),
                    limit=float(limit.most),
                    source=limit.source,
                )
            )
    return tuple(found)
