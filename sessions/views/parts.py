"""The editor of a session's parts. Each button sends the whole form; only “save” writes."""

from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import queries as club
from club import reading
from club.access import COACHES, who_may
from club.errors import Refused, Stale
from drills.choices import ACTIVITIES
from sessions import access, actions, pages
from sessions.forms import PartRows, drill_ids, reordered, rows_of, rows_typed, waits, with_drill, with_part
from sessions.views.part_rows import (
    beside_rows,
    blank_row,
    part_lines,
    picked_row,
    planned_rows,
    where_to,
)


@dataclass
class PartsEditor:
    """The form as it stands: rows as text, the version they began from, and what is wrong beyond the rows."""

    rows: list[dict[str, str]]
    version: int
    loaded: str
    problems: list[str] = field(default_factory=list)
    form: PartRows | None = None
    theirs: list[str] | None = None
    where: str = ""  # where the next drill goes; empty: as usual
    changed: int | None = None  # the row that a button has just made or filled


@who_may(COACHES)
def parts(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Parts in order, each with its minutes, bouts and drill."""
    session = access.session_to_edit(request.actor, public_id)
    if request.method != "POST":
        saved = actions.parts_as_input(session)
        return _page(
            request, session, PartsEditor(rows_of(saved), session.version, "\n".join(part_lines(session)))
        )
    editor = _typed(request)
    do = reading.text(request.POST.get("do", "look"))
    if do == "save":
        return _save(request, session, editor)
    if do == "count":
        return _counted(request, session, editor)
    _change(request, session, editor, do)
    return _page(request, session, editor)


def _typed(request: HttpRequest) -> PartsEditor:
    version = reading.version(request.POST.get("version"))
    loaded = reading.as_typed(request.POST.get("loaded"))
    return PartsEditor(
        rows_typed(request.POST), version, loaded, where=reading.text(request.POST.get("where", ""))
    )


def _change(request: HttpRequest, session: Any, editor: PartsEditor, do: str) -> None:
    """What one of the buttons does to the rows, or to where the next drill goes."""
    what, _colon, which = do.partition(":")
    if what == "where":
        editor.where = which
        return
    if what == "look":
        return
    rows = editor.rows
    if what in ("blank", "take"):
        made = blank_row() if what == "blank" else picked_row(request.actor, session, which)
        put = with_part if what == "blank" else with_drill
        if made:
            editor.rows = put(rows, made, editor.where, club.club_settings().changeover_s)
        editor.changed = next((n for n, row in enumerate(editor.rows) if row not in rows), None)
    else:
        editor.rows = reordered(rows, do)
    editor.where = ""


def _counted(request: HttpRequest, session: Any, editor: PartsEditor) -> HttpResponse:
    """What stands against the rows as they are typed, put beside each of them without loading the page anew."""
    return render(request, "sessions/parts/live.html", _judged(request, session, editor))


def _judged(request: HttpRequest, session: Any, editor: PartsEditor) -> dict[str, Any]:
    known = pages.drills_in_editor(request.actor, session, drill_ids(editor.rows))
    form = editor.form or PartRows(editor.rows, {key: each.rungs for key, each in known.items()})
    return {
        "row": session,
        "editor": editor,
        "lines": list(zip(form.forms, [_drill_of(each, known) for each in editor.rows], strict=True)),
        "beside": beside_rows(session, editor.rows, known),
        "where": where_to(editor.rows, known),
        "tally": pages.tally(session, planned_rows(session, form, known)),
        "mine": part_lines(session, form, known) if editor.theirs is not None else [],
    }


def _save(request: HttpRequest, session: Any, editor: PartsEditor) -> HttpResponse:
    form = _rows_form(request, session, editor)
    if not form.is_valid():
        editor.problems = [_("Not saved yet. What you typed is still here.")]
        return _page(request, session, editor)
    saved = actions.parts_as_input(session)
    try:
        actions.save_parts(
            actor=request.actor, session=session, version=editor.version, parts=form.parts(saved)
        )
    except Stale as stale:
        editor.theirs, editor.version = part_lines(session), stale.version
        return _page(request, session, editor)
    except Refused as refused:
        editor.problems = [_("Not saved yet. What you typed is still here."), *form.refuse(refused)]
        return _page(request, session, editor)
    messages.success(request, _("Saved."))
    return redirect("sessions:session", session.public_id)


def _rows_form(request: HttpRequest, session: Any, editor: PartsEditor) -> PartRows:
    known = pages.drills_in_editor(request.actor, session, drill_ids(editor.rows))
    editor.form = PartRows(editor.rows, {key: each.rungs for key, each in known.items()})
    return editor.form


def _page(request: HttpRequest, session: Any, editor: PartsEditor) -> HttpResponse:
    q, activity = (reading.text(request.POST.get(name)) for name in ("q", "activity"))
    tonight, any_age = request.method != "POST" or "tonight" in request.POST, "any_age" in request.POST
    context = {
        **_judged(request, session, editor),
        "picks": pages.picks(
            request.actor, session, q=q, activity=activity, tonight=tonight, any_age=any_age
        ),
        "any_age": any_age,
        "may_suggest": request.method != "POST" and all(waits(each) for each in editor.rows),
        # How many there are is said from the first search on.
        "of_other_ages": pages.of_other_ages(request.actor, session) if request.method == "POST" else None,
        "q": q,
        "activity": activity,
        "tonight": tonight,
        "activities": ACTIVITIES,
    }
    return render(
        request, "sessions/parts/parts.html", context, status=409 if editor.theirs is not None else 200
    )


def _drill_of(row: dict[str, str], known: dict[UUID, Any]) -> Any:
    return next((known.get(each) for each in drill_ids([row])), None)


@who_may(COACHES)
@require_POST
def newer(request: HttpRequest, public_id: UUID, station_id: UUID) -> HttpResponse:
    """Play a drill as the library has it now."""
    session = access.session_for_planning(request.actor, public_id)
    station = access.station_in(session, station_id)
    try:
        actions.take_newer(
            actor=request.actor,
            session=session,
            version=reading.version(request.POST.get("version")),
            station=station,
        )
    except Stale:
        messages.error(request, _("Somebody else has just changed this session. Look at it again first."))
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("The part plays the newest version of the drill now."))
    return redirect("sessions:session", public_id)
