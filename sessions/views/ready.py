"""Beginning with a ready session: those for a team, and one put into a session that has no drill yet."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from club import queries as club
from club import reading
from club.access import COACHES, who_may
from club.errors import Refused, Stale
from club.letters import isolated
from sessions import access, actions, pages, queries

MOST_FIRST = 3  # shown at once below the form; the rest behind a fold


@who_may(COACHES)
def ready_for(request: HttpRequest) -> HttpResponse:
    """The ready sessions for a team and a theme, for the form that plans a session."""
    squads = [each for each in club.squads() if request.actor.plans_for(each.age_group_id)]
    squad, theme = (reading.text(request.GET.get(each)) for each in ("squad", "theme"))
    shown = offered(queries.part_orders(), squads, squad, theme)
    return render(request, "sessions/ready/for_team.html", {"ready": shown})


def offered(templates: list[Any], squads: list[Any], squad: str, theme: str) -> dict[str, Any]:
    """The team, the ready sessions for it, and whether the club has any at all."""
    team = next((each for each in squads if str(each.public_id) == squad), squads[0] if squads else None)
    lines = pages.ready_lines(templates, team.ages if team else None, theme)
    return {
        "any": any(each.minutes is not None for each in templates),
        "team": f"{team.age_group_label} {isolated(team.name)}" if team else "",
        "lines": lines,
        "first": lines[:MOST_FIRST],
        "more": lines[MOST_FIRST:],
    }


@who_may(COACHES)
def ready(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """The ready sessions for a session that is planned, and the one that is chosen put into it."""
    session = access.session_for_planning(request.actor, public_id)
    if request.method != "POST":
        return _page(request, session)
    template = queries.part_order(reading.text(request.POST.get("ready")))
    if template is None:
        return _page(request, session, _("This is not among the choices (any more)."))
    try:
        made = actions.use_ready(
            actor=request.actor,
            session=session,
            version=reading.version(request.POST.get("version")),
            template=template,
        )
    except Refused as refused:
        return _page(request, session, str(refused))
    except Stale:
        return _page(
            request, session, _("Somebody else has just changed this session. Look at it again first.")
        )
    say_set_up(request, made)
    return redirect("sessions:session", public_id)


def say_set_up(request: HttpRequest, session: Any) -> None:
    """What happened, for the session's page."""
    if session.used_again:
        messages.success(
            request, _("Planned and set up. What is different from the template is listed below.")
        )
    else:
        messages.success(request, _("Planned, and every drill is set up."))


def _page(request: HttpRequest, session: Any, problem: str = "") -> HttpResponse:
    any_age = request.GET.get("ages") == "any"
    ages = None if any_age else session.age_group.ages
    theme = session.theme.public_id if session.theme else None
    stations = (each for part in session.parts.all() for each in part.stations.all())
    context = {
        "row": session,
        "has_drills": any(each.revision_id for each in stations),
        "problem": problem,
        "any_age": any_age,
        "lines": pages.ready_lines(queries.part_orders(), ages, theme),
    }
    return render(request, "sessions/ready/page.html", context, status=409 if problem else 200)
