"""Weekly slots: everybody sees them, the director gives them out."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import queries as club
from club import reading
from club.access import DIRECTOR, STAFF, who_may
from club.errors import Refused, Stale
from sessions import access, actions, queries
from sessions.forms import SlotForm, add_problems

NAMES = {"coach_ids": "coaches", "zone_ids": "zones"}


@who_may(STAFF)
def slots(request: HttpRequest) -> HttpResponse:
    """Who has which place when, by the day of the week."""
    today = club.today()
    found = list(queries.slots_from(today))
    by_day = [(label, [each for each in found if each.weekday == day]) for day, label in queries.weekdays()]
    dark = {each.pk: queries.dark_from(each, today) for each in found}
    context = {"by_day": by_day, "any": bool(found), "dark": dark, "taken": queries.taken_ahead(found, today)}
    return render(request, "sessions/slots.html", context)


@who_may(DIRECTOR)
def new_slot(request: HttpRequest) -> HttpResponse:
    season = club.current_season()
    initial = {"first_day": club.today()}
    if season:
        initial["last_day"] = season.last_day
    form = SlotForm(request.POST or None, initial=initial, is_new=True)
    if request.method == "POST" and form.is_valid():
        try:
            actions.make_slot(squad_id=form.cleaned_data["squad"].pk, **form.values)
        except Refused as refused:
            add_problems(form, refused, NAMES)
        else:
            messages.success(request, _("Slot added. Its empty evenings show under Sessions."))
            return redirect("sessions:slots")
    return render(request, "sessions/slot.html", {"form": form, "slot": None})


@who_may(DIRECTOR)
def slot(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Another time or place from now on; sessions that stand keep theirs."""
    row = access.slot_for_editing(request.actor, public_id)
    form = SlotForm(request.POST or None, initial=_initial(row), is_new=False)
    if request.method == "POST" and form.is_valid():
        try:
            actions.change_slot(slot=row, version=form.cleaned_data["version"], **form.values)
        except Stale:
            form.add_error(
                None, _("Somebody else has just changed this slot. Open it again, then change it.")
            )
        except Refused as refused:
            add_problems(form, refused, NAMES)
        else:
            messages.success(
                request, _("Saved. Sessions already planned stay at their time and on their pitch.")
            )
            return redirect("sessions:slots")
    return render(request, "sessions/slot.html", {"form": form, "slot": row})


def _initial(row: Any) -> dict[str, Any]:
    named = ("weekday", "starts", "ends", "first_day", "last_day", "version")
    return {
        **{name: getattr(row, name) for name in named},
        "zones": [each["id"] for each in row.zone_rows],
        "coaches": [each["id"] for each in row.coach_rows],
    }


@who_may(DIRECTOR)
@require_POST
def end(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """The squad gives it up."""
    row = access.slot_for_editing(request.actor, public_id)
    try:
        actions.end_slot(slot=row, version=reading.version(request.POST.get("version")))
    except Stale:
        messages.error(request, _("Somebody else has just changed this slot. Open it again, then remove it."))
    else:
        messages.success(request, _("Removed from today on. What was planned in it stays."))
    return redirect("sessions:slots")
