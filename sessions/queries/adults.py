"""The adults of a session: who counts, and who does not, and why. Everything that counts adults reads this."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from club import reading
from club.queries.vetting import NotCounted, why_not_counted
from sessions.models import TrainingSession
from sessions.planning.reasons import PlanningReason, reason
from sessions.queries.rows import staff_rows_of


@dataclass(frozen=True)
class Uncounted:
    """Somebody who is down for a session and does not count as an adult on its day."""

    id: str
    name: str
    why: NotCounted


@dataclass(frozen=True)
class Adults:
    """`counted` are the ids of those who count: 18 or over, with vetting that holds on the session's day."""

    counted: tuple[str, ...]
    uncounted: tuple[Uncounted, ...]

    @property
    def number(self) -> int:
        return len(self.counted)


def adults_of(session: TrainingSession) -> Adults:
    """Who of those down for a session counts on its day. No query where its rows are at hand."""
    counted, uncounted = [], []
    for row in staff_rows_of(session):
        why = why_not_counted(
            of_age=bool(row["of_age"]), vetting_until=_day(row["vetting_until"]), day=session.day
        )
        if why is None:
            counted.append(str(row["id"]))
        else:
            uncounted.append(Uncounted(str(row["id"]), row["name"], why))
    return Adults(tuple(counted), tuple(uncounted))


def counted_pks(rows: Iterable[Mapping[str, Any]], day: date) -> set[int]:
    """Inner ids of those of some staff rows who count on a day."""
    return {
        row["pk"]
        for row in rows
        if why_not_counted(of_age=bool(row["of_age"]), vetting_until=_day(row["vetting_until"]), day=day)
        is None
    }


def _day(value: Any) -> date | None:
    """A date as the database's JSON holds it."""
    return None if value is None else reading.day(value)


def uncounted_reasons(session: TrainingSession) -> list[PlanningReason]:
    """Who of those down for children does not count, and why; a group of adults looks after itself."""
    if session.age_group.ages.supervised_years is None:
        return []
    clears = (reason("clear_staff_dates"),)
    return [
        reason(f"adult_{each.why}", None, clears, name=each.name) for each in adults_of(session).uncounted
    ]
