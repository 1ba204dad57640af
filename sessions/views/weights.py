"""What counts when a session is put together: coaches see it, the director says it."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club.access import COACHES, DIRECTOR, who_may
from club.errors import Refused, Stale
from sessions import actions
from sessions.forms import WeightsForm, add_problems
from sessions.queries.proposing import proposal_weights


@who_may(COACHES)
def weights(request: HttpRequest) -> HttpResponse:
    form = WeightsForm() if request.actor.is_director else None
    row = None if form else proposal_weights()
    return render(request, "sessions/weights.html", {"form": form, "row": row})


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
            messages.success(request, _("Saved. It holds for what is put together from now on."))
            return redirect("sessions:weights")
    return render(request, "sessions/weights.html", {"form": form, "row": None}, status=400)
