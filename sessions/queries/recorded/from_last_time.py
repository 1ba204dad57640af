"""What was left at the end of a team's session for its next one."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import OuterRef, Q
from django.db.models.functions import JSONObject

from club import reading
from club.queries.ready_made import ReadySubquery
from sessions.choices import State
from sessions.models import TrainingSession


@dataclass(frozen=True)
class FromLastTime:
    """The line, and the session that it was left at."""

    text: str
    session: str
    day: date


def last_time_row() -> ReadySubquery:
    """For each session of a query the line that its team's session before left; nothing where that one left none.

    Only the very next session shows it: what nobody took up then is no news a week later. Cancelled ones don't count.
    """
    before = Q(day__lt=OuterRef("day")) | Q(day=OuterRef("day"), starts__lt=OuterRef("starts"))
    rows = TrainingSession.objects.filter(before, squad=OuterRef("squad")).exclude(state=State.CANCELLED)
    row = JSONObject(session="public_id", day="day", text="delivery__next_time__text")
    return ReadySubquery(rows.order_by("-day", "-starts", "-pk").values(row=row)[:1])


def from_last_time(session: Any) -> FromLastTime | None:
    """What the session before left, of one that was read with it (`last_time_row`). No query."""
    row: dict[str, Any] | None = getattr(session, "last_time", None)
    if not row or not row["text"]:
        return None
    day = reading.day(row["day"])
    return FromLastTime(row["text"], row["session"], day) if day else None
