"""Accepting a set-up for a station: "play it like this tonight"."""

import contextlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from club import queries as club
from club.actions import action
from club.errors import FieldProblem, Refused
from drills import queries as drills
from drills.game.fit import SetUp, explain_none, fit
from drills.game.playable import design_of
from sessions.actions.booking import lock
from sessions.choices import STILL_TO_COME
from sessions.models import DeliveryEvent, Station, TrainingSession
from sessions.planning.teams import GridTeams, teams_of
from sessions.queries.spaces import largest_piece

LARGEST_M = 130


@dataclass(frozen=True)
class TurnOut:
    """Who came and what space is free, as typed by a coach."""

    players: int
    length_m: float
    width_m: float
    keepers: int | None = None
    adults: int = 1

    def problems(self) -> list[FieldProblem]:
        checks = (
            (1 <= self.players <= 60, "players", "From 1 to 60 players."),
            (0 < self.length_m <= LARGEST_M, "length", f"More than 0 and at most {LARGEST_M} m."),
            (0 < self.width_m <= LARGEST_M, "width", f"More than 0 and at most {LARGEST_M} m."),
            (
                self.keepers is None or 0 <= self.keepers <= self.players,
                "keepers",
                "Not more than the players.",
            ),
            (0 <= self.adults <= 20, "adults", "From 0 to 20 adults."),
        )
        return [FieldProblem(field, text) for fine, field, text in checks if not fine]


def fitted(station: Station, turn_out: TurnOut) -> list[SetUp]:
    """The set-ups that work for a station's drill tonight, nearest first. Raises Refused with reasons for none."""
    problems = turn_out.problems()
    if problems:
        raise Refused(problems)
    if station.revision_id is None:
        raise Refused("There is no drill at this station to fit.")
    drill = drills.documents({station.revision_id})[station.revision_id]
    design = design_of(drill.document, station.variation_key)
    asked: dict[str, Any] = {
        "players": turn_out.players,
        "keepers": turn_out.keepers,
        "adults": turn_out.adults,
        "length_m": turn_out.length_m,
        "width_m": turn_out.width_m,
        "kit": _kit(),
    }
    found = fit(design, **asked)
    if not found:
        raise Refused(FieldProblem("", each.text) for each in explain_none(design, **asked))
    return found


def _kit() -> dict[str, int] | None:
    """What the club has; None, which limits nothing, for a club that hasn't listed its kit yet."""
    stock = club.kit_stock()
    return stock if any(stock.values()) else None


@action
def accept_setup(
    *, session: TrainingSession, version: int, station: Station, turn_out: TurnOut, numbers: str, grids: int
) -> Station:
    """Keep one of the fits for tonight, with the turn-out it answers. It is worked out again here, never trusted."""
    locked = lock(session, version)
    if locked.state not in STILL_TO_COME:
        raise Refused("This session has taken place.")
    if not put_setup(station, turn_out, numbers=numbers, grids=grids):
        raise Refused("This set-up doesn't work for these numbers any more. Choose again.", "numbers")
    locked.save(update_fields=["version"])
    return station


def put_setup(station: Station, turn_out: TurnOut, *, numbers: str, grids: int) -> bool:
    """Write a fit down for a station whose session is held; False where it doesn't work (any more)."""
    found = fitted(station, turn_out)
    chosen = next((each for each in found if (each.numbers, each.grids) == (numbers, grids)), None)
    if chosen is None:
        return False
    station.setup = setup_as_kept(chosen, bouts=station.part.bouts)
    station.setup_input = {
        "players": turn_out.players,
        "keepers": turn_out.keepers,
        "adults": turn_out.adults,
        "length_m": turn_out.length_m,
        "width_m": turn_out.width_m,
    }
    # The rung goes along: a set-up on another rung than the planned one is what is played.
    station.save(update_fields=["setup", "setup_input", "variation_key"])
    return True


@action
def drop_setup(*, session: TrainingSession, version: int, station: Station) -> Station:
    """Back to the drill as it is written."""
    locked = lock(session, version)
    station.setup = station.setup_input = None
    station.save(update_fields=["setup", "setup_input"])
    locked.save(update_fields=["version"])
    return station


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
AMPLE = {"length_m": 100.0, "width_m": 60.0, "adults": 1, "keepers": None}  # where nothing is booked


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
        with contextlib.suppress(Refused, KeyError):
            put_setup(
                station,
                _turn_out(session, station, accepted),
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


def _turn_out(session: TrainingSession, station: Station, accepted: Mapping[str, Any]) -> TurnOut:
    """Who came as the phone said; the space that was asked for before, else tonight's."""
    piece = largest_piece(session)
    booked = {**AMPLE, **({"length_m": piece.length_m, "width_m": piece.width_m} if piece else {})}
    asked = {**booked, **(station.setup_input or {})}
    return TurnOut(
        players=int(accepted.get("players_total") or session.players_expected),
        length_m=asked["length_m"],
        width_m=asked["width_m"],
        keepers=asked["keepers"],
        adults=asked["adults"],
    )
