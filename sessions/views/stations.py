"""A station fitted to tonight: the answers, and the one that is taken."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import reading
from club.access import COACHES, who_may
from club.errors import Refused, Stale
from drills.pages import assumed
from sessions import access, actions, pages, queries
from sessions.forms import TurnOutForm, add_problems


@who_may(COACHES)
def fit(request: HttpRequest, public_id: UUID, station_id: UUID) -> HttpResponse:
    """Numbers and space in; at most three first answers out, each with its reasons, then the rest."""
    session = access.session_for_planning(request.actor, public_id)
    shown = _shown(session, station_id)
    tonight = queries.starting_evening(session, shown.row)
    form = TurnOutForm(request.GET if "players" in request.GET else None, tonight=tonight)
    context: dict[str, Any] = {"row": session, "shown": shown, "form": form}
    if form.is_bound and form.is_valid():
        context |= _answers(session, shown, form)
    return render(request, "sessions/fit.html", context)


def _answers(session: Any, shown: Any, form: TurnOutForm) -> dict[str, Any]:
    try:
        evening = form.evening(session)
        found = actions.fitted(shown.row, evening)
    except Refused as refused:
        reasons = [each.text for each in refused.problems if not each.field]
        add_problems(form, Refused([each for each in refused.problems if each.field]))
        return {"reasons": reasons}
    first, rest = pages.fits_on_page(shown, found, evening)
    return {"first": first, "rest": rest, "assumed": assumed(evening)}


def _shown(session: Any, station_id: UUID) -> Any:
    shown = queries.station_of(session, station_id)
    if shown is None or shown.drill is None:
        raise Http404
    return shown


@who_may(COACHES)
@require_POST
def take(request: HttpRequest, public_id: UUID, station_id: UUID) -> HttpResponse:
    """Play it like this tonight."""
    session = access.session_for_planning(request.actor, public_id)
    station = access.station_in(session, station_id)
    form = TurnOutForm(request.POST)
    if not form.is_valid():
        messages.error(request, _("Type tonight's numbers once more."))
        return redirect("sessions:fit", public_id, station_id)
    try:
        actions.accept_setup(
            actor=request.actor,
            session=session,
            version=reading.version(request.POST.get("version")),
            station=station,
            evening=form.evening(session),
            numbers=reading.text(request.POST.get("numbers")),
            grids=reading.whole(request.POST.get("grids")) or 0,
        )
    except Stale:
        messages.error(request, _("Somebody else has just changed this session. Look at it again first."))
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("It is played like this tonight."))
    return redirect("sessions:session", public_id)


@who_may(COACHES)
@require_POST
def drop(request: HttpRequest, public_id: UUID, station_id: UUID) -> HttpResponse:
    """Back to the drill as it is written."""
    session = access.session_for_planning(request.actor, public_id)
    station = access.station_in(session, station_id)
    try:
        actions.drop_setup(
            actor=request.actor,
            session=session,
            version=reading.version(request.POST.get("version")),
            station=station,
        )
    except Stale:
        messages.error(request, _("Somebody else has just changed this session. Look at it again first."))
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("Back to the drill as it is written."))
    return redirect("sessions:set-up-all" if "all" in request.POST else "sessions:session", public_id)
