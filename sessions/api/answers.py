"""Training as plain JSON."""

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from drills.game.evening import Evening
from drills.game.steps import steps
from drills.pages import grids_told, told
from sessions import queries
from sessions.api.happened import happened, reasons, weather
from sessions.pages import emergency, iso_week
from sessions.pages.everything import AllSetUp
from sessions.pages.happened import WhatHappened
from sessions.pages.laying import LayLine, laying_lines
from sessions.pages.weather import heat_of, thunder_of
from sessions.planning.load import Detail
from sessions.planning.teams import GridTeams
from sessions.planning.trim import Trim
from sessions.queries import LoadWeek, PartView, SessionView, StationView, WholeWeek
from sessions.queries.set_up import players_tonight
from sessions.queries.together import companions


def session_row(row: Any) -> dict[str, Any]:
    """A session in a list."""
    return {
        "id": row.public_id,
        "version": row.version,
        "age_group": row.age_group.public_id,
        "squad": row.squad.public_id,
        "slot": row.slot.public_id if row.slot else None,
        "title": row.title,
        "theme": row.theme.public_id if row.theme else None,
        "day": row.day,
        "starts": row.starts,
        "ends": row.ends,
        "zones": [{"id": z["id"], "name": f"{z['pitch']}, {z['zone']}"} for z in queries.zones_of(row)],
        "staff": _named(queries.staff_rows_of(row)),
        "together": [{"id": each.id, "name": each.team} for each in companions(row)],
        "players_expected": row.players_expected,
        "players_tonight": players_tonight(row),
        "kind": row.kind,
        "state": row.state,
        "why_cancelled": row.why_cancelled,
        "delivered_minutes": row.delivered_minutes,
    }


def session_whole(view: SessionView, done: WhatHappened | None = None) -> dict[str, Any]:
    """A session with its parts, loads and reasons."""
    return {
        **session_row(view.row),
        "note": view.row.note,
        "parts": [_part(view, each) for each in view.parts],
        "planned_au": _au(view, view.planned_au),
        "expected_au": _au(view, view.expected_au),
        "counts_au": _au(view, view.counts.load_au),
        "budget_au": view.budget.load_au,
        "set_up_from": view.timetable.set_up_from,
        "set_up_minutes": view.set_up_minutes,
        "laying": [_lay(each) for each in laying_lines(view)],
        "clear_from": view.timetable.clear_from,
        "clear_by": view.timetable.clear_by,
        "kit": dict(view.kit),
        "adults_needed": view.adults_needed,
        "adults_counted": view.adults.number,
        "adults_not_counted": [vars(each) for each in view.adults.uncounted],
        "players_without_out": view.players,
        "emergency": emergency.as_data(emergency.emergency_of(view.row)),
        "reasons": reasons(view.all_reasons),
        "used_again": [_used_again(each) for each in queries.used_again(view.row)],
        "happened": None if done is None else happened(done),
        "heat": weather(heat_of(view.row)),
        "thunder": weather(thunder_of(view.row)),
    }


def _used_again(each: queries.UsedAgain) -> dict[str, Any]:
    return {
        "title": each.title,
        "day": each.day,
        "age_group": each.age_group,
        "changes": reasons(each.changes),
    }


def _lay(line: LayLine) -> dict[str, Any]:
    return {
        "when": line.when,
        "starts_at": line.starts_at,
        "part": line.part,
        "kit": line.what,
        "adults": line.adults,
        "minutes": line.minutes,
    }


def _part(view: SessionView, part: PartView) -> dict[str, Any]:
    row = part.row
    return {
        "id": row.public_id,
        "kind": row.kind,
        "title": row.title,
        "minutes": row.minutes,
        "bouts": row.bouts,
        "bout_s": row.bout_s,
        "rest_s": row.rest_s,
        "changeover_s": row.changeover_s,
        "changeover_laying_minutes": view.laying.changeover_minutes(part.number - 1),
        "effort": float(row.effort),
        "changes_round": row.changes_round,
        "starts_at": part.times.starts_at,
        "ends_at": part.times.ends_at,
        "load_au": _au(view, part.load_au),
        "stations": [station(each) for each in part.stations],
    }


def station(view: StationView) -> dict[str, Any]:
    row, drill = view.row, view.drill
    return {
        "id": row.public_id,
        "drill": drill.drill_public_id if drill else None,
        "title": view.title,
        "revision": drill.revision_number if drill else None,
        "changed_since": drill.changed_since if drill else False,
        "retired": drill.retired if drill else False,
        "variation_key": row.variation_key,
        "steps": asdict(steps(drill.document, row.variation_key)) if drill else None,
        "group": row.group,
        "place": row.place,
        "adult": row.adult.public_id if row.adult else None,
        "stays": row.stays,
        "setup": _set_up(view),
        "played": _played(view),
        "setup_input": _asked(view.evening),
        "setup_is_stale": view.setup_is_stale,
        "setup_stale_reasons": [{"code": each.key, "text": each.text} for each in view.stale],
    }


def _set_up(view: StationView) -> dict[str, Any] | None:
    """The set-up that was accepted, with its teams and, where whole teams go round, who is where in which bout."""
    setup, tonight = view.setup, view.tonight
    if setup is None or tonight is None:
        return None
    return {
        "format": str(setup.format),
        "numbers": setup.numbers,
        "grids": setup.grids,
        "grid_formats": [str(each) for each in setup.grid_formats],
        "grid_sizes": [list(each) for each in setup.grid_sizes],
        "waiting": setup.waiting,
        "players_total": setup.players_total,
        "length_m": setup.length_m,
        "width_m": setup.width_m,
        "distance": round(setup.distance, 3),
        "kind": setup.kind,
        "kit": dict(tonight.kit),
        "bibs": dict(tonight.bibs),
        "reasons": [each.text for each in setup.reasons],
        "rotation": setup.rotation,
        "teams": [_teams(each) for each in view.teams],
    }


