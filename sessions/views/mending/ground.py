"""A pitch is lost: what could become of its sessions, accepted one by one or all."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club import queries as club
from club.access import COACHES, who_may
from club.errors import Refused, Stale
from sessions import actions, pages
from sessions.access import may_mend
from sessions.actions import DayAndTimes, MendStep
from sessions.forms.mending import PitchLostForm
from sessions.queries.mending.ground import GroundStep

DONE = "pitch_lost_done"  # what was done of one address, in words for the parents: the changes themselves are gone from the page


@who_may(COACHES)
def pitch_lost(request: HttpRequest) -> HttpResponse:
    """The pitch and its days stand in the address, so that it can be opened again and passed on."""
    form = PitchLostForm(request.GET if "pitch" in request.GET else None, initial={"first": club.today()})
    if not form.is_bound or not form.is_valid():
        status = 400 if form.is_bound else 200
        return render(request, "sessions/mending/ground.html", {"form": form}, status=status)
    if request.method == "POST":
        if request.POST.get("do") == "close":
            _close(request, form)
        else:
            _accept(request, form)
        return redirect(request.get_full_path())
    page = pages.pitch_lost_page(request.actor, form.lost)
    done = request.session.get(DONE, {}).get(request.META["QUERY_STRING"], "")
    return render(request, "sessions/mending/ground.html", {"form": form, "page": page, "done": done})


def _close(request: HttpRequest, form: PitchLostForm) -> None:
    lost = form.lost
    if not request.actor.is_director:
        raise Http404
    try:
        actions.close_days(title=_("Off"), first_day=lost.first, last_day=lost.last, pitch_id=lost.pitch.pk)
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("Closed. You can open it again under matches and closed days."))


def _accept(request: HttpRequest, form: PitchLostForm) -> None:
    steps = pages.steps_asked(form.lost, request.POST.get("session", ""), request.POST.get("seen", ""))
    if not steps:
        messages.error(request, _("Something has changed meanwhile. Look at the changes again first."))
        return
    if not may_mend(request.actor, steps):
        messages.error(request, _("A change of another team is for its coaches, or the director."))
        return
    if not all(each.is_off or each.zones for each in steps):
        messages.error(request, _("For one of them no space was found. Change that session by hand."))
        return
    try:
        actions.mend_sessions(steps=[_step(each) for each in steps])
    except Stale:
        messages.error(request, _("Something has changed meanwhile. Look at the changes again first."))
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        address = request.META["QUERY_STRING"]
        before = request.session.get(DONE, {}).get(address, "")
        request.session[DONE] = {address: "\n".join(filter(None, [before, pages.told(steps)]))}
        words = ngettext("%(n)d session changed.", "%(n)d sessions changed.", len(steps))
        messages.success(request, words % {"n": len(steps)})


def _step(step: GroundStep) -> MendStep:
    when = None if step.is_off else DayAndTimes(step.day, step.starts, step.ends)
    return MendStep(step.session, when, tuple(each.pk for each in step.zones))
