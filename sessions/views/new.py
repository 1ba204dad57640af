"""A new session, in an empty slot or anywhere else."""

from datetime import date, timedelta
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from club import queries as club
from club import reading
from club.access import COACHES, who_may
from club.errors import Refused
from sessions import access, actions, pages, queries
from sessions.forms import NewSessionForm
from sessions.views.dark import warn_of_the_dark
from sessions.views.ready import offered, say_set_up

COPIES_FROM_DAYS = 42


@who_may(COACHES)
def new(request: HttpRequest) -> HttpResponse:
    """What, when, where, who, and what to begin with. Where neither slot nor day is said, it is the next free slot."""
    slot, day = _slot_and_day(request)
    squads = [each for each in club.squads() if request.actor.plans_for(each.age_group_id)]
    unsaid = request.method == "GET" and slot is None and day is None
    free = pages.next_free(request.actor, squads) if unsaid else []
    if free:
        slot, day = free[0].slot, free[0].day
    templates = queries.part_orders()
    form = _form(request, squads, templates, slot, day)
    if request.method == "POST" and form.is_valid():
        try:
            return _planned(request, _begin(request, form, slot))
        except Refused as refused:
            form.refuse(refused)
    shown = offered(templates, squads, str(form["squad"].value() or ""), str(form["theme"].value() or ""))
    context = {"form": form, "slot": slot, "day": day, "free": free, "ready": shown}
    return render(request, "sessions/new.html", context)


def _planned(request: HttpRequest, made: Any) -> HttpResponse:
    warn_of_the_dark(request, made)
    if reading.text(request.POST.get("ready")):
        say_set_up(request, made)
        return redirect("sessions:session", made.public_id)
    messages.success(request, _("Planned. Now its parts."))
    return redirect("sessions:parts", made.public_id)


def _slot_and_day(request: HttpRequest) -> tuple[Any, date | None]:
    """The slot that is to be filled, and on which day."""
    given = request.POST if request.method == "POST" else request.GET
    wanted = reading.outer_id(given.get("slot"))
    slot = access.slot_for_planning(request.actor, wanted) if wanted else None
    return slot, reading.day(given.get("day"))


def _form(
    request: HttpRequest, squads: list[Any], templates: list[Any], slot: Any, day: date | None
) -> NewSessionForm:
    today = club.today()
    sources = queries.sources_to_copy(
        _groups(squads), today - timedelta(days=COPIES_FROM_DAYS), today + timedelta(days=14)
    )
    initial: dict[str, Any] = _from_slot(slot, day) if slot else {"day": day or today}
    initial["players_expected"] = _players(squads, slot.squad_id if slot else None)
    # The ready ones stand below, with all their parts.
    orders = [each for each in templates if each.minutes is None]
    return NewSessionForm(
        request.POST or None, initial=initial, squads=squads, sources=sources, orders=orders
    )


def _groups(squads: list[Any]) -> list[int]:
    return [each.age_group_id for each in squads]


def _players(squads: list[Any], squad_id: int | None) -> int | None:
    """How many the team has; of no team in particular, the one that the form shows first."""
    found = next((each for each in squads if squad_id in (None, each.pk)), None)
    return found.player_count or None if found else None


def _from_slot(slot: Any, day: date | None) -> dict[str, Any]:
    people = [each["id"] for each in slot.coach_rows]
    return {
        "slot": slot.public_id,
        "squad": str(slot.squad.public_id),
        "day": day,
        "starts": slot.starts,
        "ends": slot.ends,
        "zones": [each["id"] for each in slot.zone_rows],
        "leads": people[0] if people else "",
        "helps": people[1:],
    }


def _begin(request: HttpRequest, form: NewSessionForm, slot: Any) -> Any:
    squad, start_from = form.cleaned_data["squad"], form.cleaned_data["start_from"]
    if chosen := reading.text(request.POST.get("ready")):
        start_from = f"order:{chosen}"
    day = form.when.day
    # Another team or another day was chosen after all: then the slot stays empty.
    in_slot = slot is not None and slot.squad_id == squad.pk and queries.days_of(slot, day, day) == [day]
    source = None
    if start_from.startswith("copy:"):
        source = access.session_for_reading(request.actor, start_from.removeprefix("copy:"))
    return actions.begin_session(
        actor=request.actor,
        age_group_id=squad.age_group_id,
        squad_id=squad.pk,
        when=form.when,
        place=form.place,
        slot=slot if in_slot else None,
        source=source,
        in_order=start_from == "order",
        order=_template(start_from),
        **form.frame,
    )


def _template(start_from: str) -> Any:
    """The session template that was chosen, if any. Raises Refused where it is there no more."""
    what, _colon, chosen = start_from.partition(":")
    if what != "order" or not chosen:
        return None
    found = queries.part_order(chosen)
    if found is None:
        raise Refused(_("This is not among the choices (any more)."), "start_from")
    return found
