"""What teams were taught between two days: minutes on each theme, done and planned. No names of anybody."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Annotated
from uuid import UUID

import msgspec
from django.utils.translation import gettext as _
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from msgspec import Meta
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club import queries as club
from club import reading
from club.access import STAFF
from club.api_described import Described, answer
from club.errors import FieldProblem, Refused
from sessions.pages.block.taught import TeamTaught, coverage

MOST_DAYS = 400
USUAL = timedelta(days=49)


class ThemeMinutesOut(msgspec.Struct, frozen=True, kw_only=True):
    """A part's minutes count whole for every theme of its drill; `done` as run, `planned` still to come."""

    theme: str
    title: str
    done_min: float
    planned_min: float


class TeamCoverageOut(msgspec.Struct, frozen=True, kw_only=True):
    squad: UUID
    name: str
    age_group: str
    minutes_done: float
    minutes_planned: float
    themes: list[ThemeMinutesOut]


class CoverageOut(msgspec.Struct, frozen=True, kw_only=True):
    first: Annotated[date, Meta(description="Both days are included.")]
    last: date
    teams: list[TeamCoverageOut]


class CoverageView(APIView):
    """The teams whose weeks the asker may see."""

    who_may = STAFF

    @extend_schema(
        operation_id="coverage_retrieve",
        parameters=[
            OpenApiParameter("from", OpenApiTypes.DATE, description="Seven weeks before `to` when not said."),
            OpenApiParameter("to", OpenApiTypes.DATE, description="Today when not said."),
        ],
        responses=Described(CoverageOut),
    )
    def get(self, request: Request) -> Response:
        last = _day(request.query_params, "to", club.today())
        first = _day(request.query_params, "from", last - USUAL + timedelta(days=1))
        if last < first:
            raise Refused(_("The last day is before the first."), "to")
        if (last - first).days >= MOST_DAYS:
            raise Refused(
                [FieldProblem("from", _("At most {most_days} days at once.").format(most_days=MOST_DAYS))]
            )
        rows = coverage(request.actor, first, last)
        return answer(CoverageOut(first=first, last=last, teams=[_team(each) for each in rows]))


def _team(row: TeamTaught) -> TeamCoverageOut:
    return TeamCoverageOut(
        squad=row.team.public_id,
        name=row.team.name,
        age_group=row.team.age_group_label,
        minutes_done=round(row.done, 1),
        minutes_planned=round(row.planned, 1),
        themes=[
            ThemeMinutesOut(
                theme=theme.key,
                title=theme.title,
                done_min=round(each.done, 1),
                planned_min=round(each.planned, 1),
            )
            for theme, each in row.themes
        ],
    )


def _day(params: Mapping[str, str], name: str, usual: date) -> date:
    text = params.get(name, "")
    found = reading.day(text) if text else usual
    if found is None:
        raise Refused(_("A day, please: 2026-03-02."), name)
    return found