def _teams(grid: GridTeams) -> dict[str, Any]:
    return {
        "grid": grid.grid,
        "format": grid.format,
        "keepers": grid.keepers,
        "teams": [{"bib": each.bib, "players": each.players, "place": each.place} for each in grid.teams],
        "bouts": [
            {
                "number": each.number,
                "inside": list(each.inside),
                "outside": list(each.outside),
                "resting": list(each.resting),
            }
            for each in (grid.rotation.bouts if grid.rotation else ())
        ],
    }


def _played(view: StationView) -> dict[str, Any] | None:
    """The drill as it is run: who is on which grid, and everything that is said of how it goes."""
    if view.tonight is None:
        return None
    said = told(view.tonight)
    return {
        "grids": [
            {"grid": grid.number, "text": grid.words, "groups": [vars(each) for each in grid.groups]}
            for grid in grids_told(view.tonight)
        ],
        "start": list(said.start),
        "rules": [each.text for each in said.rules],
        "phases": list(said.phases),
        "winning": said.winning,
        "scoring": list(said.scoring),
        "restarts": list(said.restarts),
        "ends": said.ends,
        "colours": list(said.colours),
        "say_this": list(view.tonight.document.say_this),
    }


def all_set_up(found: AllSetUp, version: int) -> dict[str, Any]:
    """What became of every station, and the session's version afterwards."""
    return {
        "players": found.players,
        "version": version,
        "stations": [
            {
                "part": each.part,
                "station": each.station.public_id,
                "title": each.title,
                "players": each.players,
                "standing": each.standing,
                "changed": each.changed,
                "set_up": each.now,
                "stale_reasons": list(each.stale),
                "reasons": list(each.reasons),
            }
            for each in found.lines
        ],
    }


def _asked(evening: Evening | None) -> dict[str, Any] | None:
    """What a set-up answers, in numbers; none where there is no set-up. A length that nobody said is null."""
    if evening is None:
        return None
    ground = evening.pieces[0] if evening.pieces else None
    return {
        "players": evening.players,
        "keepers": evening.keepers,
        "adults": evening.adults,
        "length_m": ground.length_m if ground else None,
        "width_m": ground.width_m if ground else None,
    }


def slot(row: Any) -> dict[str, Any]:
    return {
        "id": row.public_id,
        "version": row.version,
        "squad": row.squad.public_id,
        "weekday": row.weekday,
        "starts": row.starts,
        "ends": row.ends,
        "first_day": row.first_day,
        "last_day": row.last_day,
        "zones": [{"id": z["id"], "name": f"{z['pitch']}, {z['zone']}"} for z in row.zone_rows],
        "coaches": _named(row.coach_rows),
    }


def squad_week(squad: Any, whole: WholeWeek, *, detail: Detail | None) -> dict[str, Any]:
    """A squad's week; no AU for age groups that are looked after by minutes and days. `detail` is the director's."""
    week, with_au = whole.load, whole.load.with_au
    return {
        "squad": squad.public_id,
        "name": squad.name,
        "total_au": round(week.total_au, 1) if with_au else None,
        "budget_au": week.budget_au,
        "over_au": round(week.over_au, 1) if with_au else None,
        "minutes": week.minutes,
        "budget_minutes": week.budget_minutes,
        "hours": round(week.hours, 2),
        "hours_most": week.hours_most,
        "football_days": week.days,
        "rest_days": week.rest_days,
        "told": week.told.text,
        "word": week.word,
        "heading_left": [each.text for each in whole.heading],
        "detail": _detail(detail) if detail else None,
        "lighter": [_way(each) for each in whole.lighter],
        "days": _days(week, with_au),
        "lines": [_line(each, with_au) for each in week.lines],
        "reasons": reasons(whole.reasons),
    }


def _detail(found: Detail) -> dict[str, Any]:
    return {
        "monotony": found.week.monotony,
        "strain": found.week.strain,
        "short_au": round(found.short_au, 1),
        "long_au": round(found.long_au, 1),
    }


def _way(way: Trim) -> dict[str, Any]:
    return {
        "saving_au": round(way.saving_au, 1),
        "left_over_au": round(way.left_over_au, 1),
        "changes": [
            {
                "text": each.reason(way.over_au).text,
                "kind": each.kind,
                "size": each.size,
                "session": each.session,
                "part": each.part or None,
                "saving_au": round(each.saving_au, 1),
            }
            for each in way.changes
        ],
    }


def _days(week: LoadWeek, with_au: bool) -> list[dict[str, Any]]:
    return [
        {"day": day, "minutes": minutes, "load_au": round(au, 1) if with_au else None}
        for day, minutes, au in zip(week.week_days, week.daily_minutes, week.daily_au, strict=True)
    ]


def _line(line: Any, with_au: bool) -> dict[str, Any]:
    return {
        "day": line.day,
        "kind": line.kind,
        "title": line.title,
        "minutes": line.minutes,
        "load_au": round(line.load_au, 1) if with_au else None,
        "is_estimated": line.is_estimated,
        "is_to_come": line.is_to_come,
        "session": line.session_id or None,
    }


def age_group_week(group: Any, monday: Any, squads: list[dict[str, Any]]) -> dict[str, Any]:
    return {
        "age_group": group.public_id,
        "label": group.label,
        "week": iso_week(monday),
        "monday": monday,
        "squads": squads,
    }


def _named(rows: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    return [{"id": each["id"], "name": each["name"]} for each in rows]


def _au(view: SessionView, au: float) -> float | None:
    """A load to a tenth; none for the youngest."""
    return round(au, 1) if queries.goes_by_load(view.row.age_group) else None
