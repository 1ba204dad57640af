"""Where the grids of a session go, over the API."""

from typing import Any
from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import STAFF
from sessions import access, pages, queries
from sessions.api import answers


class GridOut(serializers.Serializer):
    """A grid in its place: metres from the lower-left corner of its space, paces from the named corner."""

    name = serializers.CharField(
        help_text="The part's number, with a letter or a number for each of several."
    )
    title = serializers.CharField()
    space = serializers.CharField()
    x_m = serializers.FloatField()
    y_m = serializers.FloatField()
    length_m = serializers.FloatField()
    width_m = serializers.FloatField()
    turned = serializers.IntegerField(help_text="Quarter turns to the left.")
    corner = serializers.CharField()
    paces_along = serializers.IntegerField()
    paces_in = serializers.IntegerField()


class PartOnGround(serializers.Serializer):
    number = serializers.IntegerField()
    title = serializers.CharField()
    grids = GridOut(many=True)
    laying = serializers.CharField(help_text="What stands already, and what is laid when; empty for nothing.")
    run_off_m = serializers.FloatField(
        help_text="Kept from fences, walls and fixed goals, the least along and across the space."
    )
    reasons = serializers.ListField(child=serializers.DictField())


class SpaceOut(serializers.Serializer):
    name = serializers.CharField()
    length_m = serializers.FloatField()
    width_m = serializers.FloatField()


class GroundOut(serializers.Serializer):
    pace_m = serializers.FloatField()
    spaces = SpaceOut(many=True)
    parts = PartOnGround(many=True)
    pace = serializers.ListField(child=serializers.CharField())
    reasons = serializers.ListField(child=serializers.DictField())


class SessionGround(APIView):
    """The grids of a session on what is booked."""

    who_may = STAFF

    @extend_schema(operation_id="sessions_ground", responses=GroundOut)
    def get(self, request: Request, public_id: UUID) -> Response:
        """Which grid goes where, where to pace from, what is laid when; or what does not fit, and why."""
        session = access.session_for_reading(request.actor, public_id)
        found = pages.session_ground(queries.session_view(session, k=1.0, judged=False))
        nothing = {"pace_m": 0.0, "spaces": [], "parts": [], "pace": [], "reasons": []}
        return Response(GroundOut(_plain(found) if found else nothing).data)


def _plain(found: Any) -> dict[str, Any]:
    return {
        "pace_m": found.pace_m,
        "spaces": [
            {"name": each.space.key, "length_m": each.space.length_m, "width_m": each.space.width_m}
            for each in found.plans
        ],
        "parts": [_part(each) for each in found.parts],
        "pace": found.pace,
        "reasons": answers.reasons(found.reasons),
    }


def _part(part: Any) -> dict[str, Any]:
    return {
        "number": part.number,
        "title": part.title,
        "grids": [_grid(each) for each in part.grids],
        "laying": part.laying,
        "run_off_m": part.kept.layout.margins.least_m,
        "reasons": answers.reasons(part.reasons),
    }


def _grid(grid: Any) -> dict[str, Any]:
    placed = grid.placed
    return {
        "name": grid.label,
        "title": grid.title,
        "space": placed.space,
        "x_m": placed.grid.x_m,
        "y_m": placed.grid.y_m,
        "length_m": placed.grid.length_m,
        "width_m": placed.grid.width_m,
        "turned": placed.turned,
        "corner": placed.corner,
        "paces_along": grid.paces[0],
        "paces_in": grid.paces[1],
    }
