"""A session as the shapes that its endpoints answer with."""

from typing import Any
from uuid import UUID

import msgspec

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
from sessions.pages.laying import LayLine, laying_lines
from sessions.pages.weather import heat_of, thunder_of
from sessions.planning.teams import GridTeams
from sessions.queries import PartView, SessionView, StationView
from sessions.queries.set_up import players_tonight
from sessions.queries.together import companions


def session_row(row: Any) -> shapes.SessionRow:
    """A session in a list."""
    return shapes.SessionRow(
        id=row.public_id,
        version=row.version,
        age_group=row.age_group.public_id,
        squad=row.squad.public_id,
        slot=row.slot.public_id if row.slot else None,
        title=row.title,
        theme=row.theme.public_id if row.theme else None,
        day=row.day,
        starts=f"{row.starts:%H:%M}",
        ends=f"{row.ends:%H:%M}",
        zones=zones(queries.zones_of(row)),
        staff=people(queries.staff_rows_of(row)),
        together=[shapes.RowOut(id=UUID(each.id), name=each.team) for each in companions(row)],
        players_expected=row.players_expected,
        players_tonight=players_tonight(row),
        kind=row.kind,
        state=row.state,
        why_cancelled=row.why_cancelled,
        delivered_minutes=row.delivered_minutes,
    )


def session_whole(view: SessionView, done: WhatHappened | None = None) -> shapes.SessionOut:
    """A session with its parts, loads and reasons."""
    heat, thunder = heat_of(view.row), thunder_of(view.row)
    return shapes.SessionOut(
        **msgspec.structs.asdict(session_row(view.row)),
        note=view.row.note,
        parts=[_part(view, each) for each in view.parts],
        planned_au=_au(view, view.planned_au),
        expected_au=_au(view, view.expected_au),
        counts_au=_au(view, view.counts.load_au),
        budget_au=view.budget.load_au,
        set_up_from=view.timetable.set_up_from,
        set_up_minutes=view.set_up_minutes,
        laying=[_lay(each) for each in laying_lines(view)],
        clear_from=view.timetable.clear_from,
        clear_by=view.timetable.clear_by,
        kit=dict(view.kit),
        adults_needed=view.adults_needed,
        adults_counted=view.adults.number,
        adults_not_counted=[shaped(happened.UncountedOut, each) for each in view.adults.uncounted],
        players_without_out=view.players,
        emergency=happened.emergency(emergency_of(view.row)),
        reasons=reasons(view.all_reasons),
        used_again=[_used_again(each) for each in queries.used_again(view.row)],
        happened=happened.happened(done) if done else None,
        heat=shaped(happened.HeatOut, heat) if heat else None,
        thunder=shaped(happened.ThunderOut, thunder) if thunder else None,
    )


def _used_again(each: queries.UsedAgain) -> shapes.UsedAgainOut:
    return shapes.UsedAgainOut(
        title=each.title, day=each.day, age_group=each.age_group, changes=reasons(each.changes)
    )


def _lay(line: LayLine) -> shapes.LaidAt:
    return shapes.LaidAt(
        when=line.when,
        starts_at=line.starts_at,
        part=line.part,
        kit=line.what,
        adults=line.adults,
        minutes=line.minutes,
    )


def _part(view: SessionView, part: PartView) -> shapes.PartOut:
    row = part.row
    return shapes.PartOut(
        id=row.public_id,
        kind=row.kind,
        title=row.title,
        minutes=row.minutes,
        bouts=row.bouts,
        bout_s=row.bout_s,
        rest_s=row.rest_s,
        changeover_s=row.changeover_s,
        changeover_laying_minutes=view.laying.changeover_minutes(part.number - 1),
        effort=float(row.effort),
        changes_round=row.changes_round,
        starts_at=part.times.starts_at,
        ends_at=part.times.ends_at,
        load_au=_au(view, part.load_au),
        stations=[station(each) for each in part.stations],
    )


