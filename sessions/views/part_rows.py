"""Rows of the editor of parts: new ones, and rows as words and as a plan."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from club import queries as club
from club import reading
from sessions import pages, queries
from sessions.choices import PartKind
from sessions.forms import PartRows, seconds_text
from sessions.forms.fields import seconds_of
from sessions.planning.plan import PlannedPart
from sessions.planning.rounds import on_the_clock, usual_rounds
from sessions.validators import MOST_PART_MINUTES

KIND_OF_ACTIVITY = {
    "arrival": PartKind.ARRIVAL,
    "warm-up": PartKind.WARM_UP,
    "match": PartKind.GAME,
    "directional game": PartKind.GAME,
    "fun game": PartKind.GAME,
}


def blank_row(*, first: bool) -> dict[str, str]:
    """A part without a drill."""
    return _row(minutes=15, bouts=1, bout_s=900, rest_s=0, effort=4.0, first=first)


def picked_row(actor: Any, session: Any, text: str, *, first: bool) -> dict[str, str] | None:
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
        first=first,
    )
    kind = KIND_OF_ACTIVITY.get(drill.document.activity.value, PartKind.PRACTICE)
    return {**row, "drill": str(drill_id), "rung": key, "kind": kind.value}


def with_drill(rows: list[dict[str, str]], made: dict[str, str]) -> list[dict[str, str]]:
    """Fill a part that waits for its drill (one of the same place in the order first), else add one at the end.

    A part that waits keeps its place, its minutes and its changeover: they are the session's, not the drill's.
    """
    waiting = [index for index, row in enumerate(rows) if not row["drill"] and not row["title"].strip()]
    if not waiting:
        return [*rows, made]
    at = next((index for index in waiting if rows[index]["kind"] == made["kind"]), waiting[0])
    kept = {name: rows[at][name] for name in ("id", "kind", "minutes", "changeover")}
    return [*rows[:at], {**made, **kept, **_rounds_within(kept["minutes"], made)}, *rows[at + 1 :]]


def _rounds_within(minutes: str, made: Mapping[str, str]) -> dict[str, str]:
    """The drill's rounds in the minutes of a part that waited for it; the round itself is left to be shared out."""
    found = reading.whole(minutes, 1, MOST_PART_MINUTES)
    bout_s, rest_s = seconds_of(made["bout"]), seconds_of(made["rest"])
    if not found or not bout_s or rest_s is None:
        return {"bout": ""}
    rounds = on_the_clock(found, bout_s, rest_s)
    return {"bouts": str(rounds.bouts), "bout": "", "rest": seconds_text(rounds.rest_s)}


def _row(*, minutes: int, bouts: int, bout_s: int, rest_s: int, effort: float, first: bool) -> dict[str, str]:
    return {
        "id": "",
        "kind": PartKind.PRACTICE.value,
        "title": "",
        "drill": "",
        "rung": "",
        "minutes": str(minutes),
        "bouts": str(bouts),
        "bout": seconds_text(bout_s),
        "rest": seconds_text(rest_s),
        "changeover": seconds_text(0 if first else club.club_settings().changeover_s),
        "effort": f"{effort:g}",
    }


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
    needs = pages.needs_of(
        session, str(row.cleaned_data["id"] or ""), drill, row.cleaned_data.get("rung") or ""
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
