"""Addresses of calendars: make one, see when each was last read, delete it."""

from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club.access import COACHES, DIRECTOR, STAFF, who_may
from club.errors import Refused
from sessions import access, actions, pages
from sessions.choices import Reach
from sessions.forms.calendar import CalendarForm
from sessions.forms.fields import add_problems
from sessions.queries.calendar.links import CalendarOf

_PAGES = {Reach.TEAM: "sessions:calendar-team", Reach.PITCH: "sessions:calendar-pitch"}


@who_may(STAFF)
def own(request: HttpRequest) -> HttpResponse:
    """One's own sessions."""
    return _page(request, access.own_calendar(request.actor))


@who_may(STAFF)
@require_POST
def end_own(request: HttpRequest, calendar_link_id: UUID) -> HttpResponse:
    return _ended(request, access.own_calendar(request.actor), calendar_link_id)


@who_may(COACHES)
def team(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """A team's sessions and matches."""
    return _page(request, access.calendar_of_team(request.actor, public_id))


@who_may(COACHES)
@require_POST
def end_team(request: HttpRequest, public_id: UUID, calendar_link_id: UUID) -> HttpResponse:
    return _ended(request, access.calendar_of_team(request.actor, public_id), calendar_link_id)


@who_may(DIRECTOR)
def pitch(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """What is on a pitch."""
    return _page(request, access.calendar_of_pitch(public_id))


@who_may(DIRECTOR)
@require_POST
def end_pitch(request: HttpRequest, public_id: UUID, calendar_link_id: UUID) -> HttpResponse:
    return _ended(request, access.calendar_of_pitch(public_id), calendar_link_id)


@who_may(DIRECTOR)
def whole_club(request: HttpRequest) -> HttpResponse:
    """Every team's days, such as for the club's website."""
    return _page(request, CalendarOf(Reach.CLUB))


@who_may(DIRECTOR)
@require_POST
def end_club(request: HttpRequest, calendar_link_id: UUID) -> HttpResponse:
    return _ended(request, CalendarOf(Reach.CLUB), calendar_link_id)


def _page(request: HttpRequest, of: CalendarOf) -> HttpResponse:
    form = CalendarForm(request.POST if request.method == "POST" else None)
    status = 200
    if form.is_bound:
        status = 400
        if form.is_valid():
            try:
                secret = actions.open_calendar(actor=request.actor, of=of, **form.values)
            except Refused as refused:
                add_problems(form, refused)
            else:
                return _made(request, of, form, secret)
    context = {"page": pages.calendar_page(of), "form": form, "here": _address(of)}
    return render(request, "sessions/calendar/links.html", context, status=status)


def _made(request: HttpRequest, of: CalendarOf, form: CalendarForm, secret: str) -> HttpResponse:
    """The one page on which the address can be read."""
    link = request.build_absolute_uri(reverse("calendar", args=[secret]))
    context = {"page": pages.calendar_page(of), "link": link, "here": _address(of), **form.values}
    return render(request, "sessions/calendar/made.html", context)


def _ended(request: HttpRequest, of: CalendarOf, link_id: UUID) -> HttpResponse:
    actions.end_calendar(of=of, link_id=link_id)
    messages.success(request, _("That address opens nothing any more."))
    return redirect(_address(of))


def _address(of: CalendarOf) -> str:
    if of.reach in _PAGES:
        return reverse(_PAGES[of.reach], args=[of.thing.public_id])
    return reverse("sessions:calendar-own" if of.reach == Reach.PERSON else "sessions:calendar-club")
