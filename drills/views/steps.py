"""What can be done with a drill besides writing it: adapt, send for review, approve, give back, retire."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import reading
from club.access import COACHES, DIRECTOR, who_may
from club.errors import Refused
from drills import actions


def _do(
    request: HttpRequest, public_id: UUID, action: Callable[..., Any], said: str, **more: Any
) -> HttpResponse:
    """Run one action and come back to the drill, with what was done or what stands in its way."""
    try:
        drill = action(actor=request.actor, public_id=public_id, **more)
    except Refused as error:
        for each in error.problems:
            messages.error(request, each.text)
        return redirect("drills:drill", public_id)
    messages.success(request, said)
    return redirect("drills:drill", drill.public_id)


@who_may(COACHES)
@require_POST
def adapt(request: HttpRequest, public_id: UUID) -> HttpResponse:
    said = _("This is your own draft now. It remembers where it came from.")
    return _do(request, public_id, actions.adapt_drill, said)


@who_may(COACHES)
@require_POST
def send_for_review(request: HttpRequest, public_id: UUID) -> HttpResponse:
    return _do(
        request,
        public_id,
        actions.send_for_review,
        _("The whole staff can read it now. Somebody looks at it within two days."),
    )


@who_may(DIRECTOR)
@require_POST
def approve(request: HttpRequest, public_id: UUID) -> HttpResponse:
    note = reading.as_typed(request.POST.get("note"))
    return _do(request, public_id, actions.approve_drill, _("This is the club's standard now."), note=note)


@who_may(COACHES)
@require_POST
def return_to_draft(request: HttpRequest, public_id: UUID) -> HttpResponse:
    note = reading.as_typed(request.POST.get("note"))
    return _do(request, public_id, actions.return_to_draft, _("It is a draft again."), note=note)


@who_may(COACHES)
@require_POST
def retire(request: HttpRequest, public_id: UUID) -> HttpResponse:
    said = _("Retired. It stays in the sessions that used it, and can be put back.")
    return _do(request, public_id, actions.retire_drill, said)


@who_may(COACHES)
@require_POST
def unretire(request: HttpRequest, public_id: UUID) -> HttpResponse:
    return _do(request, public_id, actions.unretire_drill, _("Back on the shelf."))
