"""At the pitch: the page, and a new set-up when the numbers changed."""

from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse, QueryDict
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.http import require_POST

from club import reading
from club.access import HELPERS, who_may
from club.actions import note_reading
from club.api_tools import file_answer
from club.choices import NamesOn
from club.errors import Refused, Stale
from drills.pages import assumed
from sessions import access, actions
from sessions.forms.turn_out import TurnOutForm
from sessions.pages import everything, pitch
from sessions.queries.pitch import guests_for, happened, players_for


@who_may(HELPERS)
@ensure_csrf_cookie
def page(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """The whole evening in one document, names among it: for the staff of the age group alone."""
    actor = request.actor
    session = access.session_for_recording(actor, public_id)
    players = players_for(actor, session)
    note_reading(user_id=actor.user_id, squad_ids=[session.squad_id], page=NamesOn.PITCH)
    shown = pitch.pitch_page(session)
    data = pitch.page_data(shown, players, happened(session))
    context = {
        "shown": shown,
        "data": data,
        "about": pitch.about(session, actor),
        "number": pitch.helpers_number(session),
    }
    return render(request, "sessions/pitch/page.html", context)


@who_may(HELPERS)
def guests(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Who may be added from other squads, when the phone asks for it."""
    actor = request.actor
    found = guests_for(actor, access.session_for_recording(actor, public_id))
    if found.squad_ids:
        note_reading(user_id=actor.user_id, squad_ids=found.squad_ids, page=NamesOn.GUESTS)
    return JsonResponse({"guests": found.rows})


@who_may(HELPERS)
def along(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """What the phone works with when there is no signal; nothing where it has that already."""
    actor = request.actor
    taken = pitch.taken_along(actor, access.session_for_recording(actor, public_id))
    return file_answer(
        request, taken.tag, pitch.TAKEN_ALONG, taken.as_json, Cache_Control="private, no-cache"
    )


@who_may(HELPERS)
def fit(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """What works with tonight's numbers, as a piece of the page."""
    session = access.session_for_recording(request.actor, public_id)
    form = TurnOutForm(request.GET)
    if not form.is_valid():
        return _told(request, _problems(form))
    station = _station(session, request.GET)
    try:
        evening = form.evening(session)
        found = actions.fitted(station, evening)
    except Refused as refused:
        return _told(request, [each.text for each in refused.problems])
    shown = {"answers": pitch.fit_shown(station, found, evening), "assumed": assumed(evening)}
    return render(request, "sessions/pitch/fit.html", shown)


@who_may(HELPERS)
def set_up(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Play it like this tonight."""
    session = access.session_for_recording(request.actor, public_id)
    form = TurnOutForm(request.POST)
    if not form.is_valid():
        return _told(request, _problems(form), 400)
    planned, station = _planned(session, request.POST), _station(session, request.POST)
    try:
        _accept(request, session, station, form)
    except (Refused, Stale) as refused:
        return _told(request, [str(refused)], 409)
    shown = pitch.setup_shown(session, station, planned)
    return render(request, "sessions/pitch/setup.html", {"shown": shown, "set_up": shown.set_up})


@who_may(HELPERS)
@require_POST
def set_up_all(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Every part that has not begun is set up for who is here; what became of each, with what the phone redraws."""
    session = access.session_for_recording(request.actor, public_id)
    planned = everything.planned_rungs(session)
    players = reading.whole(request.POST.get("players"))
    if players is None:
        return _told(request, [_("Players: a whole number, please.")], 400)
    try:
        changed = actions.set_up_all(
            actor=request.actor,
            session=session,
            version=None,
            players=players,
        )
    except (Refused, Stale) as refused:
        return _told(request, [str(refused)], 409)
    fresh = access.session_for_recording(request.actor, public_id)
    shown = everything.everything_shown(fresh, players, changed, planned, happened(fresh))
    return render(request, "sessions/pitch/everything.html", {"shown": shown})


def _accept(request: HttpRequest, session: Any, station: Any, form: TurnOutForm) -> None:
    """At the pitch the last word counts, so no version is asked for; the phone tells itself what happened."""
    actions.accept_setup(
        actor=request.actor,
        session=session,
        version=session.version,
        station=station,
        evening=form.evening(session),
        numbers=reading.text(request.POST.get("numbers")),
        grids=reading.whole(request.POST.get("grids")) or 0,
        told=False,
    )


def _told(request: HttpRequest, problems: list[str], status: int = 200) -> HttpResponse:
    return render(request, "sessions/pitch/fit.html", {"problems": problems}, status=status)


def _problems(form: TurnOutForm) -> list[str]:
    return [f"{form.fields[name].label}: {texts[0]}" for name, texts in form.errors.items()]


def _planned(session: Any, params: QueryDict) -> str:
    """The rung that the page's ladder goes by: the planned one, whichever is played."""
    station = pitch.station_at(session, reading.text(params.get("part")), None)
    return station.variation_key if station else ""


def _station(session: Any, params: QueryDict) -> Any:
    rung = reading.text(params["rung"]) if "rung" in params else None
    station = pitch.station_at(session, reading.text(params.get("part")), rung)
    if station is None:
        raise Http404
    return station
