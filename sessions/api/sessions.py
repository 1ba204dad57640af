"""Sessions over the API: the same queries and actions as the paging."""

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.utils.translation import gettext as _
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import status
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.reverse import reverse
from rest_framework.views import APIView

from club import queries as club
from club.access import COACHES, STAFF
from club.actions import note_reading
from club.api_described import Described, Listed, answer
from club.api_tools import IDEMPOTENCY_KEY, PAGING, etag, idempotent, paged, wanted_version
from club.choices import NamesOn
from club.errors import FieldProblem, Refused
from club.reading import day, outer_id
from sessions import access, actions, queries
from sessions.api import answers, inputs, reading, shapes
from sessions.choices import State, WhyCancelled
from sessions.pages.happened import what_happened

IF_MATCH = OpenApiParameter("If-Match", str, OpenApiParameter.HEADER, description="The ETag that was read.")
FILTERS = [
    OpenApiParameter("from", str, description="First day, 2026-03-02."),
    OpenApiParameter("to", str, description="Last day."),
    OpenApiParameter("age_group", str),
    OpenApiParameter("squad", str),
    OpenApiParameter("state", str, enum=list(State.values)),
    *PAGING,
]


class SessionsView(APIView):
    """The list, and a new one."""

    who_may = {"GET": STAFF, "POST": COACHES}

    @extend_schema(operation_id="sessions_list", parameters=FILTERS, responses=Listed(shapes.SessionRow))
    def get(self, request: Request) -> Response:
        found = queries.sessions_found(request.actor, **filters(request.query_params))
        return paged(self, request, found, answers.session_row)

    @extend_schema(
        operation_id="sessions_create",
        parameters=[IDEMPOTENCY_KEY],
        request=inputs.SessionIn,
        responses={201: Described(shapes.SessionOut)},
    )
    @idempotent
    def post(self, request: Request) -> Response:
        data = checked(inputs.SessionIn, request)
        squad = reading.one(club.squads(), data["squad"], "squad", "There is no such team this season.")
        if not request.actor.plans_for(squad.age_group_id):
            raise PermissionDenied
        slot = access.slot_for_planning(request.actor, data["slot"]) if data.get("slot") else None
        if slot is not None and slot.squad_id != squad.pk:
            raise Refused(_("This slot belongs to another team."), "slot")
        made = actions.plan_whole(
            actor=request.actor,
            age_group_id=squad.age_group_id,
            squad_id=squad.pk,
            slot=slot,
            parts=reading.parts(data),
            **reading.frame(data),
        )
        return whole(request, made.public_id, status.HTTP_201_CREATED)


class OneSessionView(APIView):
    """One session with its parts."""

    who_may = {"GET": STAFF, "PUT": COACHES, "PATCH": COACHES}

    @extend_schema(operation_id="sessions_retrieve", responses=Described(shapes.SessionOut))
    def get(self, request: Request, public_id: UUID) -> Response:
        return whole(request, public_id)

    @extend_schema(
        operation_id="sessions_update",
        parameters=[IF_MATCH],
        request=inputs.SessionIn,
        responses=Described(shapes.SessionOut),
    )
    def put(self, request: Request, public_id: UUID) -> Response:
        return self._save(request, public_id, partial=False)

    @extend_schema(
        operation_id="sessions_partial_update",
        parameters=[IF_MATCH],
        request=inputs.SessionPatch,
        responses=Described(shapes.SessionOut),
    )
    def patch(self, request: Request, public_id: UUID) -> Response:
        return self._save(request, public_id, partial=True)

    def _save(self, request: Request, public_id: UUID, *, partial: bool) -> Response:
        session = access.session_for_planning(request.actor, public_id)
        version = wanted_version(request)
        data = checked(inputs.SessionPatch if partial else inputs.SessionIn, request)
        if "squad" in data and data["squad"] != session.squad.public_id:
            raise Refused(_("A session stays with its team. Plan another one."), "squad")
        data = {**_as_it_is(session), **data} if partial else data
        actions.save_whole(
            actor=request.actor,
            session=session,
            version=version,
            parts=reading.parts(data),
            **reading.frame(data),
        )
        return whole(request, public_id)


class SessionCancelledView(APIView):
    """Call a session off."""

    who_may = COACHES

    @extend_schema(
        operation_id="sessions_cancel",
        parameters=[IF_MATCH],
        request=inputs.CancelIn,
        responses=Described(shapes.SessionOut),
    )
    def post(self, request: Request, public_id: UUID) -> Response:
        session = access.session_for_planning(request.actor, public_id)
        version = wanted_version(request)
        why = WhyCancelled(checked(inputs.CancelIn, request)["why"])
        actions.cancel_session(session=session, version=version, why=why)
        return whole(request, public_id)


