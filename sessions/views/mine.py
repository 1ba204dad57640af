"""A station as it was run, saved as one's own drill; and undone."""

from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club.access import COACHES, who_may
from club.errors import Refused
from drills import actions as library
from sessions import access
from sessions.queries.recorded.station_run import run_in


@who_may(COACHES)
@require_POST
def mine(request: HttpRequest, public_id: UUID, station_id: UUID) -> HttpResponse:
    """One tap saves it, another undoes it; whoever reads the session may have its drills as an own copy."""
    session = access.session_for_reading(request.actor, public_id)
    found = run_in(session, station_id)
    if found is None:
        raise Http404
    revision_id, run = found
    given = {"actor": request.actor, "revision_id": revision_id, "run": run}
    try:
        if request.POST.get("do") == "undo":
            library.undo_save_as_mine(**given)
            messages.success(request, _("Removed from your drills."))
        else:
            drill = library.save_as_mine(**given)
            said = _(
                "Saved as “{title}”: your own draft. Run it with your team as it is; nobody has to review it."
            )
            messages.success(request, said.format(title=drill.title))
    except Refused as refused:
        messages.error(request, str(refused))
    return redirect("sessions:session", public_id)
