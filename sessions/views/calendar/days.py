"""Matches and closed days: what is ahead, and taking more from a text or a file, row by row."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club.access import COACHES, DIRECTOR, STAFF, who_may
from club.errors import Refused
from sessions import access, actions, pages
from sessions.forms.days import ClosedForm, DaysForm, MatchesForm
from sessions.ics.table import as_text
from sessions.queries.calendar.taking import Judged, judge_closed, judge_matches

Rows = list[Judged]


@who_may(STAFF)
def days(request: HttpRequest) -> HttpResponse:
    """Matches and closed days ahead."""
    return render(request, "sessions/calendar/days.html", {"page": pages.days_page(request.actor)})


@who_may(COACHES)
def matches(request: HttpRequest) -> HttpResponse:
    """A team's matches from a text or a file."""
    squads = access.squads_for_planning(request.actor)
    form = MatchesForm(request.POST or None, request.FILES or None, squads=squads)

    def again(text: str) -> DaysForm:
        return MatchesForm(
            initial={"text": text, "squad": form.cleaned_data["squad"].public_id}, squads=squads
        )

    return _take(
        request,
        form,
        look=lambda: judge_matches(form.rows, form.cleaned_data["squad"].pk),
        save=lambda: actions.take_matches(squad_id=form.cleaned_data["squad"].pk, rows=form.rows),
        again=again,
    )


@who_may(DIRECTOR)
def closed(request: HttpRequest) -> HttpResponse:
    """Closed days from a text or a file."""
    form = ClosedForm(request.POST or None, request.FILES or None)

    def pitch() -> Any:
        return form.cleaned_data["pitch"]

    def again(text: str) -> DaysForm:
        return ClosedForm(initial={"text": text, "pitch": pitch().public_id if pitch() else ""})

    return _take(
        request,
        form,
        look=lambda: judge_closed(form.rows, pitch().pk if pitch() else None),
        save=lambda: actions.take_closed(rows=form.rows, pitch_id=pitch().pk if pitch() else None),
        again=again,
    )


def _take(
    request: HttpRequest,
    form: DaysForm,
    *,
    look: Callable[[], Rows],
    save: Callable[[], Rows],
    again: Callable[[str], DaysForm],
) -> HttpResponse:
    """Look first, then save; what could not be taken stays in the form."""
    context: dict[str, Any] = {"form": form, "kind": form.kind}
    if not form.is_bound or not form.is_valid():
        status = 400 if form.is_bound else 200
        return render(request, "sessions/calendar/take.html", context, status=status)
    if request.POST.get("step") != "save":
        judged = look()
        text = as_text(form.cells(), form.kind)
    else:
        judged = save()
        messages.success(request, pages.taken_words(judged))
        left = [each for each in judged if each.outcome == "refused"]
        if not left:
            return redirect("sessions:days")
        text, judged = as_text((each.row.cells for each in left), form.kind), left
    context |= {"form": again(text), "taking": pages.taking_page(judged, over=form.over)}
    return render(request, "sessions/calendar/take.html", context)


@who_may(COACHES)
@require_POST
def off(request: HttpRequest, fixture_id: UUID) -> HttpResponse:
    actions.call_off_match(fixture=access.fixture_for_planning(request.actor, fixture_id))
    messages.success(request, _("It is off. Calendars say so when they next ask."))
    return redirect("sessions:days")


@who_may(DIRECTOR)
@require_POST
def open_again(request: HttpRequest, closed_id: UUID) -> HttpResponse:
    try:
        actions.open_days_again(public_id=closed_id)
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("Removed. These days are open again."))
    return redirect("sessions:days")
