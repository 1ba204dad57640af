"""Who is in which bib in which bout of a station: by bout, by player, and the minutes."""

from dataclasses import replace
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import reading
from club.access import HELPERS, who_may
from club.errors import Clash, Refused
from club.problems import Unavailable
from sessions import access, actions
from sessions.api.sheet import turns_sheet_of
from sessions.api.turns import read_turns
from sessions.queries import turns as turns_of
from sessions.views.sheet import no_sheet


@who_may(HELPERS)
def turns(request: HttpRequest, public_id: UUID, station_id: UUID) -> HttpResponse:
    """Names stand here, so it is for the staff of the age group, and reading it is written down."""
    session = access.session_for_turns(request.actor, public_id)
    part, station = _found(session, station_id)
    if request.method == "POST":
        return _made(request, session, part, station)
    return render(
        request,
        "sessions/turns/turns.html",
        {"page": read_turns(request, session, part, station), "row": session},
    )


@who_may(HELPERS)
def turns_pdf(request: HttpRequest, public_id: UUID, station_id: UUID) -> HttpResponse:
    """The same on paper, under the same rule."""
    session = access.session_for_turns(request.actor, public_id)
    part, station = _found(session, station_id)
    try:
        return turns_sheet_of(request, read_turns(request, session, part, station))
    except Unavailable as busy:
        return no_sheet(request, busy)


@who_may(HELPERS)
@require_POST
def winner(request: HttpRequest, public_id: UUID, station_id: UUID) -> HttpResponse:
    """How a bout of winner stays on ended. No name stands in it."""
    session = access.session_for_turns(request.actor, public_id)
    part, station = _found(session, station_id)
    try:
        actions.note_winner(
            session=session,
            part=part,
            station=station,
            bout=_number(request.POST.get("bout")),
            ended=reading.text(request.POST.get("ended")),
            cap=_number(request.POST.get("cap")),
            grid=_number(request.POST.get("grid")),
        )
    except Refused as refused:
        messages.error(request, str(refused))
    return redirect(f"{reverse('sessions:turns', args=[public_id, station_id])}#winner")


def _pairs(request: HttpRequest) -> list[turns_of.PairWish]:
    """Rows of two players; a row without both is no pair."""
    rows = zip(
        *(reading.texts(request.POST.getlist(f"pair-{name}")) for name in ("first", "second", "how")),
        strict=False,
    )
    return [
        turns_of.PairWish(first, second, how == "together") for first, second, how in rows if first and second
    ]


def _number(typed: str | None) -> int:
    return reading.whole(typed, 0, 999) or 0


def _found(session: Any, station_id: UUID) -> Any:
    found = actions.station_in_part(session, station_id)
    if found is None:
        raise Http404
    return found


def _made(request: HttpRequest, session: Any, part: Any, station: Any) -> HttpResponse:
    try:
        actions.rotate_station(
            actor=request.actor,
            session=session,
            part=part,
            station=station,
            keepers=reading.texts(request.POST.getlist("keepers")),
            pairs=_pairs(request),
            seen=reading.whole(request.POST.get("seen"), 0),
        )
    except Clash as clash:  # somebody was quicker: theirs is looked at first
        messages.error(request, str(clash))
    except Refused as refused:
        messages.error(request, str(refused))
        page = read_turns(request, session, part, station)
        typed = replace(
            page,
            keepers=reading.texts(request.POST.getlist("keepers")),
            pairs=_pairs(request)[: turns_of.MOST_PAIRS],
        )
        return render(request, "sessions/turns/turns.html", {"page": typed, "row": session})
    else:
        messages.success(request, _("Worked out for everybody who is here."))
    return redirect("sessions:turns", session.public_id, station.row.public_id)
