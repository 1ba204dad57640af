"""Drills: list, write, read, change, retire."""

from typing import Any, ClassVar
from uuid import UUID

from django.utils.translation import gettext as _
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.exceptions import ParseError
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import COACHES, STAFF
from club.api_described import Described, Listed
from club.api_tools import IDEMPOTENCY_KEY, PAGING, etag, idempotent, paged, wanted_version
from club.errors import Refused
from drills import actions, queries
from drills.api import answers, shapes

_TEXTS = ("q", "age_group", "theme", "activity", "state", "kit")
_NUMBERS = ("players", "keepers", "length", "width", "effort_max", "minutes")
FILTERS = [
    *(OpenApiParameter(name, str) for name in _TEXTS),
    *(
        OpenApiParameter(name, float if name in ("length", "width", "effort_max") else int)
        for name in _NUMBERS
    ),
    *PAGING,
]
IF_MATCH = OpenApiParameter("If-Match", str, OpenApiParameter.HEADER, required=True)


def content_of(body: Any) -> tuple[Any, str]:
    """The document and the note of a body that is either the document or wraps it. Raises ParseError."""
    if not isinstance(body, dict):
        raise ParseError(_("A drill is an object with named fields."))
    if "document" in body:
        note = body.get("note", "")
        if not isinstance(note, str) or not isinstance(body["document"], dict):
            raise ParseError(_("“document” is an object and “note” a text."))
        return body["document"], note
    return body, ""


class DrillsView(APIView):
    """The library."""

    who_may: ClassVar = {"GET": STAFF, "POST": COACHES}

    @extend_schema(operation_id="drills_list", parameters=FILTERS, responses=Listed(shapes.DrillRow))
    def get(self, request: Request) -> Response:
        """Drills that match; with players and free space, those that run tonight and why."""
        wanted, problems = queries.parse_search(request.query_params)
        if problems:
            raise Refused(problems)
        found, stock = queries.hits(request.actor, wanted), queries.stock_for(wanted)
        return paged(self, request, found, lambda each: answers.row(each, wanted, request, stock))

    @extend_schema(
        operation_id="drills_create",
        parameters=[IDEMPOTENCY_KEY],
        request=Described(shapes.DrillToWrite),
        responses={201: Described(shapes.DrillShape)},
    )
    @idempotent
    def post(self, request: Request) -> Response:
        """Keep a new drill, as a draft of its writer."""
        document, note = content_of(request.data)
        drill = actions.create_drill(actor=request.actor, document=document, note=note)
        return _answer(request, drill.public_id, status=201)


class DrillView(APIView):
    """One drill."""

    who_may: ClassVar = {"GET": STAFF, "PUT": COACHES, "PATCH": COACHES, "DELETE": COACHES}

    @extend_schema(operation_id="drills_retrieve", responses=Described(shapes.DrillShape))
    def get(self, request: Request, public_id: UUID) -> Response:
        """What the drill says now, with its version."""
        return _answer(request, public_id)

    @extend_schema(
        operation_id="drills_update",
        parameters=[IF_MATCH],
        request=Described(shapes.DrillToWrite),
        responses=Described(shapes.DrillShape),
    )
    def put(self, request: Request, public_id: UUID) -> Response:
        """Save a new revision over the version that If-Match names."""
        document, note = content_of(request.data)
        return self._save(request, public_id, document, note)

    @extend_schema(
        operation_id="drills_partial_update",
        parameters=[IF_MATCH],
        request=Described(shapes.DrillToWrite),
        responses=Described(shapes.DrillShape),
    )
    def patch(self, request: Request, public_id: UUID) -> Response:
        """Change the named fields of the document; the others stay. A field that is null goes back to its default."""
        changes, note = content_of(request.data)
        before = queries.plain_document(queries.document_for(request.actor, public_id))
        merged = {name: value for name, value in {**before, **changes}.items() if value is not None}
        return self._save(request, public_id, merged, note)

    @extend_schema(operation_id="drills_retire", responses={204: None})
    def delete(self, request: Request, public_id: UUID) -> Response:
        """Retire the drill. It stays in the sessions that used it."""
        actions.retire_drill(actor=request.actor, public_id=public_id)
        return Response(status=204)

    def _save(self, request: Request, public_id: UUID, document: Any, note: str) -> Response:
        version = wanted_version(request)
        actions.revise_drill(
            actor=request.actor, public_id=public_id, version=version, document=document, note=note
        )
        return _answer(request, public_id)


def _answer(request: Request, public_id: UUID, status: int = 200) -> Response:
    found = queries.document_for(request.actor, public_id)
    whole = answers.whole(found, request)
    headers = {"ETag": etag(found.drill.version)}
    if status == 201:
        headers["Location"] = whole.url
    return Response(answers.plain(whole), status=status, headers=headers)
