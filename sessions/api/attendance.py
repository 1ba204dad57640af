"""Who came over the API: a team's sessions with their counts, and its players for whoever may read names."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.utils.text import slugify
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_serializer
from rest_framework import serializers
from rest_framework.negotiation import DefaultContentNegotiation
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club import queries as club
from club import reading
from club.access import STAFF, sees_names
from club.actions import note_reading
from club.api_tools import FileRenderer, Pages
from club.choices import NamesOn
from club.errors import FieldProblem, Refused
from sessions import access, pages
from sessions.api.csv_file import CONTENT_TYPE, MEDIA_TYPE, csv_bytes
from sessions.choices import Attendance as Word

WORDS = (*Word.values, pages.NOT_MARKED)


class CsvRenderer(FileRenderer):
    media_type = MEDIA_TYPE
    format = "csv"


class MarkOut(serializers.Serializer):
    """A player at a session. `minutes` taking part; null while the session runs, and for who was not marked."""

    player = serializers.UUIDField()
    as_guest = serializers.BooleanField()
    mark = serializers.ChoiceField(choices=WORDS)
    minutes = serializers.FloatField(allow_null=True)


@extend_schema_serializer(component_name="AttendanceSession")
class AttendedOut(serializers.Serializer):
    """A session that was, or that `runs`. `came` of `listed` are the team's own, watching included.

    `taken`: somebody was marked; a session whose register was not taken counts for nobody. `marks` is null without names.
    """

    session = serializers.UUIDField()
    day = serializers.DateField()
    starts = serializers.TimeField(format="%H:%M")
    title = serializers.CharField()
    runs = serializers.BooleanField()
    taken = serializers.BooleanField()
    came = serializers.IntegerField()
    listed = serializers.IntegerField()
    not_marked = serializers.IntegerField()
    guests = serializers.IntegerField()
    marks = MarkOut(many=True, allow_null=True)


@extend_schema_serializer(component_name="AttendancePlayer")
class AttendingOut(serializers.Serializer):
    """A player over all sessions from `from` to `to`, whichever page of them this is; `not_marked` are among `of`."""

    player = serializers.UUIDField()
    display_name = serializers.CharField()
    shirt = serializers.IntegerField(allow_null=True)
    as_guest = serializers.BooleanField()
    team = serializers.CharField(allow_blank=True, help_text="A guest's own team.")
    left = serializers.BooleanField(help_text="No longer on the team's list.")
    came = serializers.IntegerField()
    of = serializers.IntegerField()
    not_marked = serializers.IntegerField()
    minutes = serializers.FloatField()
    minutes_in_play = serializers.FloatField(help_text="In the rounds of which it is known who played.")
    minutes_known = serializers.FloatField(help_text="There in those rounds.")
    share_in_play = serializers.FloatField(allow_null=True, help_text="Null where it is not known.")
    last = serializers.DateField(allow_null=True)


@extend_schema_serializer(component_name="Attendance")
class AttendanceOut(serializers.Serializer):
    """A page of sessions, oldest first, and the players of all of them; `players` is null without names."""

    count = serializers.IntegerField()
    next = serializers.URLField(allow_null=True)
    previous = serializers.URLField(allow_null=True)
    players = AttendingOut(many=True, allow_null=True)
    results = AttendedOut(many=True)


@dataclass(frozen=True)
class Asked:
    """Which team, between which days, both included."""

    squad: Any
    first: date
    last: date


class Attendance(APIView):
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
            OpenApiParameter("page", int),
            OpenApiParameter("page_size", int),
        ],
        responses={(200, "application/json"): AttendanceOut, (200, MEDIA_TYPE): OpenApiTypes.STR},
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
        paging = Pages()
        whole = list(enumerate(found.columns))
        shown = paging.paginate_queryset(whole, request, view=self) or []  # type: ignore[type-var]
        answer: Any = paging.get_paginated_response(
            AttendedOut([_session(found, at, column, names) for at, column in shown], many=True).data
        )
        players = AttendingOut([_player(each) for each in found.lines], many=True).data if names else None
        answer.data["players"] = players
        return answer


def _asked(request: Request) -> Asked:
    """What the address asks for. Raises Refused with the parameter that can't be read, or 404 for another's team."""
    last = _day(request.query_params, "to", club.today())
    first = _day(request.query_params, "from", pages.weeks_back(last))
    squad = reading.outer_id(request.query_params.get("squad"))
    problems = []
    if squad is None:
        problems.append(FieldProblem("squad", "Which team? Its id, please."))
    if first > last:
        problems.append(FieldProblem("from", "The first day is after the last."))
    if (last - first).days >= pages.MOST_DAYS:
        problems.append(FieldProblem("from", f"At most {pages.MOST_DAYS} days at once."))
    if problems or squad is None:
        raise Refused(problems)
    return Asked(access.squad_for_weeks(request.actor, squad), first, last)


def _day(params: Mapping[str, str], name: str, usual: date) -> date:
    text = params.get(name, "")
    found = reading.day(text) if text else usual
    if found is None:
        raise Refused("A day, please: 2026-03-02.", name)
    return found


def _session(found: Any, at: int, column: Any, names: bool) -> dict[str, Any]:
    session, count = column.session, column.count
    marks = [
        {
            "player": line.public_id,
            "as_guest": line.is_guest,
            "mark": line.cells[at].word,
            "minutes": line.cells[at].minutes,
        }
        for line in found.lines
        if line.cells[at].word
    ]
    figures = ("came", "listed", "not_marked", "guests")
    return {
        "session": session.public_id,
        **{name: getattr(session, name) for name in ("day", "starts", "title", "runs", "taken")},
        **{name: getattr(count, name) for name in figures},
        "marks": marks if names else None,
    }


def _player(line: Any) -> dict[str, Any]:
    figures = ("came", "of", "not_marked", "last", "as_guest")
    return {
        "player": line.public_id,
        "display_name": line.name,
        **{name: getattr(line, name) for name in ("shirt", "team", "left")},
        **{name: getattr(line.count, name) for name in figures},
        "minutes": round(line.count.minutes, 1),
        "minutes_in_play": round(line.count.in_play_min, 1),
        "minutes_known": round(line.count.known_min, 1),
        "share_in_play": None if line.count.share is None else round(line.count.share, 3),
    }


def _file(asked: Asked, found: Any) -> HttpResponse:
    name = (
        f"attendance-{slugify(asked.squad.name) or 'team'}-{asked.first:%Y-%m-%d}-{asked.last:%Y-%m-%d}.csv"
    )
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    table = pages.table_of(asked.squad, found)
    return HttpResponse(csv_bytes(table), content_type=CONTENT_TYPE, headers=headers)
