"""Photos of a board beside a drill: add, approve, remove, and the address of each."""

from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import reading
from club.access import COACHES, DIRECTOR, STAFF, who_may
from club.errors import Refused
from drills import actions
from drills.api.sketches import picture_answer
from drills.views import library


@who_may(COACHES)
@require_POST
def add(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Read the photo, save it clean; what is wrong with it comes beside its field, and nothing is saved."""
    caption, sent = reading.as_typed(request.POST.get("caption")), request.FILES.get("photo")
    try:
        actions.add_sketch(actor=request.actor, public_id=public_id, sent=sent, caption=caption)
    except Refused as error:
        problems = {each.field: each.text for each in error.problems}
        return library.page(request, public_id, sketched={"caption": caption, "problems": problems})
    if request.actor.is_director:
        messages.success(request, _("The photo is beside the drill."))
    else:
        messages.success(request, _("The photo waits for the director; until then only you see it."))
    return _back(public_id)


@who_may(DIRECTOR)
@require_POST
def approve(request: HttpRequest, public_id: UUID, sketch_id: UUID) -> HttpResponse:
    actions.approve_sketch(actor=request.actor, public_id=public_id, sketch_id=sketch_id)
    messages.success(request, _("Approved: everybody who reads the drill sees it."))
    return _back(public_id)


@who_may(COACHES)
@require_POST
def remove(request: HttpRequest, public_id: UUID, sketch_id: UUID) -> HttpResponse:
    actions.remove_sketch(actor=request.actor, public_id=public_id, sketch_id=sketch_id)
    messages.success(request, _("The photo is deleted."))
    return _back(public_id)


@who_may(STAFF)
def picture(request: HttpRequest, public_id: UUID, sha256: str) -> HttpResponse:
    """The JPEG, for whoever sees it on the drill's page."""
    return picture_answer(request, public_id, sha256)


def _back(public_id: UUID) -> HttpResponse:
    return redirect(reverse("drills:drill", args=[public_id]) + "#sketches")
