"""Accepting a set-up for a station: "play it like this tonight"."""

import contextlib
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from club import queries as club
from club.actions import action
from club.errors import FieldProblem, Refused
from drills import queries as drills
from drills.game.evening import Evening, as_plain
from drills.game.fit import SetUp
from drills.game.fits import Fits, fits
from sessions.actions.booking import lock
from sessions.choices import STILL_TO_COME
from sessions.models import DeliveryEvent, Station, TrainingSession
from sessions.planning.teams import GridTeams, teams_of
from sessions.queries.evening import station_evening, with_players


def fitted(station: Station, evening: Evening) -> Fits:
    """The set-ups that work for a station's drill on this evening, nearest first. Raises Refused with reasons for none."""
    if station.revision_id is None:
        raise Refused("There is no drill at this station to fit.")
    drill = drills.documents({station.revision_id})[station.revision_id]
    found = fits(drill.document, station.variation_key, evening)
    if not found:
        raise Refused(FieldProblem("", each.text) for each in found.refusals)
    return found


@action
def accept_setup(
    *, session: TrainingSession, version: int, station: Station, evening: Evening, numbers: str, grids: int
) -> Station:
    """Keep one of the fits for tonight, with the evening it answers. It is worked out again here, never trusted."""
    locked = lock(session, version)
    if locked.state not in STILL_TO_COME:
        raise Refused("This session has taken place.")
    if not put_setup(station, evening, numbers=numbers, grids=grids):
        raise Refused("This set-up doesn't work for these numbers any more. Choose again.", "numbers")
    locked.save(update_fields=["version"])
    return station


def put_setup(station: Station, evening: Evening, *, numbers: str, grids: int) -> bool:
    """Write a fit down for a station whose session is held; False where it doesn't work (any more)."""
    chosen = fitted(station, evening).find(numbers, grids)
    if chosen is None:
        return False
    station.setup = setup_as_kept(chosen, bouts=station.part.bouts)
    station.evening = evening_as_kept(chosen, evening)
    # The rung goes along: a set-up on another rung than the planned one is what is played.
    station.save(update_fields=["setup", "evening", "variation_key"])
    return True


@action
def drop_setup(*, session: TrainingSession, version: int, station: Station) -> Station:
    """Back to the drill as it is written."""
    locked = lock(session, version)
    station.setup = station.evening = None
    station.save(update_fields=["setup", "evening"])
    locked.save(update_fields=["version"])
    return station


def evening_as_kept(setup: SetUp, evening: Evening) -> dict[str, Any]:
    """The evening that a set-up answers, on the piece of ground that it lies on, as plain data."""
    return as_plain(
        replace(evening, pieces=tuple(each for each in evening.pieces if each.key == setup.piece))
    )


def setup_as_kept(setup: SetUp, *, bouts: int) -> dict[str, Any]:
    """A set-up with its teams and rotation as plain data, complete enough for page, phone and paper."""
    colours = [row.colour for row in club.bib_rows() if row.count] or ["red", "blue", "yellow", "green"]
    teams = teams_of(setup.grid_formats, bouts=bouts, bibs=colours, resting=setup.waiting)
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
        "kit": dict(setup.kit),
        "reasons": [each.text for each in setup.reasons],
        "rotation": setup.rotation,
        "teams": [_grid_as_kept(each) for each in teams],
    }


def _grid_as_kept(grid: GridTeams) -> Mapping[str, Any]:
    bouts = grid.rotation.bouts if grid.rotation else ()
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
            for each in bouts
        ],
    }


ACCEPTED = "fit_accepted"
RUNGS = ("easier", "harder")


def keep_accepted_setups(session: TrainingSession) -> None:
    """Write down the last set-up that each part was played with, unless the station has it already. The caller holds the row.

    It is worked out again here; what does not work is left to the events, which keep what the phone said.
    """
    for part, (rung, accepted) in _last(session).items():
        stations = Station.objects.filter(part__session=session, part__public_id=part, revision__isnull=False)
        station = stations.select_related("part").order_by("position").first()
        if station is None or _has(station, accepted):
            continue
        if rung is not None:
            station.variation_key = rung
        with contextlib.suppress(Refused, KeyError, ValueError):
            put_setup(
                station,
                _evening(session, station, accepted),
                numbers=str(accepted.get("numbers", "")),
                grids=int(accepted.get("grids", 1)),
            )


def _last(session: TrainingSession) -> dict[str, tuple[str | None, Mapping[str, Any]]]:
    """By part, the rung and the set-up accepted last; none where it went to another rung afterwards."""
    found: dict[str, tuple[str | None, Mapping[str, Any]]] = {}
    rungs: dict[str, str] = {}
    rows = DeliveryEvent.objects.filter(session=session, kind__in=(ACCEPTED, *RUNGS)).order_by("at", "seq")
    for kind, body in rows.values_list("kind", "body"):
        part = str(body.get("part", ""))
        if kind == ACCEPTED:
            found[part] = rungs.get(part), body.get("setup") or {}
        else:
            rungs[part] = str(body.get("to", ""))
            found.pop(part, None)
    return {part: each for part, each in found.items() if len(part) == 36}


def _has(station: Station, accepted: Mapping[str, Any]) -> bool:
    kept = station.setup or {}
    return bool(kept) and all(kept.get(name) == accepted.get(name) for name in ("numbers", "grids"))


def _evening(session: TrainingSession, station: Station, accepted: Mapping[str, Any]) -> Evening:
    """Who came as the phone said; all else as it was asked before, or as the session has it."""
    evening = station_evening(session, station)
    return with_players(evening, int(accepted.get("players_total") or session.players_expected))
