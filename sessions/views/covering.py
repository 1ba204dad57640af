"""What was left uncovered, mended in one tap from the page that says so."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import queries as club
from club import reading
from club.access import COACHES, found, who_may
from club.errors import Refused, Stale
from sessions import access, actions


@who_may(COACHES)
@require_POST
def cover(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Somebody takes it over, or it moves to another pitch."""
    row = access.session_for_planning(request.actor, public_id)
    try:
        _covered(request, row, reading.version(request.POST.get("version")))
    except Stale:
        messages.error(request, _("Somebody else has just changed this session. Look at it again first."))
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("Done: {title} is covered.").format(title=row))
    return redirect("tonight")


def _covered(request: HttpRequest, row: Any, version: int) -> None:
    person, zone = (reading.outer_id(request.POST.get(name)) for name in ("user", "zone"))
    if zone:
        actions.put_on(session=row, version=version, zone_id=found(club.zone(zone)).pk)
        return
    if person is None:
        raise Refused(_("Choose who takes it."))
    actions.hand_over(session=row, version=version, user_id=found(club.user(person)).pk)
