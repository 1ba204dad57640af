"""Slots over the API."""

from typing import Any
from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club import queries as club
from club.access import DIRECTOR, STAFF
from club.api_tools import IDEMPOTENCY_KEY, Pages, etag, idempotent, wanted_version
from club.errors import Refused
from sessions import access, actions, queries
from sessions.api import answers, reading, shapes
from sessions.api.sessions import IF_MATCH, checked


class Slots(APIView):
    """Slots that have not ended, and a new one."""

    who_may = {"GET": STAFF, "POST": DIRECTOR}

    @extend_schema(operation_id="slots_list", responses=shapes.SlotOut(many=True))
    def get(self, request: Request) -> Response:
        paging = Pages()
        rows = paging.paginate_queryset(queries.slots_from(club.today()), request, view=self)
        data = [answers.slot(each) for each in rows or []]
        return paging.get_paginated_response(shapes.SlotOut(data, many=True).data)

    @extend_schema(
        operation_id="slots_create",
        parameters=[IDEMPOTENCY_KEY],
        request=shapes.SlotIn,
        responses={201: shapes.SlotOut},
    )
    @idempotent
    def post(self, request: Request) -> Response:
        data = checked(shapes.SlotIn, request)
        squad = reading.one(club.squads(), data.get("squad"), "squad", "There is no such squad this season.")
        if squad is None:
            raise Refused("For which squad?", "squad")
        made = actions.make_slot(squad_id=squad.pk, **_values(data))
        return _answer(queries.slot_by_id(made.public_id), status.HTTP_201_CREATED)


class Slot(APIView):
    """One slot."""

    who_may = {"GET": STAFF, "PUT": DIRECTOR}

    @extend_schema(operation_id="slots_retrieve", responses=shapes.SlotOut)
    def get(self, request: Request, public_id: UUID) -> Response:
        return _answer(access.slot_for_reading(request.actor, public_id))

    @extend_schema(
        operation_id="slots_update",
        parameters=[IF_MATCH],
        request=shapes.SlotIn,
        responses=shapes.SlotOut,
    )
    def put(self, request: Request, public_id: UUID) -> Response:
        slot = access.slot_for_editing(request.actor, public_id)
        version = wanted_version(request)
        actions.change_slot(slot=slot, version=version, **_values(checked(shapes.SlotIn, request)))
        return _answer(queries.slot_by_id(public_id))


def _values(data: dict[str, Any]) -> dict[str, Any]:
    named = ("weekday", "starts", "ends", "first_day", "last_day")
    return {
        **{name: data[name] for name in named},
        "zone_ids": reading.ids(club.zones(), data["zones"], "zones", "There is no such zone."),
        "coach_ids": reading.ids(
            club.coaches(), data.get("coaches", ()), "coaches", "Nobody on the staff has this id."
        ),
    }


def _answer(slot: Any, code: int = status.HTTP_200_OK) -> Response:
    data = shapes.SlotOut(answers.slot(slot)).data
    return Response(data, status=code, headers={"ETag": etag(slot.version)})
