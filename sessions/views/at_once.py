"""Several stations at the same time: who begins where, who changes round, an adult each."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from club import queries as club
from club import reading
from club.access import COACHES, who_may
from club.errors import Refused, Stale
from sessions import access, actions, pages, queries
from sessions.forms import reordered
from sessions.forms.at_once import StationRows, blank_station, stations_of, stations_typed
from sessions.pages.stations import at_once as asked
from sessions.validators import MOST_STATIONS


@dataclass
class AtOnceEditor:
    """The form as it stands."""

    rows: list[dict[str, str]]
    changes_round: bool
    version: int
    problem: str = ""
    form: StationRows | None = None
    keepers: bool = False


@who_may(COACHES)
def stations(request: HttpRequest, public_id: UUID, part_id: UUID) -> HttpResponse:
    """The stations of a part."""
    session = access.session_for_planning(request.actor, public_id)
    row = asked.part_in(session, part_id)
    if row is None:
        raise Http404
    people = list(club.coaches())
    if request.method != "POST":
        saved = _saved(session, row)
        editor = AtOnceEditor(stations_of(saved, people), row.changes_round, session.version)
        return _page(request, session, row, editor)
    version = reading.version(request.POST.get("version"))
    editor = AtOnceEditor(stations_typed(request.POST), "changes_round" in request.POST, version)
    do = reading.text(request.POST.get("do", "look"))
    if do == "save":
        return _save(request, session, row, editor)
    _change(editor, do)
    return _page(request, session, row, editor)


def _saved(session: Any, row: Any) -> Any:
    return next(each for each in actions.parts_as_input(session) if each.public_id == row.public_id)


def _change(editor: AtOnceEditor, do: str) -> None:
    """One more station, the keepers apart, up, down or out."""
    if do in ("add", "keepers") and len(editor.rows) >= MOST_STATIONS:
        editor.problem = _("At most {most} stations at a time.").format(most=MOST_STATIONS)
    elif do == "add":
        editor.rows = [*editor.rows, blank_station()]
    elif do == "keepers":
        editor.rows = [*editor.rows, blank_station(group=_("keepers"), stays=True)]
        editor.keepers = True
    else:
        editor.rows = reordered(editor.rows, do)  # type: ignore[arg-type]


def _save(request: HttpRequest, session: Any, row: Any, editor: AtOnceEditor) -> HttpResponse:
    editor.form = _form(request, session, row, editor)
    if not editor.form.is_valid():
        editor.problem = _("Not saved yet. What you typed is still here.")
        return _page(request, session, row, editor)
    parts = actions.parts_as_input(session)
    at = next(index for index, each in enumerate(parts) if each.public_id == row.public_id)
    parts[at] = editor.form.part(parts[at], changes_round=editor.changes_round)
    try:
        actions.save_parts(actor=request.actor, session=session, version=editor.version, parts=parts)
    except Stale as stale:
        editor.version = stale.version
        editor.problem = _(
            "Somebody else saved this session while you were typing. Save again to keep yours."
        )
        return _page(request, session, row, editor)
    except Refused as refused:
        editor.problem = str(refused)
        return _page(request, session, row, editor)
    messages.success(request, _("Saved."))
    return redirect("sessions:session", session.public_id)


def _form(request: HttpRequest, session: Any, row: Any, editor: AtOnceEditor) -> StationRows:
    q = reading.text(request.POST.get("q"))
    drills = asked.drills_for(request.actor, session, row, q=q)
    if editor.keepers or any(each["stays"] for each in editor.rows):
        drills += [
            each
            for each in asked.drills_for(request.actor, session, row, q=q, keepers=True)
            if each not in drills
        ]
    known = {key for key, _title in drills}
    lost = [each["drill"] for each in editor.rows if each["drill"] and each["drill"] not in known]
    drills += [(key, title) for key, title in _titles(request, session, lost)]
    return StationRows(editor.rows, drills=drills, people=list(club.coaches()))


def _titles(request: HttpRequest, session: Any, ids: list[str]) -> list[tuple[str, str]]:
    """Drills that were chosen under other words stay chosen."""
    wanted = [key for each in ids if (key := reading.outer_id(each)) is not None]
    found = pages.drills_in_editor(request.actor, session, wanted)
    return [(str(key), found[key].title) for key in wanted if key in found]


def _page(request: HttpRequest, session: Any, row: Any, editor: AtOnceEditor) -> HttpResponse:
    form = editor.form or _form(request, session, row, editor)
    context = {
        "row": session,
        "part": row,
        "title": queries.part_title(row),
        "editor": editor,
        "forms": form.forms,
        "rounds": asked.rounds_of(row),
        "q": reading.text(request.POST.get("q")),
    }
    return render(request, "sessions/at_once.html", context, status=400 if editor.problem else 200)
