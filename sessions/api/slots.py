"""Slots over the API."""

from datetime import date
from typing import Any
from uuid import UUID

import msgspec
from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club import queries as club
from club.access import DIRECTOR, STAFF
from club.api_described import Clock, Described, Listed, answer, shaped
from club.api_tools import IDEMPOTENCY_KEY, PAGING, etag, idempotent, paged, wanted_version
from club.errors import Refused
from sessions import access, actions, queries
from sessions.api import answers, inputs, reading
from sessions.api.sessions import IF_MATCH, checked
from sessions.api.shapes import RowOut


class SlotOut(msgspec.Struct, frozen=True, kw_only=True):
    id: UUID
    version: int
    squad: UUID
    weekday: int
    starts: Clock
    ends: Clock
    first_day: date
    last_day: date
    zones: list[RowOut]
    coaches: list[RowOut]


class SlotsView(APIView):
    """Slots that have not ended, and a new one."""

    who_may = {"GET": STAFF, "POST": DIRECTOR}

    @extend_schema(operation_id="slots_list", parameters=PAGING, responses=Listed(SlotOut))
    def get(self, request: Request) -> Response:
        return paged(self, request, queries.slots_from(club.today()), _slot)

    @extend_schema(
        operation_id="slots_create",
        parameters=[IDEMPOTENCY_KEY],
        request=inputs.SlotIn,
        responses={201: Described(SlotOut)},
    )
    @idempotent
    def post(self, request: Request) -> Response:
        data = checked(inputs.SlotIn, request)
        squad = reading.one(club.squads(), data.get("squad"), "squad", "There is no such team this season.")
        if squad is None:
            raise Refused(_("For which team?"), "squad")
        made = actions.make_slot(squad_id=squad.pk, **_values(data))
        return _answer(queries.slot_by_id(made.public_id), status.HTTP_201_CREATED)


class SlotView(APIView):
    """One slot."""

    who_may = {"GET": STAFF, "PUT": DIRECTOR}

    @extend_schema(operation_id="slots_retrieve", responses=Described(SlotOut))
    def get(self, request: Request, public_id: UUID) -> Response:
        return _answer(access.slot_for_reading(request.actor, public_id))

    @extend_schema(
        operation_id="slots_update",
        parameters=[IF_MATCH],
        request=inputs.SlotIn,
        responses=Described(SlotOut),
    )
    def put(self, request: Request, public_id: UUID) -> Response:
        slot = access.slot_for_editing(request.actor, public_id)
        version = wanted_version(request)
        actions.change_slot(slot=slot, version=version, **_values(checked(inputs.SlotIn, request)))
        return _answer(queries.slot_by_id(public_id))


def _values(data: dict[str, Any]) -> dict[str, Any]:
    named = ("weekday", "starts", "ends", "first_day", "last_day")
    return {
        **{name: data[name] for name in named},
        "zone_ids": reading.ids(club.zones(), data["zones"], "zones", "There is no such space."),
        "coach_ids": reading.ids(
            club.coaches(), data.get("coaches", ()), "coaches", "Nobody on the staff has this id."
        ),
    }


def _answer(slot: Any, code: int = status.HTTP_200_OK) -> Response:
    return answer(_slot(slot), code, {"ETag": etag(slot.version)})


def _slot(row: Any) -> SlotOut:
    return shaped(
        SlotOut,
        row,
        id=row.public_id,
        squad=row.squad.public_id,
        starts=f"{row.starts:%H:%M}",
        ends=f"{row.ends:%H:%M}",
        zones=answers.zones(row.zone_rows),
        coaches=answers.people(row.coach_rows),
    )
