"""The printed sheet of a session."""

from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse

from club.access import STAFF, who_may
from club.errors import Refused
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