class MovedPartView(APIView):
    """Put a part of a session at another place."""

    who_may = COACHES

    @extend_schema(
        operation_id="sessions_part_move",
        parameters=[IF_MATCH],
        request=inputs.MovePartIn,
        responses=Described(shapes.SessionOut),
    )
    def post(self, request: Request, public_id: UUID, part_id: UUID) -> Response:
        session = access.session_for_planning(request.actor, public_id)
        version, data = wanted_version(request), checked(inputs.MovePartIn, request)
        part = access.part_in(session, part_id)
        actions.move_part(
            actor=request.actor, session=session, version=version, part=part.public_id, to=data["to"]
        )
        return whole(request, public_id)


class StationSetUpView(APIView):
    """The set-up that a station is played with tonight."""

    who_may = COACHES

    @extend_schema(
        operation_id="sessions_setup_accept",
        parameters=[IF_MATCH],
        request=inputs.TurnOutIn,
        responses=Described(shapes.SessionOut),
    )
    def post(self, request: Request, public_id: UUID, station_id: UUID) -> Response:
        session = access.session_for_planning(request.actor, public_id)
        version, data = wanted_version(request), checked(inputs.TurnOutIn, request)
        evening = queries.evening_typed(
            session,
            players=data["players"],
            keepers=data.get("keepers"),
            adults=data.get("adults"),
            length_m=data.get("length"),
            width_m=data.get("width"),
        )
        actions.accept_setup(
            actor=request.actor,
            session=session,
            version=version,
            station=access.station_in(session, station_id),
            evening=evening,
            numbers=data["numbers"],
            grids=data["grids"],
        )
        return whole(request, public_id)

    @extend_schema(
        operation_id="sessions_setup_drop", parameters=[IF_MATCH], responses=Described(shapes.SessionOut)
    )
    def delete(self, request: Request, public_id: UUID, station_id: UUID) -> Response:
        session = access.session_for_planning(request.actor, public_id)
        station = access.station_in(session, station_id)
        actions.drop_setup(
            actor=request.actor, session=session, version=wanted_version(request), station=station
        )
        return whole(request, public_id)


def checked(shape: Any, request: Request) -> dict[str, Any]:
    """The request's JSON, checked against a shape; raises a validation error with pointers."""
    form = shape(data=request.data)
    form.is_valid(raise_exception=True)
    data: dict[str, Any] = form.validated_data
    return data


def whole(request: Request, public_id: UUID, code: int = status.HTTP_200_OK) -> Response:
    """A session as it stands now, with its ETag."""
    session = access.session_for_reading(request.actor, public_id)
    view = queries.session_view(session)
    done = what_happened(view, with_names=request.actor.works_with(session.age_group_id))
    if done and done.players:
        note_reading(user_id=request.actor.user_id, squad_ids=[session.squad_id], page=NamesOn.SESSION)
    headers = {"ETag": etag(session.version)}
    if code == status.HTTP_201_CREATED:
        headers["Location"] = reverse("api-session", args=[public_id], request=request)
    return answer(answers.session_whole(view, done), code, headers)


def _as_it_is(session: Any) -> dict[str, Any]:
    """The frame as saved, for a change of some of it."""
    return {
        "title": session.title,
        "theme": session.theme.public_id if session.theme else None,
        "day": session.day,
        "starts": session.starts,
        "ends": session.ends,
        "zones": [UUID(str(each["id"])) for each in queries.zones_of(session)],
        "staff": [UUID(str(each["id"])) for each in queries.staff_rows_of(session)],
        "players_expected": session.players_expected,
        "note": session.note,
    }


def filters(params: Mapping[str, str]) -> dict[str, Any]:
    """The filters of a list. Raises Refused with the parameter that can't be read."""
    found: dict[str, Any] = {}
    problems = []
    for name in ("from", "to"):
        if text := params.get(name, ""):
            found["first" if name == "from" else "last"] = day(text)
            if day(text) is None:
                problems.append(FieldProblem(name, _("A day, please: 2026-03-02.")))
    for name in ("age_group", "squad"):
        if text := params.get(name, ""):
            found[name] = outer_id(text)
            if found[name] is None:
                problems.append(FieldProblem(name, _("This is no id.")))
    if text := params.get("state", ""):
        if text not in State.values:
            problems.append(FieldProblem("state", _("One of {words}.").format(words=", ".join(State.values))))
        found["state"] = text
    if problems:
        raise Refused(problems)
    return found
