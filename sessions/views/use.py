"""A drill that was set up on its own page, used: two taps from the answer to the grass."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _

from club import queries as club
from club import reading
from club.access import COACHES, who_may
from club.errors import Refused, Stale
from drills.pages import evening_asked, fit_shown
from drills.queries import document_for
from sessions import access, actions, pages
from sessions.actions import Wanted


@who_may(COACHES)
def use(request: HttpRequest, drill_id: UUID) -> HttpResponse:
    """Run it now with a team, or put it into a session; the address holds the numbers that were asked for."""
    shown, wanted = _asked(request, drill_id)
    problem = ""
    if request.method == "POST":
        try:
            return _used(request, wanted)
        except (Refused, Stale) as error:
            problem = str(error)
    context = {"page": pages.use_page(request.actor), "wanted": wanted, "problem": problem, **shown}
    return render(request, "sessions/use.html", context, status=400 if problem else 200)


def _asked(request: HttpRequest, drill_id: UUID) -> tuple[dict[str, Any], Wanted]:
    """The drill, and the answer that its page showed. Raises Http404 where the address has none."""
    found = document_for(request.actor, drill_id)
    key = reading.text(request.GET.get("variation"))
    place = reading.whole(request.GET.get("fit", "0"), 0, 999)
    evening, _problems = evening_asked(request.GET)
    if not found.has_rung(key) or evening is None or place is None:
        raise Http404
    try:
        tonight = fit_shown(found.document, key, evening, place)
    except KeyError as error:
        raise Http404 from error
    if tonight.chosen is None:
        raise Http404
    setup = tonight.chosen.setup
    numbers = {name: reading.number(request.GET.get(name)) for name in ("length", "width")}
    wanted = Wanted(
        drill_id=drill_id,
        variation_key=key,
        players=evening.players,
        keepers=evening.keepers,
        adults=evening.adults,
        length_m=numbers["length"],
        width_m=numbers["width"],
        numbers=setup.numbers,
        grids=setup.grids,
    )
    return {"drill": found.drill, "title": found.document.title, "tonight": tonight}, wanted


def _used(request: HttpRequest, wanted: Wanted) -> HttpResponse:
    if request.POST.get("do") == "add":
        session = access.session_for_planning(request.actor, reading.text(request.POST.get("session")))
        station = actions.add_drill(
            actor=request.actor, session=session, version=session.version, wanted=wanted
        )
        number = station.part.position + 1
        said = _("It is part {number} now, set up for {n}.")
        messages.success(request, said.format(number=number, n=wanted.players))
        return redirect(f"{reverse('sessions:session', args=[session.public_id])}#part-{number}")
    squad = access.squad_for_planning(request.actor, reading.text(request.POST.get("squad")))
    session = actions.run_now(actor=request.actor, squad=squad, wanted=wanted, now=club.club_now())
    return redirect("sessions:pitch", session.public_id)
