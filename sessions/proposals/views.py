"""A session suggested by the app: what tonight is, the proposal as it comes, and what is done with it."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import reading
from club.access import COACHES, DIRECTOR, who_may
from club.errors import Clash, Refused, Stale
from sessions.access import session_for_planning
from sessions.choices import STILL_TO_COME
from sessions.forms import add_problems
from sessions.proposals import access, actions, pages, queries
from sessions.proposals.forms import WeightsForm, WishForm, asked_again
from sessions.proposals.queries import proposal_weights
from sessions.proposals.wish import Wish, wish_from
from sessions.queries import in_the_dark, outline_of

POLL_S, SLOW_POLL_S = 1, 10


@who_may(COACHES)
def wish(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Say what tonight is; everything is filled in as the session has it."""
    session = access.session_to_wish_for(request.actor, public_id)
    form = WishForm(request.POST or None, _start(request, session), _there(session))
    if request.method == "POST" and form.is_valid():
        asked: Any = {"wish": form.typed, "session": session, "instead": "instead" in request.POST}
        try:
            made = actions.ask_for_proposal(actor=request.actor, **asked)
        except Clash as clash:
            return _wish_page(request, session, form, clash)
        except Refused as refused:
            form.refuse(refused)
        else:
            return redirect("sessions:proposal", public_id, made.public_id)
    return _wish_page(request, session, form)


def _there(session: Any) -> list[tuple[str, str] | None]:
    """Id and title of each part that could stay; None where there is nothing in it yet."""
    return [(part.id, part.title) if part.is_more_than_a_place else None for part in outline_of(session)]


def _wish_page(
    request: HttpRequest, session: Any, form: WishForm, clash: Clash | None = None, action: str = ""
) -> HttpResponse:
    """The form; where another is open it offers to show that one, or to stop it and go on."""
    context: dict[str, Any] = {
        "row": session,
        "form": form,
        "can_change": session.state in STILL_TO_COME,
        "clash": clash,
        "dark": in_the_dark(session),
    }
    context["action"] = action
    if clash is not None and clash.other:
        context["open_one"] = queries.open_of(request.actor.user_id)
    return render(request, "sessions/proposals/wish.html", context, status=200 if clash is None else 409)


def _start(request: HttpRequest, session: Any) -> Wish:
    """What was asked last where the page is reached from a proposal, else what the session suggests."""
    wanted = reading.outer_id(request.GET.get("from"))
    if wanted is None:
        return queries.wish_for(session)
    return wish_from(access.proposal_in(request.actor, session, wanted).request)


@who_may(COACHES)
def proposal(request: HttpRequest, public_id: UUID, proposal_id: UUID) -> HttpResponse:
    """How far it is, then what came out. The page asks again by itself; without scripts it loads itself anew."""
    session = session_for_planning(request.actor, public_id)
    row = access.proposal_in(request.actor, session, proposal_id)
    shown = pages.proposal_shown(row, session, request.actor)
    context = {
        "row": session,
        "shown": shown,
        "dark": in_the_dark(session),
        "poll_s": SLOW_POLL_S if shown.is_quiet else POLL_S,
    }
    template = (
        "sessions/proposals/answer.html"
        if request.headers.get("HX-Request")
        else "sessions/proposals/proposal.html"
    )
    return render(request, template, context)


@who_may(COACHES)
@require_POST
def again(request: HttpRequest, public_id: UUID, proposal_id: UUID) -> HttpResponse:
    """The same once more: what is ticked stays, what is refused does not come back."""
    session = session_for_planning(request.actor, public_id)
    row = access.proposal_in(request.actor, session, proposal_id)
    wished = asked_again(wish_from(row.request), row.result, request.POST)
    try:
        made = actions.ask_for_proposal(actor=request.actor, wish=wished, session=session)
    except Clash as clash:
        session = access.session_to_wish_for(request.actor, public_id)
        to = f"{reverse('sessions:propose', args=[public_id])}?from={proposal_id}"
        return _wish_page(request, session, WishForm(None, wished, _there(session)), clash, to)
    except Refused as refused:
        messages.error(request, str(refused))
        return redirect("sessions:proposal", public_id, proposal_id)
    return redirect("sessions:proposal", public_id, made.public_id)


@who_may(COACHES)
@require_POST
def stop(request: HttpRequest, public_id: UUID, proposal_id: UUID) -> HttpResponse:
    """Enough: what has been found is shown."""
    session = session_for_planning(request.actor, public_id)
    actions.stop_proposal(computation=access.proposal_in(request.actor, session, proposal_id))
    return redirect("sessions:proposal", public_id, proposal_id)


@who_may(COACHES)
@require_POST
def take(request: HttpRequest, public_id: UUID, proposal_id: UUID) -> HttpResponse:
    """Put a proposal into the session."""
    session = session_for_planning(request.actor, public_id)
    row = access.proposal_in(request.actor, session, proposal_id)
    try:
        actions.apply_proposal(
            actor=request.actor,
            session=session,
            version=reading.version(request.POST.get("version")),
            computation=row,
            which=reading.whole(request.POST.get("which")) or 0,
        )
    except Stale:
        messages.error(request, _("Somebody else has just changed this session. Look at it again first."))
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("It is in the session, with tonight's numbers."))
        return redirect("sessions:session", public_id)
    return redirect("sessions:proposal", public_id, proposal_id)


@who_may(COACHES)
def weights(request: HttpRequest) -> HttpResponse:
    form = WeightsForm() if request.actor.is_director else None
    row = None if form else proposal_weights()
    return render(request, "sessions/proposals/weights.html", {"form": form, "row": row})


@who_may(DIRECTOR)
@require_POST
def weigh(request: HttpRequest) -> HttpResponse:
    form = WeightsForm(request.POST)
    if form.is_valid():
        try:
            actions.weigh_proposals(**form.cleaned_data)
        except Stale:
            form.add_error(None, _("Somebody else has just changed this. Open it again, then change it."))
        except Refused as refused:
            add_problems(form, refused)
        else:
            messages.success(request, _("Saved. It counts for every suggestion from now on."))
            return redirect("sessions:weights")
    return render(request, "sessions/proposals/weights.html", {"form": form, "row": None}, status=400)