def station(view: StationView) -> shapes.StationOut:
    """A station with its drill, the set-up that was accepted and how it is played tonight."""
    row, drill = view.row, view.drill
    way = steps(drill.document, row.variation_key) if drill else None
    return shapes.StationOut(
        id=row.public_id,
        drill=drill.drill_public_id if drill else None,
        title=view.title,
        revision=drill.revision_number if drill else None,
        changed_since=drill.changed_since if drill else False,
        retired=drill.retired if drill else False,
        variation_key=row.variation_key,
        steps=shaped(shapes.StepsOut, way) if way else None,
        group=row.group,
        place=row.place,
        adult=row.adult.public_id if row.adult else None,
        stays=row.stays,
        setup=_set_up(view),
        played=_played(view),
        setup_input=_asked(view.evening),
        setup_is_stale=view.setup_is_stale,
        setup_stale_reasons=[shapes.StaleOut(code=each.key, text=each.text) for each in view.stale],
    )


def _set_up(view: StationView) -> shapes.SetUpOut | None:
    """The set-up that was accepted, with its teams and, where whole teams go round, who is where in which bout."""
    setup, tonight = view.setup, view.tonight
    if setup is None or tonight is None:
        return None
    return shapes.SetUpOut(
        format=str(setup.format),
        numbers=setup.numbers,
        grids=setup.grids,
        grid_formats=[str(each) for each in setup.grid_formats],
        grid_sizes=list(setup.grid_sizes),
        waiting=setup.waiting,
        players_total=setup.players_total,
        length_m=setup.length_m,
        width_m=setup.width_m,
        distance=round(setup.distance, 3),
        kind=setup.kind,
        kit=dict(tonight.kit),
        bibs=dict(tonight.bibs),
        reasons=[each.text for each in setup.reasons],
        rotation=setup.rotation,
        teams=[_teams(each) for each in view.teams],
    )


def _teams(grid: GridTeams) -> shapes.GridTeamsOut:
    bouts = grid.rotation.bouts if grid.rotation else ()
    return shapes.GridTeamsOut(
        grid=grid.grid,
        format=grid.format,
        keepers=grid.keepers,
        teams=[shaped(shapes.TeamOut, each) for each in grid.teams],
        bouts=[shaped(shapes.TeamBoutOut, each) for each in bouts],
    )


def _played(view: StationView) -> shapes.PlayedOut | None:
    """The drill as it is run: who is on which grid, and everything that is said of how it goes."""
    if view.tonight is None:
        return None
    said = told(view.tonight)
    return shapes.PlayedOut(
        grids=[grid_played(each) for each in grids_told(view.tonight)],
        start=list(said.start),
        rules=[each.text for each in said.rules],
        phases=list(said.phases),
        winning=said.winning,
        scoring=list(said.scoring),
        restarts=list(said.restarts),
        ends=said.ends,
        colours=list(said.colours),
        say_this=list(view.tonight.document.say_this),
    )


def _asked(evening: Evening | None) -> shapes.SetUpInputOut | None:
    """What a set-up answers, in numbers; none where there is no set-up."""
    if evening is None:
        return None
    ground = evening.pieces[0] if evening.pieces else None
    return shapes.SetUpInputOut(
        players=evening.players,
        keepers=evening.keepers,
        adults=evening.adults,
        length_m=ground.length_m if ground else None,
        width_m=ground.width_m if ground else None,
    )


def all_set_up(found: AllSetUp, version: int) -> shapes.AllSetUpOut:
    """What became of every station, and the session's version afterwards."""
    lines = [
        shapes.SetUpLineOut(
            part=UUID(each.part),
            station=each.station.public_id,
            title=each.title,
            players=each.players,
            standing=each.standing,
            changed=each.changed,
            set_up=each.now,
            stale_reasons=list(each.stale),
            reasons=list(each.reasons),
        )
        for each in found.lines
    ]
    return shapes.AllSetUpOut(players=found.players, version=version, stations=lines)


def zones(rows: list[dict[str, Any]]) -> list[shapes.RowOut]:
    """Zones behind their pitches."""
    return [shapes.RowOut(id=UUID(str(each["id"])), name=f"{each['pitch']}, {each['zone']}") for each in rows]


def people(rows: list[dict[str, Any]]) -> list[shapes.RowOut]:
    return [shapes.RowOut(id=UUID(str(each["id"])), name=each["name"]) for each in rows]


def _au(view: SessionView, au: float) -> float | None:
    """A load to a tenth; none for the youngest."""
    return round(au, 1) if queries.goes_by_load(view.row.age_group) else None
