"""A pitch is lost, or a coach is away: what could become of the sessions, done one by one or all."""

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club import queries as club
from club import reading
from club.access import COACHES, who_may
from club.errors import Refused, Stale
from sessions import actions, pages
from sessions.access import may_mend
from sessions.choices import WhyCancelled
from sessions.forms.mending import AwayForm, PitchLostForm

Step = TypeVar("Step")
# What was done at one address, in words for the parents: the changes themselves are gone from the page.
DONE = "mended"


@who_may(COACHES)
def pitch_lost(request: HttpRequest) -> HttpResponse:
    """The pitch and its days stand in the address, so that it can be opened again and passed on."""
    form = PitchLostForm(request.GET if "pitch" in request.GET else None, initial={"first": club.today()})
    if not form.is_bound or not form.is_valid():
        return _asked(request, "sessions/mending/ground.html", form)
    if request.method == "POST":
        if request.POST.get("do") == "close":
            _close(request, form)
        else:
            _accept(request, pages.pitch_steps(form.lost, *_sent(request)), _mend, pages.pitch_told)
        return redirect(request.get_full_path())
    return _shown(
        request, "sessions/mending/ground.html", form, pages.pitch_lost_page(request.actor, form.lost)
    )


@who_may(COACHES)
def coach_away(request: HttpRequest) -> HttpResponse:
    """Who is away and when stands in the address."""
    form = AwayForm(request.GET if "person" in request.GET else None, initial={"first": club.today()})
    if not form.is_bound or not form.is_valid():
        return _asked(request, "sessions/mending/cover.html", form)
    if request.method == "POST":
        _accept(request, pages.cover_steps(form.lost, *_sent(request)), _cover, pages.cover_told)
        return redirect(request.get_full_path())
    return _shown(
        request, "sessions/mending/cover.html", form, pages.coach_away_page(request.actor, form.lost)
    )


def _asked(request: HttpRequest, template: str, form: Any) -> HttpResponse:
    return render(request, template, {"form": form}, status=400 if form.is_bound else 200)


def _shown(request: HttpRequest, template: str, form: Any, page: Any) -> HttpResponse:
    done = request.session.get(DONE, {}).get(request.get_full_path(), "")
    return render(request, template, {"form": form, "page": page, "changes": page.changes, "done": done})


def _sent(request: HttpRequest) -> tuple[str, str]:
    return reading.text(request.POST.get("session")), reading.text(request.POST.get("seen"))


def _accept(
    request: HttpRequest,
    steps: Sequence[Step],
    do: Callable[[HttpRequest, Sequence[Step]], None],
    told: Callable[[Sequence[Step]], str],
) -> None:
    if not steps:
        messages.error(request, _("Something has changed meanwhile. Look at the changes again first."))
        return
    if not may_mend(request.actor, steps):
        messages.error(request, _("A change of another team is for its coaches, or the director."))
        return
    try:
        do(request, steps)
    except Stale:
        messages.error(request, _("Something has changed meanwhile. Look at the changes again first."))
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        here = request.get_full_path()
        before = request.session.get(DONE, {}).get(here, "")
        request.session[DONE] = {here: "\n".join(filter(None, [before, told(steps)]))}
        words = ngettext("%(n)d session changed.", "%(n)d sessions changed.", len(steps))
        messages.success(request, words % {"n": len(steps)})


def _mend(request: HttpRequest, steps: Sequence[Any]) -> None:
    if not all(each.is_off or each.zones for each in steps):
        raise Refused(_("For one of them no space was found. Change that session by hand."))
    actions.mend_sessions(
        actor=request.actor, steps=[actions.pitch_step(each) for each in steps], why=WhyCancelled.PITCH
    )


def _cover(request: HttpRequest, steps: Sequence[Any]) -> None:
    actions.mend_sessions(
        actor=request.actor, steps=[actions.cover_step(each) for each in steps], why=WhyCancelled.STAFF
    )


def _close(request: HttpRequest, form: PitchLostForm) -> None:
    lost = form.lost
    if not request.actor.is_director:
        raise Http404
    try:
        actions.close_days(title=_("Off"), first_day=lost.first, last_day=lost.last, pitch_id=lost.what.pk)
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("Closed. You can open it again under matches and closed days."))
