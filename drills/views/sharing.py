"""One drill for somebody without an account: make a link, take it back, and the page that it opens."""

from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import queries as club
from club import reading
from club.access import ANYONE, COACHES, who_may
from club.errors import Refused
from club.views.by_link import link_over, link_too_often, unlisted
from drills import actions, pages, queries


@who_may(COACHES)
@require_POST
def share(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Make a link; it is shown this once."""
    days = reading.text(request.POST.get("days"))
    try:
        secret = actions.share_drill(actor=request.actor, public_id=public_id, days=days)
    except Refused as error:
        for each in error.problems:
            messages.error(request, each.text)
        return redirect("drills:drill", public_id)
    found = queries.document_for(request.actor, public_id)
    link = request.build_absolute_uri(reverse("drills:shared", args=[secret]))
    return render(
        request,
        "drills/link_made.html",
        {"found": found, "title": found.document.title, "link": link, "days": days},
    )


@who_may(COACHES)
@require_POST
def end(request: HttpRequest, public_id: UUID, link_id: UUID) -> HttpResponse:
    actions.take_back_link(actor=request.actor, public_id=public_id, link_id=link_id)
    messages.success(request, _("That link opens nothing any more."))
    return redirect("drills:drill", public_id)


@who_may(ANYONE)
def shared(request: HttpRequest, secret: str) -> HttpResponse:
    """The drill that a link shows: no account, no person, not for search engines."""
    try:
        found = queries.drill_of_link(secret)
    except Http404:
        return link_over(request)
    if club.asked_too_often(secret):
        return link_too_often(request)
    key, grid = (reading.text(request.GET.get(name)) for name in ("variation", "grid"))
    try:
        shown = pages.shared_page(found, key=key, grid_key=grid)
    except KeyError as error:
        raise Http404 from error
    data = {"shown": shown, "linked": pages.linked_data(shown), "secret": secret}
    return unlisted(render(request, "drills/shared.html", data))
