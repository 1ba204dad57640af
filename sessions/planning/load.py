"""Session load in arbitrary units (AU): CR10 × minutes, planned, expected and actual; weeks and trends.

Source of the measure: Foster et al. 2001, J Strength Cond Res 15(1):109–115. We show load and its trend, never a "risk":
the ratio of short- to long-term load is disputed (Impellizzeri et al. 2020, J Athl Train 55(9):893–901).

A number below 0, or a CR10 outside 0 to 10, is a ValueError that names its field.
"""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, Protocol

from sessions.planning.numbers import at_least, cr10, whole

DAYS_IN_WEEK = 7
# How hard a changeover and a match count, and how much must be known before a figure says something: common practice, no source.
CHANGEOVER_CR10 = 1.0
MATCH_CR10 = 6.0
LAST_SESSIONS = 8
FIRST_FACTOR_SESSION = 4
FLAG_SHARE = 0.25
DETAIL_FROM_DAY = 28
OWN_FIGURE_WEEKS = 6
USUAL_FROM_WEEKS = 3

Word = Literal["lighter", "usual", "heavier"]


class Effort(Protocol):
    """Anything with minutes and a CR10 for the whole of them."""

    @property
    def minutes(self) -> float:
        """With its rests."""

    @property
    def cr10(self) -> float:
        """From 0 to 10, of the whole with its rests."""


@dataclass(frozen=True, slots=True)
class PlannedLoad:
    """Planned load in AU: of each part, of the changeovers together, and of the session."""

    parts_au: tuple[float, ...]
    changeovers_au: float
    total_au: float


@dataclass(frozen=True, slots=True)
class DeliveredLoad:
    """Load of a delivered session in AU; `estimated` where nobody rated it and the expected load stands in."""

    load_au: float
    estimated: bool


@dataclass(frozen=True, slots=True)
class Week:
    """Seven daily loads summed up, in AU; monotony is a ratio. Monotony and strain are None where undefined (SD of 0)."""

    total: float
    mean: float
    sd: float
    monotony: float | None
    strain: float | None


@dataclass(frozen=True, slots=True)
class Detail:
    """What the director sees beside the words: short and long exponentially weighted loads, in AU a day."""

    week: Week
    short_au: float
    long_au: float


def planned(parts: Sequence[Effort], changeover_minutes: Sequence[float] = ()) -> PlannedLoad:
    """Planned load in AU: CR10 of each part (rests included) × its minutes, changeovers at `CHANGEOVER_CR10`, all summed.

    `parts_au` of the answer are in the order of `parts`.
    """
    parts_au = tuple(cr10("cr10", part.cr10) * at_least("minutes", part.minutes, 0) for part in parts)
    changeovers_au = CHANGEOVER_CR10 * sum(at_least("changeover_minutes", m, 0) for m in changeover_minutes)
    return PlannedLoad(parts_au, changeovers_au, sum(parts_au) + changeovers_au)


def expected(plan_au: float, k: float = 1.0) -> float:
    """What one rating of the whole session will probably come to, in AU: plan × k, with k of `squad_factor`."""
    return at_least("plan_au", plan_au, 0) * at_least("k", k, 0)


def squad_factor(actual_over_plan: Sequence[float]) -> float:
    """k: median of actual ÷ plan over the last 8 delivered sessions, oldest first; 1.0 before the fourth.

    How many sessions are common practice, no source.
    """
    ratios = [at_least("actual_over_plan", ratio, 0) for ratio in actual_over_plan]
    if len(ratios) < FIRST_FACTOR_SESSION:
        return 1.0
    return statistics.median(ratios[-LAST_SESSIONS:])


def actual(rating: float, minutes: float) -> float:
    """Rating (CR10) × minutes of taking part, from joining to leaving, in AU."""
    return cr10("rating", rating) * at_least("minutes", minutes, 0)


def delivered(rating: float | None, minutes: float, expected_au: float) -> DeliveredLoad:
    """Actual load in AU (see `actual`); without a rating the expected one, marked as estimated, never 0."""
    if rating is None:
        return DeliveredLoad(at_least("expected_au", expected_au, 0), estimated=True)
    return DeliveredLoad(actual(rating, minutes), estimated=False)


