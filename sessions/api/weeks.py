"""The load ledger of an age group's week."""

from collections.abc import Sequence
from datetime import date
from typing import Annotated, Any
from uuid import UUID

import msgspec
from django.http import Http404
from drf_spectacular.utils import extend_schema
from msgspec import Meta
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club import reading
from club.access import STAFF
from club.api_described import Described, answer, shaped
from sessions import access, pages
from sessions.api.reasons import ReasonOut, reasons
from sessions.pages import iso_week
from sessions.planning.load import Detail
from sessions.planning.trim import Kind, Trim
from sessions.queries import LoadWeek, WholeWeek
from sessions.queries.ledger import LedgerLine


class LineOut(msgspec.Struct, frozen=True, kw_only=True):
    day: date
    kind: str
    title: str
    minutes: float
    load_au: float | None
    is_estimated: bool
    is_to_come: bool
    session: UUID | None


class DayOut(msgspec.Struct, frozen=True, kw_only=True):
    day: date
    minutes: float
    load_au: float | None


class WeekDetailOut(msgspec.Struct, frozen=True, kw_only=True):
    """Null where undefined: seven equal days have no spread. The last two are loads a day, of 7 and of 28 days."""

    monotony: float | None
    strain: float | None
    short_au: float
    long_au: float


class ChangeOut(msgspec.Struct, frozen=True, kw_only=True):
    text: str
    kind: Kind
    size: Annotated[int, Meta(description="Rounds, variations, minutes, parts or sessions, by kind.")]
    session: UUID
    part: UUID | None
    saving_au: float


class WayOut(msgspec.Struct, frozen=True, kw_only=True):
    """One way to bring the week under: the least changes, or the least with a session left out."""

    saving_au: float
    left_over_au: Annotated[float, Meta(description="0 where it is enough.")]
    changes: list[ChangeOut]


class SquadWeekOut(msgspec.Struct, frozen=True, kw_only=True):
    """A squad's week; no AU for age groups that are looked after by minutes and days."""

    squad: UUID
    name: str
    total_au: float | None
    budget_au: float | None
    over_au: float | None
    minutes: float
    budget_minutes: int | None
    hours: float
    hours_most: Annotated[
        float | None, Meta(description="Organised hours a week at most, by the figure in force.")
    ]
    football_days: int
    rest_days: int
    told: Annotated[str, Meta(description="Heavy, usual or light for this team, in words.")]
    word: str | None
    heading_left: Annotated[list[str], Meta(description="All that is done and planned counted.")]
    detail: Annotated[WeekDetailOut | None, Meta(description="For the director alone, from day 28 on.")]
    lighter: Annotated[list[WayOut], Meta(description="Empty where the week is not over its load.")]
    days: list[DayOut]
    lines: list[LineOut]
    reasons: list[ReasonOut]


class AgeGroupWeekOut(msgspec.Struct, frozen=True, kw_only=True):
    age_group: UUID
    label: str
    week: str
    monday: date
    squads: list[SquadWeekOut]


class AgeGroupWeekView(APIView):
    """A week of each squad of an age group against its budget. No players' names."""

    who_may = STAFF

    @extend_schema(operation_id="age_groups_weeks_retrieve", responses=Described(AgeGroupWeekOut))
    def get(self, request: Request, public_id: UUID, iso_week: str) -> Response:
        group = access.age_group_for_weeks(request.actor, public_id)
        monday = reading.monday(iso_week)
        if monday is None:
            raise Http404
        return answer(_week(group, monday, pages.age_group_week(request.actor, group, monday)))


def _week(
    group: Any, monday: date, squads: Sequence[tuple[Any, WholeWeek, Detail | None]]
) -> AgeGroupWeekOut:
    return AgeGroupWeekOut(
        age_group=group.public_id,
        label=group.label,
        week=iso_week(monday),
        monday=monday,
        squads=[_squad(squad, week, detail) for squad, week, detail in squads],
    )


def _squad(squad: Any, whole: WholeWeek, detail: Detail | None) -> SquadWeekOut:
    week, with_au = whole.load, whole.load.with_au
    return shaped(
        SquadWeekOut,
        week,
        squad=squad.public_id,
        name=squad.name,
        total_au=_au(week.total_au, with_au),
        over_au=_au(week.over_au, with_au),
        hours=round(week.hours, 2),
        football_days=week.days,
        told=week.told.text,
        heading_left=[each.text for each in whole.heading],
        detail=_detail(detail) if detail else None,
        lighter=[_way(each) for each in whole.lighter],
        days=_days(week, with_au),
        lines=[_line(each, with_au) for each in week.lines],
        reasons=reasons(whole.reasons),
    )


def _detail(found: Detail) -> WeekDetailOut:
    return WeekDetailOut(
        monotony=found.week.monotony,
        strain=found.week.strain,
        short_au=round(found.short_au, 1),
        long_au=round(found.long_au, 1),
    )


def _way(way: Trim) -> WayOut:
    changes = [
        shaped(
            ChangeOut,
            each,
            text=each.reason(way.over_au).text,
            part=each.part or None,
            saving_au=round(each.saving_au, 1),
        )
        for each in way.changes
    ]
    return WayOut(saving_au=round(way.saving_au, 1), left_over_au=round(way.left_over_au, 1), changes=changes)


def _days(week: LoadWeek, with_au: bool) -> list[DayOut]:
    return [
        DayOut(day=day, minutes=minutes, load_au=_au(au, with_au))
        for day, minutes, au in zip(week.week_days, week.daily_minutes, week.daily_au, strict=True)
    ]


def _line(line: LedgerLine, with_au: bool) -> LineOut:
    return shaped(LineOut, line, load_au=_au(line.load_au, with_au), session=line.session_id or None)


def _au(au: float, with_au: bool) -> float | None:
    """A load to a tenth; none for the youngest."""
    return round(au, 1) if with_au else None
