"""A team's week in a coach's words: heavy, usual or light for this team, and the heading that is left. Figures stay in the detail."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import median
from typing import Literal

from sessions.planning.catalogue.headers import MONTH, WEEK
from sessions.planning.headers import HeaderRule, HeadingSoFar
from sessions.planning.load import USUAL_FROM_WEEKS, lighter_usual_heavier
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.shares import share_words
from sessions.planning.trim import NearbyGame

_WORDS = {"lighter": "week_lighter", "usual": "week_usual", "heavier": "week_heavier"}


@dataclass(frozen=True, slots=True)
class WeekAllowance:
    """What a week may hold; None where the club names none. AU only for those who are looked after by load."""

    load_au: float | None = None
    minutes: int | None = None


def is_over(load_au: float | None, minutes: float, limits: WeekAllowance) -> bool:
    """Whether a week stands above its load or its minutes."""
    by_load = load_au is not None and limits.load_au is not None and load_au > limits.load_au + 1e-9
    return by_load or (limits.minutes is not None and minutes > limits.minutes + 1e-9)


def verdict(
    load_au: float | None, minutes: float, limits: WeekAllowance, past: Sequence[float]
) -> PlanningReason:
    """The one sentence on a week: over its limits first, else against the team's own last weeks.

    `load_au` None looks at minutes alone (the youngest); `past` are then minutes, else AU, of weeks with anything on,
    oldest first.
    """
    if load_au is not None and limits.load_au is not None and is_over(load_au, 0, limits):
        over_au = load_au - limits.load_au
        whole, over, most = float(load_au), float(over_au), float(limits.load_au)
        if over >= most:
            return reason("week_over_double", load_au=whole, over_au=over, budget_au=most)
        share = share_words(over, most)
        return reason("week_over", share=share, load_au=whole, over_au=over, budget_au=most)
    if is_over(None, minutes, limits):
        budget = limits.minutes or 0
        clear = reason("clear_week_minutes", over=minutes - budget)
        return reason(
            "week_minutes_over", clears=(clear,), minutes=minutes, over=minutes - budget, budget=budget
        )
    if minutes == 0:
        return reason("week_empty")
    word = lighter_usual_heavier(minutes if load_au is None else load_au, past)
    if word is None:
        return reason("week_too_early", more=max(1, USUAL_FROM_WEEKS - len(past)))
    return reason(_WORDS[word])


def heading_left(rule: HeaderRule | None, so_far: HeadingSoFar) -> tuple[PlanningReason, ...]:
    """What of the guideline's heading is left once all that is done and planned is counted; nothing where no rule names any."""
    if rule is None:
        return ()
    if rule.none:
        return (reason("heading_none"),)
    found = []
    if rule.sessions_per_week is not None:
        found.append(_sessions_left(rule, rule.sessions_per_week - so_far.sessions_this_week, WEEK))
    if rule.sessions_per_month is not None:
        found.append(_sessions_left(rule, rule.sessions_per_month - so_far.sessions_this_month, MONTH))
    if rule.per_week is not None:
        found.append(reason("heading_headers_left", left=max(0, rule.per_week - so_far.headers_this_week)))
    return tuple(found)


def _sessions_left(rule: HeaderRule, left: int, period: str) -> PlanningReason:
    if left <= 0 or rule.per_session is None:
        return reason("heading_used_up", period=period)
    return reason("heading_sessions_left", left=left, period=period, each=rule.per_session)


def usual_match(played: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Minutes and AU that a team's next match may come to: the medians of those of its last ones; 0 where there are none.

    Our own estimate, as a session's is (common practice, no source): medians, so that one odd match says little.
    """
    if not played:
        return 0.0, 0.0
    return median(minutes for minutes, _au in played), median(au for _minutes, au in played)


@dataclass(frozen=True, slots=True)
class OutsideGame:
    """A match or a tournament, from a list of matches or entered by hand."""

    day: date
    kind: Literal["match", "tournament"]
    title: str


def beside(day: date, games: Sequence[OutsideGame]) -> NearbyGame | None:
    """The game that stands nearest to a session: the day before, its own day, the day after; a tournament before a match."""
    around: tuple[tuple[Literal["after", "same", "before"], int], ...] = (
        ("after", -1),
        ("same", 0),
        ("before", 1),
    )
    for kind in ("tournament", "match"):
        for when, days in around:
            for each in games:
                if each.kind == kind and each.day == day + timedelta(days=days):
                    return NearbyGame(when, each.kind, each.title)
    return None
