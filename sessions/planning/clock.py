"""Clock times of a session: every bout and rest, the changeovers, set-up and clearing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Literal

from sessions.planning.numbers import at_least
from sessions.planning.plan import PlannedPart, SessionPlan
from sessions.planning.reasons import PlanningReason, reason


@dataclass(frozen=True, slots=True)
class ClockSpell:
    """One bout or rest, from–to; rests carry the number of the bout before them."""

    kind: Literal["bout", "rest"]
    number: int
    starts_at: datetime
    ends_at: datetime

    @property
    def clock_text(self) -> str:
        """From when to when: "18:05–18:09"."""
        return f"{clock_text(self.starts_at)}–{clock_text(self.ends_at)}"


@dataclass(frozen=True, slots=True)
class PartTimes:
    """One part on the clock; its changeover lies before `starts_at`."""

    key: str
    number: int
    starts_at: datetime
    ends_at: datetime
    spells: tuple[ClockSpell, ...]
    reasons: tuple[PlanningReason, ...]


@dataclass(frozen=True, slots=True)
class Timetable:
    """A session on the clock. Clearing begins at `clear_from`; `clear_by` is when the minutes are over."""

    set_up_from: datetime
    starts_at: datetime
    parts: tuple[PartTimes, ...]
    clear_from: datetime
    clear_by: datetime
    reasons: tuple[PlanningReason, ...]


def later(moment: datetime, by: timedelta) -> datetime:
    """So much later in time that passes, on the same place's clock.

    Adding to a local time moves its hands alone, and is an hour off where the clocks change meanwhile.
    """
    return moment + by if moment.tzinfo is None else (moment.astimezone(UTC) + by).astimezone(moment.tzinfo)


def clock_text(moment: datetime) -> str:
    """Hours and minutes, 24 h; seconds only where they are not zero."""
    return f"{moment:%H:%M:%S}" if moment.second else f"{moment:%H:%M}"


def spells(part: PlannedPart, starts_at: datetime) -> tuple[ClockSpell, ...]:
    """The part's bouts and the rests between them, from its start time."""
    found: list[ClockSpell] = []
    moment = starts_at
    for number in range(1, part.bouts + 1):
        ends_at = later(moment, timedelta(seconds=part.bout_length_s))
        found.append(ClockSpell("bout", number, moment, ends_at))
        moment = ends_at
        if part.rest_s and number < part.bouts:
            moment = later(ends_at, timedelta(seconds=part.rest_s))
            found.append(ClockSpell("rest", number, ends_at, moment))
    return tuple(found)


def part_reasons(part: PlannedPart) -> tuple[PlanningReason, ...]:
    """Bouts and rests against the part's minutes, with the amount by which they miss.

    A part has whole minutes and a round may have half ones, so less than a minute over is no remark.
    """
    apart_min = part.bouts_and_rests_s / 60 - part.minutes
    if apart_min > 1e-9:
        clear = reason("clear_bouts", part.key, minutes=part.bouts_and_rests_s / 60)
        return (
            reason(
                "bouts_longer_than_part", part.key, (clear,), over_min=apart_min, minutes=float(part.minutes)
            ),
        )
    if apart_min <= -1:
        return (
            reason(
                "bouts_shorter_than_part", part=part.key, spare_min=-apart_min, minutes=float(part.minutes)
            ),
        )
    return ()


def minutes_reasons(plan: SessionPlan) -> tuple[PlanningReason, ...]:
    """Parts, changeovers and clearing against the session's minutes; over is a fault, spare a remark.

    What is over stands beside the last part, which runs over the end.
    """
    apart_min = plan.used_minutes - plan.minutes
    if apart_min > 1e-9:
        last = plan.parts[-1].key if plan.parts else None
        clear = reason("clear_over_minutes", last, over_min=apart_min)
        return (
            reason("session_over_minutes", last, (clear,), over_min=apart_min, minutes=float(plan.minutes)),
        )
    if apart_min < -1e-9:
        return (reason("session_spare_minutes", spare_min=-apart_min, minutes=float(plan.minutes)),)
    return ()


def timetable(
    plan: SessionPlan, *, set_up_minutes: float = 0, free_from: datetime | None = None
) -> Timetable:
    """Put a plan on the clock. ValueError if it has no start.

    `free_from` is when the space becomes free: set-up is possible from then at the earliest.
    """
    if plan.starts_at is None:
        raise ValueError("starts_at: the plan has no start time")
    moment, parts = plan.starts_at, []
    for number, part in enumerate(plan.parts, start=1):
        begins = later(moment, timedelta(seconds=part.changeover_s))
        ends = later(begins, timedelta(minutes=part.minutes))
        parts.append(PartTimes(part.key, number, begins, ends, spells(part, begins), part_reasons(part)))
        moment = ends
    clear_by = later(plan.starts_at, timedelta(minutes=plan.minutes))
    set_up_from, set_up_reasons = _set_up(plan.starts_at, set_up_minutes, free_from)
    return Timetable(
        set_up_from=set_up_from,
        starts_at=plan.starts_at,
        parts=tuple(parts),
        clear_from=later(clear_by, -timedelta(minutes=plan.clear_minutes)),
        clear_by=clear_by,
        reasons=minutes_reasons(plan) + set_up_reasons,
    )


def _set_up(
    starts_at: datetime, set_up_minutes: float, free_from: datetime | None
) -> tuple[datetime, tuple[PlanningReason, ...]]:
    wanted = later(starts_at, -timedelta(minutes=at_least("set_up_minutes", set_up_minutes, 0)))
    if free_from is None or free_from <= wanted:
        return wanted, ()
    free_min = max(0.0, (starts_at - free_from).total_seconds() / 60)
    clear = reason("clear_set_up_before", short_min=set_up_minutes - free_min)
    late = reason("set_up_too_short", None, (clear,), set_up_min=float(set_up_minutes), free_min=free_min)
    return min(free_from, starts_at), (late,)
