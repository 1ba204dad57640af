"""Who came: the teams in a list, and one team over some weeks."""

from datetime import timedelta
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from club import reading
from club.access import STAFF, sees_names, who_may
from club.actions import note_reading
from club.choices import NamesOn
from sessions import access, pages

LEGEND = ("here", "late", "left", "watching", "absent", pages.NOT_MARKED)


@who_may(STAFF)
def teams(request: HttpRequest) -> HttpResponse:
    """The teams whose attendance one may see. No names."""
    lines = pages.teams_attending(request.actor)
    return render(request, "sessions/attendance/teams.html", {"lines": lines})


@who_may(STAFF)
def squad(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Players down, sessions across, some weeks at a time; counts alone for readers. Who reads the names is noted."""
    row = access.squad_for_weeks(request.actor, public_id)
    sees = sees_names(request.actor, row)
    page = pages.attendance_page(row, reading.monday(request.GET.get("week")), with_names=sees)
    if page.attendance.lines:
        note_reading(
            user_id=request.actor.user_id,
            squad_ids=[row.pk, *page.attendance.guest_squads],
            page=NamesOn.ATTENDANCE,
        )
    context = {
        "page": page,
        "sees_names": sees,
        "legend": [(each, pages.word_of(each)) for each in LEGEND],
        "a_year_back": page.last - timedelta(days=pages.MOST_DAYS - 1),
    }
    return render(request, "sessions/attendance/squad.html", context)
