"""Planned headers against the guideline the club chose. Advice with its source, never a permit."""

from __future__ import annotations

from dataclasses import dataclass

from sessions.planning.account import account
from sessions.planning.numbers import at_least, whole
from sessions.planning.plan import SessionPlan
from sessions.planning.reasons import PlanningReason, reason


@dataclass(frozen=True, slots=True)
class HeaderRule:
    """Limits of heading in training; None is "no limit named". `none` forbids it altogether.

    Counts are headers per player; minutes are minutes of heading practice per week.
    """

    source: str
    none: bool = False
    per_session: int | None = None
    per_week: int | None = None
    sessions_per_week: int | None = None
    sessions_per_month: int | None = None
    minutes_per_week: float | None = None


@dataclass(frozen=True, slots=True)
class HeadingSoFar:
    """What the squad has headed already, this session left out: sessions with heading, headers of one player, minutes."""

    sessions_this_week: int = 0
    sessions_this_month: int = 0
    headers_this_week: int = 0
    minutes_this_week: float = 0.0


def planned_headers(plan: SessionPlan) -> int:
    """Headers that one player is planned to make in the session."""
    return account(plan).headers


def header_reasons(
    plan: SessionPlan, rule: HeaderRule, so_far: HeadingSoFar | None = None
) -> tuple[PlanningReason, ...]:
    """Where the plan asks for more heading than the guideline; empty when no heading is planned.

    Each beside the part with the most headers, with the amount over the limit and what would clear it; where the guideline
    allows none, beside every part with heading.
    """
    planned = planned_headers(plan)
    if not planned:
        return ()
    heading_parts = [part for part in plan.parts if part.headers_per_player]
    if rule.none:
        return tuple(
            reason(
                "headers_none",
                part.key,
                (reason("clear_heading", part.key),),
                planned=part.headers_per_player,
            )
            for part in heading_parts
        )
    beside = max(heading_parts, key=lambda part: part.headers_per_player).key
    minutes = sum(part.minutes for part in heading_parts)
    done = so_far or HeadingSoFar()
    return (
        *_over("headers_over", beside, planned, rule.per_session),
        *_over("headers_week_over", beside, planned + done.headers_this_week, rule.per_week),
        *_over("headers_minutes_over", beside, minutes + done.minutes_this_week, rule.minutes_per_week),
        *_too_often(beside, done.sessions_this_week + 1, rule.sessions_per_week, "week"),
        *_too_often(beside, done.sessions_this_month + 1, rule.sessions_per_month, "month"),
    )


def _over(code: str, part: str, planned: float, limit: float | None) -> list[PlanningReason]:
    if limit is None or planned <= at_least("limit", limit, 0):
        return []
    clear = reason("clear_headers_less", part, over=planned - limit)
    return [reason(code, part, (clear,), planned=planned, limit=limit, over=planned - limit)]


def _too_often(part: str, sessions: int, limit: int | None, period: str) -> list[PlanningReason]:
    if limit is None or sessions <= whole("limit", limit, 0):
        return []
    clear = reason("clear_heading", part)
    return [reason("headers_sessions_over", part, (clear,), planned=sessions, limit=limit, period=period)]
