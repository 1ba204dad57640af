"""A session as the shapes that its endpoints answer with."""

from typing import Any

import msgspec
from django.utils.translation import gettext as _

from club.api_described import shaped
from drills.api.answers import grid_played
from drills.game.evening import Evening
from drills.game.steps import steps
from drills.pages import grids_told, told
from sessions import queries
from sessions.api import happened, shapes
from sessions.api.reasons import reasons
from sessions.pages.emergency import emergency_of
from sessions.pages.everything import AllSetUp
from sessions.pages.happened import WhatHappened
from sessions.pages.laying import laying_lines
from sessions.pages.weather import heat_of, thunder_of
from sessions.planning.teams import GridTeams
from sessions.queries import PartView, SessionView, StationView
from sessions.queries.set_up import players_tonight
from sessions.queries.together import companions


def session_row(row: Any) -> shapes.SessionRow:
    """A session in a list."""
    return shaped(
        shapes.SessionRow,
        row,
        id=row.public_id,
        age_group=row.age_group.public_id,
        squad=row.squad.public_id,
        slot=row.slot.public_id if row.slot else None,
        theme=row.theme.public_id if row.theme else None,
        starts=f"{row.starts:%H:%M}",
        ends=f"{row.ends:%H:%M}",
        zones=zones(queries.zones_of(row)),
        staff=people(queries.staff_rows_of(row)),
        together=[{"id": each.id, "name": each.team} for each in companions(row)],
        players_tonight=players_tonight(row),
    )


def session_whole(view: SessionView, done: WhatHappened | None = None) -> shapes.SessionOut:
    """A session with its parts, loads and reasons."""
    times = view.timetable
    return shaped(
        shapes.SessionOut,
        view,
        **msgspec.structs.asdict(session_row(view.row)),
        note=view.row.note,
        parts=[_part(view, each) for each in view.parts],
        planned_au=_au(view, view.planned_au),
        expected_au=_au(view, view.expected_au),
        counts_au=_au(view, view.counts.load_au),
        budget_au=view.budget.load_au,
        set_up_from=times.set_up_from,
        laying=[shaped(shapes.LaidAt, each, kit=each.what) for each in laying_lines(view)],
        clear_from=times.clear_from,
        clear_by=times.clear_by,
        kit=dict(view.kit),
        adults_counted=view.adults.number,
        adults_not_counted=view.adults.uncounted,
        players_without_out=view.players,
        emergency=happened.emergency(emergency_of(view.row)),
        reasons=reasons(view.all_reasons),
        used_again=[
            shaped(shapes.UsedAgainOut, each, changes=reasons(each.changes))
            for each in queries.used_again(view.row)
        ],
        happened=happened.happened(done) if done else None,
        heat=heat_of(view.row),
        thunder=thunder_of(view.row),
    )


def _part(view: SessionView, part: PartView) -> shapes.PartOut:
    return shaped(
        shapes.PartOut,
        part.row,
        id=part.row.public_id,
        changeover_laying_minutes=view.laying.changeover_minutes(part.number - 1),
        starts_at=part.times.starts_at,
        ends_at=part.times.ends_at,
        load_au=_au(view, part.load_au),
        stations=[station(each) for each in part.stations],
    )


def station(view: StationView) -> shapes.StationOut:
    """A station with its drill, the set-up that was accepted and how it is played tonight."""
    row, drill = view.row, view.drill
    return shaped(
        shapes.StationOut,
        row,
        id=row.public_id,
        drill=drill.drill_public_id if drill else None,
        title=view.title,
        revision=drill.revision_number if drill else None,
        changed_since=drill.changed_since if drill else False,
        retired=drill.retired if drill else False,
        steps=steps(drill.document, row.variation_key) if drill else None,
        adult=row.adult.public_id if row.adult else None,
        setup=_set_up(view),
        played=_played(view),
        setup_input=_asked(view.evening),
        setup_is_stale=view.setup_is_stale,
        setup_stale_reasons=[shapes.StaleOut(code=each.key, text=each.said(_)) for each in view.stale],
    )


def _set_up(view: StationView) -> shapes.SetUpOut | None:
    """The set-up that was accepted, with its teams and, where whole teams go round, who is where in which bout."""
    setup, tonight = view.setup, view.tonight
    if setup is None or tonight is None:
        return None
    return shaped(
        shapes.SetUpOut,
        setup,
        format=str(setup.format),
        grid_formats=[str(each) for each in setup.grid_formats],
        distance=round(setup.distance, 3),
        kit=dict(tonight.kit),
        bibs=dict(tonight.bibs),
        reasons=[each.said(_) for each in setup.reasons],
        teams=[_teams(each) for each in view.teams],
    )


def _teams(grid: GridTeams) -> shapes.GridTeamsOut:
    return shaped(shapes.GridTeamsOut, grid, bouts=grid.rotation.bouts if grid.rotation else ())


def _played(view: StationView) -> shapes.PlayedOut | None:
    """The drill as it is run: who is on which grid, and everything that is said of how it goes."""
    if view.tonight is None:
        return None
    said = told(view.tonight)
    return shaped(
        shapes.PlayedOut,
        said,
        grids=[grid_played(each) for each in grids_told(view.tonight)],
        rules=[each.text for each in said.rules],
        say_this=view.tonight.document.say_this,
    )


def _asked(evening: Evening | None) -> shapes.SetUpInputOut | None:
    """What a set-up answers, in numbers; none where there is no set-up."""
    if evening is None:
        return None
    ground = evening.pieces[0] if evening.pieces else None
    return shaped(
        shapes.SetUpInputOut,
        evening,
        length_m=ground.length_m if ground else None,
        width_m=ground.width_m if ground else None,
    )


def all_set_up(found: AllSetUp, version: int) -> shapes.AllSetUpOut:
    """What became of every station, and the session's version afterwards."""
    lines = [
        shaped(
            shapes.SetUpLineOut,
            each,
            station=each.station.public_id,
            set_up=each.now,
            stale_reasons=each.stale,
        )
        for each in found.lines
    ]
    return shapes.AllSetUpOut(players=found.players, version=version, stations=lines)


def zones(rows: list[dict[str, Any]]) -> list[shapes.RowOut]:
    """Zones behind their pitches."""
    return people([{"id": each["id"], "name": f"{each['pitch']}, {each['zone']}"} for each in rows])


def people(rows: list[dict[str, Any]]) -> list[shapes.RowOut]:
    return msgspec.convert(rows, list[shapes.RowOut])


def _au(view: SessionView, au: float) -> float | None:
    """A load to a tenth; none for the youngest."""
    return round(au, 1) if queries.goes_by_load(view.row.age_group) else None
