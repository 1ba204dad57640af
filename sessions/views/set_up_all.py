"""All parts set up for tonight's number in one go: what each becomes, and doing it."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from club import reading
from club.access import COACHES, who_may
from club.errors import Refused, Stale
from drills.game.format import MOST_PLAYERS
from sessions import access, actions, pages
from sessions.forms import EverybodyForm, add_problems


@who_may(COACHES)
def set_up_all(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """The list of what each part is set up for; sent, everything is set up, and the list says what became of it."""
    session = access.session_for_planning(request.actor, public_id)
    if request.method != "POST":
        return _list(request, session, reading.whole(request.GET.get("players"), 1, MOST_PLAYERS))
    form = EverybodyForm(request.POST)
    if not form.is_valid():
        return _list(request, session, None, form)
    players = form.cleaned_data["players"]
    try:
        actions.set_up_all(
            actor=request.actor,
            session=session,
            version=reading.version(request.POST.get("version")),
            players=players,
            anew=form.cleaned_data["anew"],
        )
    except Stale:
        messages.error(request, _("Somebody else has just changed this session. Look at it again first."))
        return redirect("sessions:set-up-all", public_id)
    except Refused as refused:
        add_problems(form, refused)
        return _list(request, session, None, form)
    found = pages.all_set_up(access.session_for_planning(request.actor, public_id), players)
    messages.success(request, found.done)
    return redirect(f"{request.path}?players={players}")


def _list(
    request: HttpRequest, session: Any, players: int | None, form: EverybodyForm | None = None
) -> HttpResponse:
    found = pages.all_set_up(session, players)
    shown = form or EverybodyForm(initial={"players": found.players})
    return render(request, "sessions/set_up_all.html", {"row": session, "found": found, "form": shown})
