"""Sessions in small: a tile with its section and what it counts for, for lists and weeks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club import queries as club
from sessions import bridge
from sessions.choices import STILL_TO_COME, TOOK_PLACE, State
from sessions.pictures.section import plan_and_section
from sessions.planning.plan import SessionPlan
from sessions.queries.counted import counted, factor_at_hand
from sessions.queries.guides import goes_by_load
from sessions.queries.outline import part_title
from sessions.queries.rows import place_words, staff_rows_of

if TYPE_CHECKING:
    from sessions.models import TrainingSession


@dataclass(frozen=True)
class SessionTile:
    """One session with its section in small; AU that its week counts, None for age groups that are looked after without."""

    row: TrainingSession
    title: str
    place: str
    people: list[str]
    minutes: int
    expected_au: float | None
    budget_au: int | None
    picture: SafeString | None
    has_parts: bool

    @property
    def is_over(self) -> bool:
        return self.budget_au is not None and (self.expected_au or 0) > self.budget_au

    @property
    def over_au(self) -> float:
        return (self.expected_au or 0) - (self.budget_au or 0)

    @property
    def is_empty(self) -> bool:
        """Planned, but nothing in it yet."""
        return self.row.state in STILL_TO_COME and not self.has_parts

    @property
    def is_to_come(self) -> bool:
        return self.row.state in STILL_TO_COME

    @property
    def took_place(self) -> bool:
        return self.row.state in TOOK_PLACE

    @property
    def is_off(self) -> bool:
        return self.row.state == State.CANCELLED


def small_plan(session: TrainingSession) -> SessionPlan:
    """A session's plan without documents: enough for its section and its load."""
    settings = club.club_settings()
    parts = [bridge.part_of(each, title=part_title(each)) for each in session.parts.all()]
    return bridge.plan_of(session, parts, zone=settings.time_zone, clear_minutes=settings.clear_minutes)


def tiles(
    sessions: Iterable[TrainingSession], *, prefix: str = "", pictures: bool = True
) -> list[SessionTile]:
    """Sessions in small, from rows that are at hand; pictures at one scale where they are asked for. No query."""
    plans = [(each, small_plan(each)) for each in sessions]
    scale = max((plan.minutes for _, plan in plans), default=60)
    return [_tile(each, plan, scale if pictures else None, prefix) for each, plan in plans]


def _tile(
    session: TrainingSession, plan: SessionPlan, minutes_shown: float | None, prefix: str
) -> SessionTile:
    with_au = goes_by_load(session.age_group)
    k = factor_at_hand(session)
    budget = session.age_group.session_load_au if with_au else None
    drawn = _drawn(session, plan, budget, k, minutes_shown, prefix) if plan.parts and minutes_shown else None
    return SessionTile(
        row=session,
        title=str(session),
        place=place_words(session),
        people=[each["name"] for each in staff_rows_of(session)],
        minutes=session.delivered_minutes or bridge.minutes_of(session),
        expected_au=counted(session, k=k).load_au if with_au else None,
        budget_au=budget,
        picture=drawn,
        has_parts=bool(plan.parts),
    )


def _drawn(
    session: TrainingSession,
    plan: SessionPlan,
    budget: int | None,
    k: float,
    minutes_shown: float,
    prefix: str,
) -> SafeString:
    drawn = plan_and_section(
        plan,
        budget_au=float(budget) if budget else None,
        k=k,
        size="small",
        minutes_shown=minutes_shown,
        name=str(session),
        prefix=f"{prefix}s{str(session.public_id)[:8]}-",
        translate=_,
        plural=ngettext,
    )
    return mark_safe(drawn)
