"""The plan by itself: every step on paper."""

from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from club import reading
from club.access import STAFF, who_may
from drills import pages, queries
from drills.game.played import as_played


def at(request: HttpRequest) -> dict[str, Any]:
    """The step and the turn that an address names. Raises Http404 for what is neither."""
    named = reading.text(request.GET.get("step"))
    step, turn = reading.whole(named, 0, 999), reading.whole(request.GET.get("turn", "0"))
    if (named and step is None) or turn not in pages.TURNS:
        raise Http404
    return {"step": step, "turn": turn}


def place(request: HttpRequest) -> int:
    """Which answer of Fit is shown, from 0. Raises Http404 for what is no place."""
    place = reading.whole(request.GET.get("fit", "0"), 0, 999)
    if place is None:
        raise Http404
    return place


@who_may(STAFF)
def steps(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """A picture of every step with what is on at its start, to be printed."""
    found = queries.document_for(request.actor, public_id)
    key, grid_key = (reading.text(request.GET.get(name)) for name in ("variation", "grid"))
    try:
        stills = pages.stills(as_played(found.document, key, grid_key=grid_key), turn=at(request)["turn"])
    except KeyError as error:
        raise Http404 from error
    return render(request, "drills/steps.html", {"found": found, "stills": stills, "key": key})
