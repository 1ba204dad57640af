"""The printed sheet of a session."""

from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from club.access import STAFF, who_may
from club.errors import Refused
from club.problems import Unavailable
from sessions import access
from sessions.api.sheet import sheet_of


@who_may(STAFF)
def sheet(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """A4 or pocket size, as a PDF that opens in the browser."""
    session = access.session_for_reading(request.actor, public_id)
    try:
        return sheet_of(request, session)
    except Refused as refused:
        raise Http404 from refused
    except Unavailable as busy:
        return no_sheet(request, busy)


def no_sheet(request: HttpRequest, busy: Unavailable) -> HttpResponse:
    """In the sheet's place, when it can't be made."""
    return render(request, "sessions/no_sheet.html", {"detail": busy.detail}, status=busy.status_code)
