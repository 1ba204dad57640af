"""A session's parts for somebody without an account: make a link, delete it, and the page that it opens."""

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
from sessions import access, actions, pages, queries


@who_may(COACHES)
def share(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """The links to a session that are open; a new one is shown once, when it is made."""
    session = access.session_for_planning(request.actor, public_id)
    context = {"row": session, "title": pages.shared_title(session)}
    if request.method == "POST":
        days = reading.text(request.POST.get("days"))
        try:
            secret = actions.share_session(actor=request.actor, session=session, days=days)
        except Refused as error:
            for each in error.problems:
                messages.error(request, each.text)
            return redirect("sessions:share", public_id)
        link = request.build_absolute_uri(reverse("sessions:shared", args=[secret]))
        return render(request, "sessions/sharing/made.html", {**context, "link": link, "days": days})
    context |= {"links": queries.links_of(session), "offered": actions.SHARED_FOR_DAYS}
    return render(request, "sessions/sharing/links.html", context)


@who_may(COACHES)
@require_POST
def end(request: HttpRequest, public_id: UUID, session_link_id: UUID) -> HttpResponse:
    session = access.session_for_planning(request.actor, public_id)
    actions.end_session_link(session=session, link_id=session_link_id)
    messages.success(request, _("That link opens nothing any more."))
    return redirect("sessions:share", public_id)


@who_may(ANYONE)
def shared(request: HttpRequest, secret: str) -> HttpResponse:
    """The session that a link shows: no account, no person, no place, not for search engines."""
    try:
        session = queries.session_of_link(secret)
    except Http404:
        return link_over(request)
    if club.asked_too_often(secret):
        return link_too_often(request)
    # Without the club's name, which stands on every other page: it tells where.
    context = {"shown": pages.shared_session(session), "club": None}
    return unlisted(render(request, "sessions/sharing/shared.html", context))
