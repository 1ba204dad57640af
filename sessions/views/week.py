"""Weeks × age groups, and one squad's week."""

from datetime import date
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST

from club import queries as club
from club import reading
from club.access import COACHES, STAFF, who_may
from club.errors import Refused, Stale
from sessions import access, actions, pages, queries
from sessions.forms import EntryForm, add_problems

_EASIER = gettext_lazy("The easier variation is in the session. Set it up there for your numbers.")


@who_may(STAFF)
def week(request: HttpRequest) -> HttpResponse:
    """Four weeks of all age groups; a coach's own stand first."""
    this = pages.monday_of(club.today())
    first = reading.monday(request.GET.get("from")) or this
    shown = reading.monday(request.GET.get("show"))
    weeks = pages.weeks_page(request.actor, first, shown=shown)
    return render(request, "sessions/weeks/week.html", {"weeks": weeks})


@who_may(STAFF)
def squad(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """A squad's week against its budget, with the table beside."""
    row = access.squad_for_weeks(request.actor, public_id)
    monday = reading.monday(request.GET.get("week")) or pages.monday_of(club.today())
    return _squad_page(request, row, monday)


def _squad_page(
    request: HttpRequest, row: Any, monday: date, form: EntryForm | None = None, status: int = 200
) -> HttpResponse:
    page = pages.squad_week_page(request.actor, row, monday)
    form = form or EntryForm(with_au=page.with_au, initial={"day": monday, "kind": "match"})
    context = {"page": page, "form": form, "may_plan": request.actor.plans_for(row.age_group_id)}
    return render(request, "sessions/weeks/squad_week.html", context, status=status)


@who_may(COACHES)
@require_POST
def add_entry(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """A match, a tournament or training elsewhere, by hand."""
    row = access.squad_for_planning(request.actor, public_id)
    group = next(each for each in club.age_groups() if each.pk == row.age_group_id)
    form = EntryForm(request.POST, with_au=queries.goes_by_load(group))
    if form.is_valid():
        try:
            entry = actions.add_ledger_entry(
                squad_id=row.pk, entered_by_id=request.actor.user_id, **form.values
            )
        except Refused as refused:
            add_problems(form, refused)
        else:
            messages.success(request, _("It counts in the week now."))
            return redirect(_address(row, pages.monday_of(entry.day)))
    return _squad_page(request, row, _monday(form), form, status=400)


def _monday(form: EntryForm) -> date:
    return pages.monday_of(form.cleaned_data.get("day") or club.today())


@who_may(COACHES)
@require_POST
def lighter(request: HttpRequest, public_id: UUID, session_id: UUID) -> HttpResponse:
    """Do one change that the week's page offered."""
    row = access.squad_for_planning(request.actor, public_id)
    session = access.session_of_squad(request.actor, row, session_id)
    kind = reading.text(request.POST.get("kind"))
    try:
        actions.lighten(
            actor=request.actor,
            session=session,
            version=reading.version(request.POST.get("version")),
            kind=kind,
            size=reading.whole(request.POST.get("size")) or 0,
            part=reading.outer_id(request.POST.get("part")),
        )
    except Stale:
        messages.error(request, _("Somebody else has just changed this session. Look at the week again."))
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _EASIER if kind == "rung" else _("The week is worked out again."))
    return redirect(_address(row, pages.monday_of(session.day)))


@who_may(COACHES)
@require_POST
def drop_entry(request: HttpRequest, public_id: UUID, entry_id: UUID) -> HttpResponse:
    """Take back what was entered by hand."""
    row = access.squad_for_planning(request.actor, public_id)
    entry = access.entry_for_editing(request.actor, row, entry_id)
    monday = pages.monday_of(entry.day)
    try:
        actions.drop_ledger_entry(entry=entry)
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("Removed from the week."))
    return redirect(_address(row, monday))


def _address(row: Any, monday: date) -> str:
    return f"{reverse('sessions:squad', args=[row.public_id])}?week={pages.iso_week(monday)}"
