"""The printed sheet of a session as PDF."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

import structlog
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.translation import gettext as _
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.negotiation import DefaultContentNegotiation
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.views import APIView

from club import reading
from club.access import HELPERS, STAFF
from club.api_tools import FileRenderer, file_answer
from club.errors import FieldProblem, Refused
from club.problems import Unavailable
from sessions import access, pages
from sessions.api.turns import read_turns, station_for_turns
from sessions.pages import TurnsPage, turns_sheet
from sessions.queries import helping
from sessions.sheet import SIZES, NotTypeset, digest, pdf, turns_digest, turns_pdf

log = structlog.get_logger("sessions.sheet")
PDF = "application/pdf"
INKS = ("colour", "black")


class PdfRenderer(FileRenderer):
    media_type = PDF
    format = "pdf"


class SessionSheetView(APIView):
    """A session on paper: A4 on two sides, or a pocket size."""

    who_may = STAFF
    renderer_classes = [PdfRenderer, JSONRenderer]
    content_negotiation_class = DefaultContentNegotiation

    @extend_schema(
        operation_id="sessions_sheet",
        parameters=[
            OpenApiParameter("size", str, enum=SIZES, description="a4 unless said; pocket is A6."),
            OpenApiParameter("ink", str, enum=INKS, description="black draws bibs hatched, without colours."),
        ],
        responses={(200, PDF): OpenApiTypes.BINARY},
    )
    def get(self, request: Request, public_id: UUID) -> HttpResponse:
        """Drawings, clock times of every bout, teams, what to say and ask, kit and safety. No players' names."""
        return sheet_of(request._request, access.session_for_reading(request.actor, public_id))


class StationTurnsSheetView(APIView):
    """Who plays when on paper: one side of A4."""

    who_may = HELPERS
    renderer_classes = [PdfRenderer, JSONRenderer]
    content_negotiation_class = DefaultContentNegotiation

    @extend_schema(operation_id="sessions_turns_sheet", responses={(200, PDF): OpenApiTypes.BINARY})
    def get(self, request: Request, public_id: UUID, station_id: UUID) -> HttpResponse:
        """The turns that were worked out, with players' names; 404 before that. Reading it is written down."""
        session, part, station = station_for_turns(request, public_id, station_id)
        return turns_sheet_of(request._request, read_turns(request, session, part, station))


def turns_sheet_of(request: HttpRequest, page: TurnsPage) -> HttpResponse:
    """A page of turns as PDF; 404 before anything was worked out."""
    if page.rotation is None:
        raise Http404
    sheet = turns_sheet(page)
    return file_answer(
        request,
        turns_digest(sheet)[:32],
        PDF,
        lambda: _made(lambda: turns_pdf(sheet)),
        Content_Disposition=f'inline; filename="turns-{page.session.day:%Y-%m-%d}.pdf"',
    )


def sheet_of(request: HttpRequest, session: Any) -> HttpResponse:
    """The sheet as the address asks for it; nothing is typeset for somebody who has it already."""
    asked, ink = (
        reading.text(request.GET.get(name, usual)) for name, usual in (("size", "a4"), ("ink", "colour"))
    )
    size = next((each for each in SIZES if each == asked), None)
    if size is None:
        raise Refused([FieldProblem("size", _("One of {words}.").format(words=", ".join(SIZES)))])
    if ink not in INKS:
        raise Refused([FieldProblem("ink", _("One of {words}.").format(words=", ".join(INKS)))])
    by_code = helping.is_open(session)
    path = (
        reverse("sessions:at", args=[helping.code_of(session)])
        if by_code
        else reverse("sessions:session", args=[session.public_id])
    )
    sheet = pages.session_sheet(
        session, link=request.build_absolute_uri(path), by_code=by_code, without_colour=ink == "black"
    )
    return file_answer(
        request,
        digest(sheet, size)[:32],
        PDF,
        lambda: _made(lambda: pdf(sheet, size)),
        Content_Disposition=f'inline; filename="session-{session.day:%Y-%m-%d}-{size}.pdf"',
    )


def _made(make: Callable[[], bytes]) -> bytes:
    """The bytes of a sheet. Raises Unavailable when the typesetter did not manage."""
    try:
        return make()
    except NotTypeset as error:
        log.error("sheet not made", reason=str(error))
        raise Unavailable(_("This sheet can't be made now. Try again in a minute.")) from error
