"""The plan of a station as it is set up, as a picture of dots to send on."""

import hashlib
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse

from club.access import STAFF, who_may
from club.api_tools import file_answer
from drills.drawing.png import png
from sessions import access, pages, queries


@who_may(STAFF)
def plan(request: HttpRequest, public_id: UUID, station_id: UUID) -> HttpResponse:
    """The plan of its first grid as the session's page shows it: numbers and bibs, nobody's name."""
    session = access.session_for_reading(request.actor, public_id)
    view = queries.session_view(session, k=1.0, judged=False, stock={})
    svg = next(
        (
            pages.station_plan(each)
            for part in view.parts
            for each in part.stations
            if each.row.public_id == station_id
        ),
        None,
    )
    if svg is None:
        raise Http404
    return file_answer(
        request,
        hashlib.sha256(svg.encode()).hexdigest()[:32],
        "image/png",
        lambda: png(svg),
    )
