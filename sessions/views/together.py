"""Two teams in one session, on purpose: put together, and apart again."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club.access import COACHES, who_may
from club.errors import Refused, Stale
from sessions import access, actions, pages
from sessions.forms import ApartForm, TogetherForm


@who_may(COACHES)
def together(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Choose another session at the same time, and what the two share."""
    row = access.session_for_planning(request.actor, public_id)
    page = pages.together_page(request.actor, row)
    form = TogetherForm(request.POST or None, initial={"version": row.version}, others=page.others)
    if request.method == "POST" and form.is_valid():
        try:
            actions.put_together(actor=request.actor, session=row, **form.values)
        except Stale:
            form.add_error(None, _("Somebody else has just changed this session. Look at it again first."))
        except Refused as refused:
            form.refuse(refused)
        else:
            messages.success(request, _("Joined. Adults and pitch are counted over both."))
            return redirect("sessions:session", public_id)
    return render(request, "sessions/shared/together.html", {"page": page, "row": row, "form": form})


@who_may(COACHES)
@require_POST
def apart(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Each goes its own way again."""
    row: Any = access.session_for_planning(request.actor, public_id)
    form = ApartForm(request.POST)
    try:
        version = form.cleaned_data["version"] if form.is_valid() else 0
        actions.take_apart(session=row, version=version)
    except Stale:
        messages.error(request, _("Somebody else has just changed this session. Look at it again first."))
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("Separate again."))
    return redirect("sessions:session", public_id)
