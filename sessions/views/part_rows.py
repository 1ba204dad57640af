"""Rows of the editor of parts: new ones, and rows as words and as a plan."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from club import reading
from sessions import pages, queries
from sessions.choices import PartKind, kind_of_activity
from sessions.forms import PartRows, beside_of, seconds_text, waits
from sessions.planning.plan import PlannedPart
from sessions.planning.rounds import usual_rounds


def blank_row() -> dict[str, str]:
    """A part without a drill."""
    return _row(minutes=15, bouts=1, bout_s=900, rest_s=0, effort=4.0)


def picked_row(actor: Any, session: Any, text: str) -> dict[str, str] | None:
    """A part that plays a drill on one of its rungs, filled in as the drill is usually run: `id` or `id:rung`."""
    wanted, _colon, key = text.partition(":")
    drill_id = reading.outer_id(wanted)
    if drill_id is None:
        return None
    drill = pages.drills_in_editor(actor, session, [drill_id]).get(drill_id)
    if drill is None or key not in {rung for rung, _title in drill.rungs}:
        return None
    work = pages.work_of(drill.document, key)
    rounds = usual_rounds(work.minutes, work.bouts, work.bout_s, work.rest_s)
    row = _row(
        minutes=work.minutes,
        bouts=rounds.bouts,
        bout_s=rounds.bout_s,
        rest_s=rounds.rest_s,
        effort=work.effort,
    )
    kind = kind_of_activity(drill.document.activity.value)
    return {**row, "drill": str(drill_id), "rung": key, "kind": kind.value}


def _row(*, minutes: int, bouts: int, bout_s: int, rest_s: int, effort: float) -> dict[str, str]:
    """A new row but for its changeover, which its place decides."""
    return {
        "id": "",
        "kind": PartKind.PRACTICE.value,
        "title": "",
        "drill": "",
        "rung": "",
        "also": "",
        "minutes": str(minutes),
        "bouts": str(bouts),
        "bout": seconds_text(bout_s),
        "rest": seconds_text(rest_s),
        "changeover": "",
        "effort": f"{effort:g}",
    }


@dataclass(frozen=True)
class Beside:
    """A further station of a part: what it plays. `number` counts those that are not saved yet; None: it is saved."""

    title: str
    number: int | None = None


def beside_rows(
    session: Any, rows: Sequence[Mapping[str, str]], known: Mapping[Any, Any]
) -> dict[int, list[Beside]]:
    """The further stations of each row, the saved ones first."""
    saved, found = pages.saved_beside(session), {}
    for index, row in enumerate(rows):
        kept = [Beside(title) for title in saved.get(row["id"], ())]
        new = [
            Beside(
                known[drill].title if drill in known else _("a drill that is not in the library any more"),
                number,
            )
            for number, (drill, _rung) in enumerate(beside_of(row["also"]))
        ]
        found[index] = [*kept, *new]
    return found


@dataclass(frozen=True)
class Where:
    """Where a drill from the library may go, as choices with their words."""

    alone: list[tuple[str, str]]
    into: list[tuple[str, str]]
    as_usual: str


def where_to(rows: Sequence[dict[str, str]], known: Mapping[Any, Any]) -> Where:
    """Before each part, at the end, or into a part: one that waits for a drill, or beside the drill that it has."""
    names = [f"{number}. {_name(row, known)}" for number, row in enumerate(rows, start=1)]
    before = [(f"before:{at}", _("before {part}").format(part=name)) for at, name in enumerate(names)]
    into = [
        (
            f"into:{at}",
            _("{part}, a second drill at the same time").format(part=name) if row["drill"] else name,
        )
        for at, (row, name) in enumerate(zip(rows, names, strict=True))
    ]
    usual = _("the first part without a drill") if any(waits(row) for row in rows) else _("at the end")
    return Where(alone=[*before, ("end", _("at the end"))], into=into, as_usual=usual)


def _name(row: Mapping[str, str], known: Mapping[Any, Any]) -> str:
    drill = next((known[each] for each, _rung in beside_of(row["drill"]) if each in known), None)
    kind = row["kind"]
    label = str(PartKind(kind).label) if kind in PartKind.values else kind
    return row["title"].strip() or (drill.title if drill else _("{kind}, no drill yet").format(kind=label))


def planned_rows(session: Any, form: PartRows, known: Mapping[Any, Any]) -> list[pages.EditorRow]:
    """The rows that can be read, as the computations take them; keys are the rows' numbers."""
    found = []
    for index, row in enumerate(form.forms):
        if row.is_valid() and row.cleaned_data["bouts"] >= 1:
            part = row.part(None)
            if 0 <= part.effort <= 10 and part.minutes >= 0 and part.bout_s > 0:
                found.append(_planned(session, index, row, part, known))
    return found


def _planned(session: Any, index: int, row: Any, part: Any, known: Mapping[Any, Any]) -> pages.EditorRow:
    drill = known.get(row.cleaned_data["drill"])
    beside = [(known[each], rung) for each, rung in beside_of(row.cleaned_data["also"]) if each in known]
    needs = pages.needs_of(
        session, str(row.cleaned_data["id"] or ""), drill, row.cleaned_data.get("rung") or "", beside
    )
    planned = PlannedPart(
        key=str(index),
        title=part.title or (drill.title if drill else str(part.kind.label)),
        minutes=part.minutes,
        cr10=part.effort,
        bouts=part.bouts,
        bout_s=part.bout_s,
        rest_s=part.rest_s,
        changeover_s=part.changeover_s,
        headers_per_player=needs.headers,
        station_kit=needs.kit,
    )
    return pages.EditorRow(planned, needs.in_play, needs.to_lay)


def part_lines(
    session: Any, form: PartRows | None = None, known: Mapping[Any, Any] | None = None
) -> list[str]:
    """Parts in words, a line each: those that are saved, or those that were typed."""
    if form is not None:
        return [
            _line(row.part(None), (known or {}).get(row.cleaned_data["drill"]))
            for row in form.forms
            if row.is_valid()
        ]
    return [_line(part, None, queries.part_title(part)) for part in session.parts.all()]


def _line(part: Any, drill: Any, title: str = "") -> str:
    named = title or part.title or (drill.title if drill else str(PartKind(part.kind).label))
    return _("{name}: {minutes} min, {bouts} × {bout}, rest {rest}, CR10 {effort}").format(
        name=named,
        minutes=part.minutes,
        bouts=part.bouts,
        bout=seconds_text(part.bout_s),
        rest=seconds_text(part.rest_s),
        effort=f"{float(part.effort):g}",
    )