def week(daily_loads: Sequence[float]) -> Week:
    """Total, monotony (mean ÷ population SD) and strain (total × monotony) of seven daily loads in AU.

    Source: Foster 1998, MSSE 30(7):1164–1168. No source says which SD is meant; ours is the population's, and the sample's
    is sqrt(7/6) times as large. Seven equal days have no spread: monotony is undefined. Raises ValueError for more or fewer
    than seven days.
    """
    if len(daily_loads) != DAYS_IN_WEEK:
        raise ValueError(f"daily_loads: a week has 7 days, not {len(daily_loads)}")
    loads = [float(at_least("daily_loads", load, 0)) for load in daily_loads]
    total, mean, sd = sum(loads), statistics.fmean(loads), statistics.pstdev(loads)
    if sd == 0:
        return Week(total, mean, 0.0, None, None)
    return Week(total, mean, sd, mean / sd, total * mean / sd)


def ewma(daily_loads: Sequence[float], days: int) -> tuple[float, ...]:
    """Exponentially weighted load of each day in AU: λ·today + (1−λ)·yesterday, λ = 2/(days+1), seeded with day 1.

    One value per day, oldest first. Source: Williams et al. 2017, BJSM 51(3):209 (7 and 28 days; exact form from memory,
    not verified).
    """
    share = 2 / (whole("days", days, 1) + 1)
    weighted: list[float] = []
    for load in daily_loads:
        today = float(at_least("daily_loads", load, 0))
        weighted.append(today if not weighted else share * today + (1 - share) * weighted[-1])
    return tuple(weighted)


def detail(daily_loads: Sequence[float]) -> Detail | None:
    """The director's detail for the last day, oldest day first; None before day 28, when it says nothing yet."""
    if len(daily_loads) < DETAIL_FROM_DAY:
        return None
    return Detail(week(daily_loads[-DAYS_IN_WEEK:]), ewma(daily_loads, 7)[-1], ewma(daily_loads, 28)[-1])


def weekly_target_cr10(under: int) -> float | None:
    """Mean CR10 that a week's training aims at (common practice, no source); None up to U10: no AU budget.

    `under` is the n of "under n".
    """
    whole("under", under, 1)
    if under <= 10:
        return None
    if under <= 12:
        return 4.5
    return 5.0 if under <= 15 else 6.0


def default_weekly_budget(
    *, under: int, sessions: int, minutes: float, match_minutes: float = 0
) -> float | None:
    """Sessions × minutes × target + match minutes × 6, in AU a week; None up to U10.

    `under` is the n of the oldest year group (12 for U12), `minutes` those of one session. Common practice, no source; to be
    replaced by the club's own figure (see `own_weekly_figure`).
    """
    whole("sessions", sessions, 0)
    at_least("minutes", minutes, 0)
    at_least("match_minutes", match_minutes, 0)
    target = weekly_target_cr10(under)
    if target is None:
        return None
    return sessions * minutes * target + match_minutes * MATCH_CR10


def lighter_usual_heavier(week_au: float, past_weeks_au: Sequence[float]) -> Word | None:
    """The coach's word for a week against the median of the squad's own last six; None before three weeks.

    Loads in AU, past weeks oldest first. The ± 25 % around the median are ours, a judgement.
    """
    at_least("week_au", week_au, 0)
    past = [at_least("past_weeks_au", load, 0) for load in past_weeks_au][-OWN_FIGURE_WEEKS:]
    if len(past) < USUAL_FROM_WEEKS:
        return None
    usual_au = statistics.median(past)
    if week_au > usual_au * (1 + FLAG_SHARE):
        return "heavier"
    return "lighter" if week_au < usual_au * (1 - FLAG_SHARE) else "usual"


Outcome = Literal["easier than planned", "as planned", "harder than planned"]


def against_plan(actual_au: float, expected_au: float) -> Outcome:
    """How a session was against what was expected of it, both in AU; flagged only outside ± 25 % (ours, a judgement)."""
    at_least("actual_au", actual_au, 0)
    at_least("expected_au", expected_au, 0)
    if actual_au > expected_au * (1 + FLAG_SHARE):
        return "harder than planned"
    if actual_au < expected_au * (1 - FLAG_SHARE):
        return "easier than planned"
    return "as planned"


def own_weekly_figure(weekly_loads: Sequence[float]) -> float | None:
    """The club's own figure to offer in place of the default, in AU: median of the last six weeks; None before six.

    Weeks oldest first.
    """
    loads = [at_least("weekly_loads", load, 0) for load in weekly_loads]
    if len(loads) < OWN_FIGURE_WEEKS:
        return None
    return float(statistics.median(loads[-OWN_FIGURE_WEEKS:]))
