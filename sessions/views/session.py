"""Sessions: the list, one session, a new one, its frame, moved, off."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import queries as club
from club import reading
from club.access import COACHES, STAFF, who_may
from club.actions import note_reading
from club.choices import NamesOn
from club.errors import Refused, Stale
from club.limits import PAGE_SIZE
from sessions import access, actions, pages, queries
from sessions.choices import STILL_TO_COME, WhyCancelled
from sessions.forms import FrameForm, MoveForm, WhyForm, frame_initial, side_by_side


@who_may(STAFF)
def sessions(request: HttpRequest) -> HttpResponse:
    """To come or past, own age groups first."""
    upcoming = request.GET.get("when") != "past"
    groups = club.age_groups()
    chosen = next((each for each in groups if str(each.public_id) == request.GET.get("group")), None)
    found = queries.sessions_list(
        request.actor, upcoming=upcoming, age_group_id=chosen.pk if chosen else None
    )
    page = Paginator(found, PAGE_SIZE).get_page(reading.whole(request.GET.get("page")))
    context = {
        "page": page,
        "tiles": pages.tiles(page.object_list),
        "upcoming": upcoming,
        "groups": groups,
        "chosen": chosen,
    }
    return render(request, "sessions/list.html", context)


@who_may(STAFF)
def session(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """One session: plan and section against the budget, and every part as it is to be run."""
    row = access.session_to_show(request.actor, public_id)
    may_plan = request.actor.plans_for(row.age_group_id)
    is_to_come = row.state in STILL_TO_COME
    may_record = request.actor.works_with(row.age_group_id)
    page = pages.session_page(row, request.actor)
    if page.happened and page.happened.players:
        note_reading(user_id=request.actor.user_id, squad_ids=[row.squad_id], page=NamesOn.SESSION)
    context = {
        "page": page,
        "ground": pages.session_ground(page.view),
        "may_plan": may_plan and is_to_come,
        "may_record": may_record,
        "may_share": may_plan and bool(page.parts),
        "is_to_come": is_to_come,
        "is_today": row.day == club.today(),
        "is_over": page.is_over,
        "why_choices": WhyCancelled.choices,
    }
    return render(request, "sessions/session.html", context)


@who_may(COACHES)
def edit(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """The frame: what it is called, when, where, who."""
    row = access.session_for_planning(request.actor, public_id)
    if request.method != "POST":
        return _frame(request, row, FrameForm(initial=frame_initial(row)))
    form = FrameForm(request.POST)
    if not form.is_valid():
        return _frame(request, row, form)
    try:
        version = form.cleaned_data["version"]
        actions.change_session(session=row, version=version, when=form.when, place=form.place, **form.frame)
    except Stale:
        return _stale_frame(request, public_id, form)
    except Refused as refused:
        form.refuse(refused)
        return _frame(request, row, form)
    messages.success(request, _("Saved."))
    return redirect("sessions:session", public_id)


def _frame(request: HttpRequest, row: Any, form: FrameForm, differs: Any = ()) -> HttpResponse:
    context = {"row": row, "form": form, "differs": differs}
    return render(request, "sessions/frame.html", context, status=409 if differs else 200)


def _stale_frame(request: HttpRequest, public_id: UUID, form: FrameForm) -> HttpResponse:
    """Yours, theirs and before; saving once more is knowing better."""
    fresh = access.session_for_planning(request.actor, public_id)
    theirs = frame_initial(fresh)
    differs = side_by_side(form, theirs["loaded"])
    typed = {name: form[name].value() for name in form.fields}
    again = FrameForm({**typed, "version": fresh.version, "confirm": ""})
    return _frame(request, fresh, again, differs or ["nothing"])


@who_may(COACHES)
def move(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Another day or time, everything else stays."""
    row = access.session_for_planning(request.actor, public_id)
    form = MoveForm(request.POST or None, initial=frame_initial(row))
    if request.method == "POST" and form.is_valid():
        try:
            data = form.cleaned_data
            actions.move_session(
                session=row, version=data["version"], when=form.when, confirm=data["confirm"]
            )
        except Stale:
            form.add_error(
                None, _("Somebody else has just changed this session. Look at it again, then move it.")
            )
        except Refused as refused:
            form.refuse(refused)
        else:
            messages.success(request, _("Moved. The slot it came from counts as filled."))
            return redirect("sessions:session", public_id)
    return render(request, "sessions/move.html", {"row": row, "form": form})


@who_may(COACHES)
@require_POST
def cancel(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Off, with the reason; place and people are free again."""
    row = access.session_for_planning(request.actor, public_id)
    form = WhyForm(request.POST)
    if not form.is_valid():
        messages.error(request, _("Say why it is off."))
        return redirect("sessions:session", public_id)
    try:
        why = WhyCancelled(form.cleaned_data["why"])
        actions.cancel_session(session=row, version=form.cleaned_data["version"], why=why)
    except Stale:
        messages.error(request, _("Somebody else has just changed this session. Look at it again first."))
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("Cancelled. Its pitch and people are free again."))
    return redirect("sessions:session", public_id)
