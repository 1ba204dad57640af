"""Beside a drill: its past and two rungs side by side, close at hand, notes after use."""

from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import reading
from club.access import COACHES, STAFF, who_may
from club.errors import Refused, Stale
from drills import access, actions, pages, queries
from drills.views import library


@who_may(STAFF)
def past(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Every revision, and what changed between any two of them."""
    found = queries.document_for(request.actor, public_id)
    rows = pages.revision_rows(found.drill, most=MOST_REVISIONS)
    newest = rows[0].number
    first = reading.whole(request.GET.get("first")) or max(1, newest - 1)
    second = reading.whole(request.GET.get("second")) or newest
    try:
        changes = pages.changes_between(found.drill, first, second)
    except KeyError as error:
        raise Http404 from error
    may_edit = access.may_edit(request.actor, found.drill)
    context = {"found": found, "rows": rows, "first": first, "second": second, "may_edit": may_edit}
    return render(request, "drills/revisions.html", {**context, "changes": changes})


MOST_REVISIONS = 100


@who_may(COACHES)
@require_POST
def restore(request: HttpRequest, public_id: UUID, number: int) -> HttpResponse:
    version = reading.version(request.POST.get("version"))
    try:
        actions.restore_revision(actor=request.actor, public_id=public_id, version=version, number=number)
    except Refused as error:
        for each in error.problems:
            messages.error(request, each.text)
    except Stale:
        messages.error(request, _("Somebody saved it in the meantime. Look again at what it says now."))
        return redirect("drills:past", public_id)
    else:
        messages.success(request, _("It says again what it said then. Nothing in between is lost."))
    return redirect("drills:drill", public_id)


@who_may(STAFF)
def compare(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Two rungs side by side: both plans, and in words what differs."""
    found = queries.document_for(request.actor, public_id)
    keys = ["", *(each.key for each in found.document.variations)]
    first = reading.text(request.GET.get("first"))
    second = reading.text(request.GET.get("second", keys[-1]))
    try:
        sides, changes = pages.compared(found.document, first, second)
    except KeyError as error:
        raise Http404 from error
    titles = [("", _("as written")), *((each.key, each.title) for each in found.document.variations)]
    context = {"found": found, "sides": sides, "changes": changes, "rungs": titles}
    return render(request, "drills/compare.html", {**context, "first": first, "second": second})


@who_may(STAFF)
@require_POST
def favourite(request: HttpRequest, public_id: UUID) -> HttpResponse:
    actions.set_favourite(
        actor=request.actor, public_id=public_id, favourite=request.POST.get("favourite") == "1"
    )
    return redirect("drills:drill", public_id)


@who_may(STAFF)
@require_POST
def note(request: HttpRequest, public_id: UUID) -> HttpResponse:
    typed = {name: reading.as_typed(request.POST.get(name)) for name in ("text", "players", "worked")}
    try:
        actions.note_after_use(actor=request.actor, public_id=public_id, **typed)
    except Refused as error:
        problems = {each.field: each.text for each in error.problems}
        return library.page(request, public_id, noted={**typed, "problems": problems})
    messages.success(request, _("Noted for whoever runs it next."))
    return redirect("drills:drill", public_id)


@who_may(STAFF)
@require_POST
def drop_note(request: HttpRequest, public_id: UUID, note_id: UUID) -> HttpResponse:
    actions.delete_note(actor=request.actor, public_id=public_id, note_id=note_id)
    messages.success(request, _("The note is gone."))
    return redirect("drills:drill", public_id)
