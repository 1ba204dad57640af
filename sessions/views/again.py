"""An empty slot filled with what its team did there last, one part one step harder."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from club import reading
from club.access import COACHES, who_may
from club.errors import Refused
from sessions import access, actions, queries
from sessions.actions import DayAndTimes, ZonesAndStaff
from sessions.pages.reuse import preview
from sessions.queries import reuse


@who_may(COACHES)
def again(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Look at what would be different from last time; one tap plans the list that was seen."""
    slot = access.slot_for_planning(request.actor, public_id)
    given = request.POST if request.method == "POST" else request.GET
    day = reading.day(given.get("day"))
    last = queries.last_done(slot)
    source = queries.session_by_id(last) if last else None
    if source is None or day is None or not queries.days_of(slot, day, day):
        raise Http404
    shown: dict[str, Any] = {"slot": slot, "day": day, "source": source}
    try:
        target = reuse.slot_target(slot, source)
        shown["there"] = there = preview(source, target, actor=request.actor, harder=True)
        seen = reading.text(request.POST.get("seen"))
        if request.method == "POST" and seen == there.digest:
            return _plan(request, slot, source, target, DayAndTimes(day, slot.starts, slot.ends))
        shown["differs"] = bool(seen)
    except Refused as refused:
        shown["problems"] = [each.text for each in refused.problems]
    return render(request, "sessions/evening/again.html", shown, status=400 if "problems" in shown else 200)


def _plan(request: HttpRequest, slot: Any, source: Any, target: Any, when: DayAndTimes) -> HttpResponse:
    made, _changes = actions.copy_refitted(
        actor=request.actor,
        source=source,
        target=target,
        when=when,
        place=ZonesAndStaff(
            tuple(each["pk"] for each in slot.zone_rows), tuple(each["pk"] for each in slot.coach_rows)
        ),
        harder=True,
        age_group_id=slot.age_group_id,
        squad_id=slot.squad_id,
        slot=slot,
        title=source.title,
        theme_id=source.theme_id,
        players_expected=source.players_expected,
    )
    messages.success(request, _("Planned. Everything that is different is listed below."))
    return redirect("sessions:session", made.public_id)
