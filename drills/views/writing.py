"""Write a drill, and change one."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from club import reading
from club.access import COACHES, who_may
from club.errors import Refused, Stale
from club.limits import VERSION
from drills import access, actions, pages, queries
from drills.forms import Drafted, DrillEditor, drafted, together
from drills.game.bibs.written import bibs_follow


@who_may(COACHES)
def write(request: HttpRequest) -> HttpResponse:
    """A new drill, from nothing."""
    if _follows(request):
        return _beside(request, None)
    editor = _editor(request, None)
    if request.method == "POST" and not editor.grown and editor.is_valid():
        try:
            drill = actions.create_drill(actor=request.actor, document=editor.document)
        except Refused as error:
            editor.add_problems(error.problems)
        else:
            messages.success(request, _("Saved as your draft. Send it for review when it is ready."))
            return redirect("drills:drill", drill.public_id)
    return _page(request, editor, title=_("Write a drill"))


@who_may(COACHES)
def edit(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Change a drill; a stale save shows yours, theirs and what both began with, and keeps what was typed."""
    found = queries.document_for(request.actor, public_id)
    if not access.may_edit(request.actor, found.drill):
        raise Http404
    version = _version(request, found)
    base = found.document if version == found.drill.version else queries.document_at(found.drill, version)
    if _follows(request):
        return _beside(request, base or found.document)
    editor = _editor(request, base or found.document)
    more: dict[str, Any] = {"found": found, "version": version, "title": found.document.title}
    more["note"] = reading.as_typed(request.POST.get("note"))
    if request.method == "POST" and not editor.grown and editor.is_valid():
        try:
            _save(request, public_id, version, editor, base)
        except Refused as error:
            editor.add_problems(error.problems)
        except Stale as stale:
            return _page(request, _together(request, stale), **more | _both(editor, stale))
        else:
            return redirect("drills:drill", public_id)
    return _page(request, editor, **more)


def _save(request: HttpRequest, public_id: UUID, version: int, editor: DrillEditor, base: Any) -> None:
    """Every sentence follows a bib that was changed, so that nobody has to look for the old colour."""
    note = reading.as_typed(request.POST.get("note"))
    written = queries.typed(editor.document)
    document = bibs_follow(base, written) if base is not None else written
    actions.revise_drill(
        actor=request.actor, public_id=public_id, version=version, document=document, note=note
    )
    messages.success(
        request, _("Saved.") if document == written else _("Saved. The words follow the new bibs.")
    )


def _together(request: HttpRequest, stale: Stale) -> DrillEditor:
    """What was typed, with what only they changed; over theirs."""
    theirs, themes = queries.plain_of(stale.theirs), pages.theme_choices()
    if stale.base is None:
        return DrillEditor(theirs, request.POST, themes=themes)
    data = together(request.POST, queries.plain_of(stale.base), theirs, themes=themes)
    return DrillEditor(theirs, data, themes=themes)


def _both(editor: DrillEditor, stale: Stale) -> dict[str, Any]:
    mine = queries.typed(editor.document)
    return {"clashes": pages.clashes(mine, stale.theirs, stale.base), "version": stale.version}


def _version(request: HttpRequest, found: queries.FoundDrill) -> int:
    """The version that the writer has seen; the present one when the form was just opened."""
    named = reading.whole(request.POST.get("version"), 0, VERSION)
    return found.drill.version if named is None else named


def _editor(request: HttpRequest, document: Any) -> DrillEditor:
    base = queries.plain_of(document) if document is not None else None
    data = request.POST if request.method == "POST" else None
    themes = pages.theme_choices()
    grow, move = (reading.text(request.POST.get(name)) for name in ("more", "move"))
    drawn = request.POST.get("do") == "draw"
    return DrillEditor(base, data, themes=themes, grow=grow, move=move, only_drawn=drawn)


def _follows(request: HttpRequest) -> bool:
    """Whether a script asks for the plan alone, which follows what is typed."""
    return request.POST.get("do") == "draw" and bool(request.headers.get("HX-Request"))


def _beside(request: HttpRequest, document: Any) -> HttpResponse:
    return render(request, "drills/form/plan.html", _plan(request, document))


def _plan(request: HttpRequest, document: Any) -> dict[str, Any]:
    """The plan beside the form: of what is typed, before that of the drill as it is."""
    found = Drafted(document)
    if request.method == "POST":
        base = queries.plain_of(document) if document is not None else None
        found = drafted(base, request.POST, themes=pages.theme_choices())
    plan = pages.plan_beside(found.document) if found.document is not None else None
    return {"plan": plan, "missing": found.missing}


def _page(request: HttpRequest, editor: DrillEditor, **more: Any) -> HttpResponse:
    status = 409 if "clashes" in more else 200
    document = queries.typed(editor.base) if editor.base else None
    context = {"editor": editor, **_plan(request, document), **more}
    return render(request, "drills/form/form.html", context, status=status)
