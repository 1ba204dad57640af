"""A session used again: to another group, over the next weeks, onto other ground; and orders that the club keeps."""

from datetime import timedelta
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import queries as club
from club import reading
from club.access import COACHES, DIRECTOR, who_may
from club.errors import Refused, Stale
from sessions import access, actions, queries
from sessions.choices import STILL_TO_COME
from sessions.forms import add_problems
from sessions.forms.reuse import ReuseForm, SpaceForm, WeeksForm
from sessions.pages.planning_ahead import template_lines
from sessions.pages.reuse import preview
from sessions.queries import reuse
from sessions.validators import minutes_between


@who_may(COACHES)
def reuse_session(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Every way to use a session again."""
    return _page(request, access.session_to_reuse(request.actor, public_id))


@who_may(COACHES)
@require_POST
def copy(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """For another squad: look at what would change, then plan it."""
    session = access.session_for_reading(request.actor, public_id)
    form = ReuseForm(request.POST, squads=_squads(request))
    if not form.is_valid():
        return _page(request, session, copying=form)
    squad = form.cleaned_data["squad"]
    try:
        target = _target(form, squad, session)
        there = preview(session, target, actor=request.actor)
        seen = reading.text(request.POST.get("seen"))
        if request.POST.get("do") != "plan" or seen != there.digest:
            differs = bool(seen) and seen != there.digest
            return _page(request, session, copying=form, changes=there, looked=True, differs=differs)
        made, _changes = actions.copy_refitted(
            actor=request.actor,
            source=session,
            target=target,
            when=form.when,
            place=form.place,
            age_group_id=squad.age_group_id,
            squad_id=squad.pk,
            **form.frame,
        )
    except Refused as refused:
        form.refuse(refused)
        return _page(request, session, copying=form)
    messages.success(request, _("Planned. Everything that is different is listed below."))
    return redirect("sessions:session", made.public_id)


def _target(form: ReuseForm, squad: Any, source: Any) -> Any:
    return reuse.group_target(
        squad.age_group_id,
        minutes=minutes_between(form.when.starts, form.when.ends),
        players=form.cleaned_data["players_expected"],
        adults=club.adults_counted(form.place.staff_ids, form.when.day),
        zones=form.cleaned_data["zones"],
        source=source,
    )


@who_may(COACHES)
@require_POST
def weeks(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """The next weeks, the game one rung up each time."""
    session = access.session_for_planning(request.actor, public_id)
    form = WeeksForm(request.POST)
    if not form.is_valid():
        return _page(request, session, series=form)
    try:
        made = actions.plan_series(actor=request.actor, source=session, weeks=form.cleaned_data["weeks"])
    except Refused as refused:
        form.add_error("weeks", str(refused))
        return _page(request, session, series=form)
    return _page(request, session, made=made)


@who_may(COACHES)
@require_POST
def space(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Plan B: look at what would change on other ground, then play it like that."""
    session = access.session_for_planning(request.actor, public_id)
    form = SpaceForm(request.POST)
    if not form.is_valid():
        return _page(request, session, spacing=form)
    try:
        data = form.cleaned_data
        target = reuse.other_ground(
            session,
            data["space"],
            players=data["players"],
            length_m=data["length"],
            width_m=data["width"],
        )
        if request.POST.get("do") != "play":
            there = preview(session, target, actor=request.actor)
            return _page(request, session, spacing=form, plan_b=there, target=target)
        actions.refit_session(
            actor=request.actor,
            session=session,
            version=reading.version(request.POST.get("version")),
            target=target,
        )
    except Refused as refused:
        add_problems(form, refused)
        return _page(request, session, spacing=form)
    except ValueError as wrong:
        form.add_error(None, str(wrong))
        return _page(request, session, spacing=form)
    except Stale:
        messages.error(request, _("Somebody else has just changed this session. Look at it again first."))
        return redirect("sessions:reuse", public_id)
    messages.success(request, _("It is played like this now. Every part says how."))
    return redirect("sessions:session", public_id)


@who_may(COACHES)
@require_POST
def keep_order(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Keep the order of these parts for the club."""
    session = access.session_for_planning(request.actor, public_id)
    try:
        kept = actions.keep_order(
            actor=request.actor,
            session=session,
            name=reading.as_typed(request.POST.get("name")),
            with_drills="drills" in request.POST,
        )
    except Refused as refused:
        messages.error(request, str(refused))
        return redirect("sessions:reuse", public_id)
    messages.success(request, _("Saved as “{name}”: new sessions can begin with it.").format(name=kept.name))
    return redirect("sessions:orders")


@who_may(COACHES)
def orders(request: HttpRequest) -> HttpResponse:
    """The orders of parts that the club keeps."""
    context = {"orders": template_lines(queries.part_orders()), "may_drop": request.actor.is_director}
    return render(request, "sessions/orders.html", context)


@who_may(DIRECTOR)
@require_POST
def drop_order(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Keep an order no longer."""
    order = queries.part_order(public_id)
    if order is None:
        raise Http404
    actions.drop_order(order=order)
    messages.success(request, _("“{name}” deleted.").format(name=order.name))
    return redirect("sessions:orders")


def _page(request: HttpRequest, session: Any, **context: Any) -> HttpResponse:
    may_plan = request.actor.plans_for(session.age_group_id)
    plain = {
        "row": session,
        "may_plan": may_plan,
        "may_change": may_plan and session.state in STILL_TO_COME,
        "copying": ReuseForm(squads=_squads(request), initial=_initial(session)),
        "series": WeeksForm(initial={"weeks": 3}),
        "spacing": SpaceForm(initial={"players": queries.expected_of(session)}),
    }
    wrong = any(getattr(each, "errors", None) for each in context.values())
    return render(request, "sessions/reuse/reuse.html", {**plain, **context}, status=400 if wrong else 200)


def _squads(request: HttpRequest) -> list[Any]:
    return [each for each in club.squads() if request.actor.plans_for(each.age_group_id)]


def _initial(session: Any) -> dict[str, Any]:
    return {
        "title": session.title,
        "theme": str(session.theme.public_id) if session.theme else "",
        "day": session.day + timedelta(days=1),
        "starts": session.starts,
        "ends": session.ends,
        "players_expected": session.players_expected,
    }
