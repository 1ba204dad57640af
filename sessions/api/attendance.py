"""Who came over the API: a team's sessions with their counts, and its players for whoever may read names."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any
from uuid import UUID

import msgspec
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.utils.text import slugify
from django.utils.translation import gettext as _
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from msgspec import Meta
from rest_framework.negotiation import DefaultContentNegotiation
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club import queries as club
from club import reading
from club.access import STAFF, sees_names
from club.actions import note_reading
from club.api_described import Clock, Described, one_of, plain, shaped
from club.api_tools import PAGING, FileRenderer, paged
from club.choices import NamesOn
from club.errors import FieldProblem, Refused
from sessions import access, pages
from sessions.api.csv_file import CONTENT_TYPE, MEDIA_TYPE, csv_bytes
from sessions.api.happened import rounded
from sessions.choices import Attendance
from sessions.queries.recorded.attendance import Column, PlayerCounts, TeamAttendance

WORDS = (*Attendance.values, pages.NOT_MARKED)


class CsvRenderer(FileRenderer):
    media_type = MEDIA_TYPE
    format = "csv"


class MarkOut(msgspec.Struct, frozen=True, kw_only=True):
    """A player at a session. `minutes` taking part; null while the session runs, and for who was not marked."""

    player: UUID
    as_guest: bool
    mark: Annotated[str, one_of(WORDS)]
    minutes: float | None


class AttendanceSession(msgspec.Struct, frozen=True, kw_only=True):
    """A session that was, or that `runs`. `came` of `listed` are the team's own, watching included.

    `taken`: somebody was marked; a session whose register was not taken counts for nobody. `marks` is null without names.
    """

    session: UUID
    day: date
    starts: Clock
    title: str
    runs: bool
    taken: bool
    came: int
    listed: int
    not_marked: int
    guests: int
    marks: list[MarkOut] | None


class AttendancePlayer(msgspec.Struct, frozen=True, kw_only=True):
    """A player over all sessions from `from` to `to`, whichever page of them this is; `not_marked` are among `of`."""

    player: UUID
    display_name: str
    shirt: int | None
    as_guest: bool
    team: Annotated[str, Meta(description="A guest's own team.")]
    left: Annotated[bool, Meta(description="No longer on the team's list.")]
    came: int
    of: int
    not_marked: int
    minutes: float
    minutes_in_play: Annotated[float, Meta(description="In the rounds of which it is known who played.")]
    minutes_known: Annotated[float, Meta(description="There in those rounds.")]
    share_in_play: Annotated[float | None, Meta(description="Null where it is not known.")]
    last: date | None


class AttendanceShape(msgspec.Struct, frozen=True, kw_only=True):
    """A page of sessions, oldest first, and the players of all of them; `players` is null without names."""

    count: int
    next: str | None
    previous: str | None
    players: list[AttendancePlayer] | None
    results: list[AttendanceSession]


@dataclass(frozen=True)
class Asked:
    """Which team, between which days, both included."""

    squad: Any
    first: date
    last: date


class AttendanceView(APIView):
    """Who came to a team's sessions: those done, and so far those that run."""

    who_may = STAFF
    renderer_classes = [JSONRenderer, CsvRenderer]
    content_negotiation_class = DefaultContentNegotiation

    @extend_schema(
        operation_id="attendance_list",
        parameters=[
            OpenApiParameter("squad", OpenApiTypes.UUID, required=True),
            OpenApiParameter(
                "from", str, description="First day, 2026-03-02; eight weeks before `to` unless said."
            ),
            OpenApiParameter("to", str, description="Last day; today unless said."),
            *PAGING,
        ],
        responses={
            (200, "application/json"): Described(AttendanceShape),
            (200, MEDIA_TYPE): OpenApiTypes.STR,
        },
    )
    def get(self, request: Request) -> Response | HttpResponse:
        """Counts for readers, names too for the staff of the age group; as CSV for the director. Reading names is noted."""
        asked = _asked(request)
        as_file = request.accepted_renderer.format == CsvRenderer.format
        if as_file and not request.actor.is_director:
            raise PermissionDenied
        names = sees_names(request.actor, asked.squad)
        found = pages.team_attendance(asked.squad, asked.first, asked.last, with_names=names)
        if found.lines:
            note_reading(
                user_id=request.actor.user_id,
                squad_ids=[asked.squad.pk, *found.guest_squads],
                page=NamesOn.ATTENDANCE_FILE if as_file else NamesOn.ATTENDANCE_API,
            )
        return _file(asked, found) if as_file else self._list(request, found, names)

    def _list(self, request: Request, found: Any, names: bool) -> Response:
        whole = list(enumerate(found.columns))
        page = paged(self, request, whole, lambda each: _session(found, *each, names=names))
        page.data["players"] = plain([_player(each) for each in found.lines]) if names else None
        return page


def _asked(request: Request) -> Asked:
    """What the address asks for. Raises Refused with the parameter that can't be read, or 404 for another's team."""
    last = _day(request.query_params, "to", club.today())
    first = _day(request.query_params, "from", pages.weeks_back(last))
    squad = reading.outer_id(request.query_params.get("squad"))
    problems = []
    if squad is None:
        problems.append(FieldProblem("squad", _("Which team? Its id, please.")))
    if first > last:
        problems.append(FieldProblem("from", _("The first day is after the last.")))
    if (last - first).days >= pages.MOST_DAYS:
        problems.append(
            FieldProblem("from", _("At most {most_days} days at once.").format(most_days=pages.MOST_DAYS))
        )
    if problems or squad is None:
        raise Refused(problems)
    return Asked(access.squad_for_weeks(request.actor, squad), first, last)


def _day(params: Mapping[str, str], name: str, usual: date) -> date:
    text = params.get(name, "")
    found = reading.day(text) if text else usual
    if found is None:
        raise Refused(_("A day, please: 2026-03-02."), name)
    return found


def _session(found: TeamAttendance, at: int, column: Column, *, names: bool) -> AttendanceSession:
    session, count = column.session, column.count
    marks = [
        shaped(
            MarkOut,
            line.cells[at],
            player=line.public_id,
            as_guest=line.is_guest,
            mark=line.cells[at].word,
        )
        for line in found.lines
        if line.cells[at].word
    ]
    return shaped(
        AttendanceSession,
        session,
        session=session.public_id,
        starts=f"{session.starts:%H:%M}",
        came=count.came,
        listed=count.listed,
        not_marked=count.not_marked,
        guests=count.guests,
        marks=marks if names else None,
    )


def _player(line: PlayerCounts) -> AttendancePlayer:
    return shaped(
        AttendancePlayer,
        line.count,
        player=line.public_id,
        display_name=line.name,
        shirt=line.shirt,
        team=line.team,
        left=line.left,
        minutes=round(line.count.minutes, 1),
        minutes_in_play=round(line.count.in_play_min, 1),
        minutes_known=round(line.count.known_min, 1),
        share_in_play=rounded(line.count.share),
    )


def _file(asked: Asked, found: Any) -> HttpResponse:
    name = (
        f"attendance-{slugify(asked.squad.name) or 'team'}-{asked.first:%Y-%m-%d}-{asked.last:%Y-%m-%d}.csv"
    )
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    table = pages.table_of(asked.squad, found)
    return HttpResponse(csv_bytes(table), content_type=CONTENT_TYPE, headers=headers)
