"""Accepting a set-up for a station: "play it like this tonight"."""

import contextlib
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from club.actions import action
from club.errors import FieldProblem, Refused
from drills import queries as drills
from drills.game.document import DrillDocument
from drills.game.evening import Evening, as_plain
from drills.game.fit import SetUp, kept
from drills.game.fits import Fits, fits
from drills.game.played import bibs_tonight
from drills.game.rooms import ENGINE_VERSION
from sessions import bridge
from sessions.actions.booking import lock
from sessions.choices import STILL_TO_COME
from sessions.models import DeliveryEvent, Station, TrainingSession
from sessions.queries.evening import station_evening, with_players
from sessions.queries.pitch import ACCEPTED
from sessions.queries.rows import expected_of


def fitted(station: Station, evening: Evening) -> Fits:
    """The set-ups that work for a station's drill on this evening, nearest first. Raises Refused with reasons for none."""
    return _fitted(station, evening)[0]


def _fitted(station: Station, evening: Evening) -> tuple[Fits, DrillDocument]:
    if station.revision_id is None:
        raise Refused("There is no drill at this station to fit.")
    document = drills.documents({station.revision_id})[station.revision_id].document
    found = fits(document, station.variation_key, evening)
    if not found:
        raise Refused(FieldProblem("", each.text) for each in found.refusals)
    return found, document


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
    found, document = _fitted(station, evening)
    chosen = found.find(numbers, grids)
    if chosen is None:
        return False
    station.setup = setup_as_kept(chosen, document, station.variation_key, evening)
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


def setup_as_kept(setup: SetUp, document: DrillDocument, rung: str, evening: Evening) -> dict[str, Any]:
    """A set-up whole, in bibs out of the evening's kit, as plain data."""
    return kept.as_plain(kept.Kept(setup, bibs_tonight(document, rung, setup, evening), ENGINE_VERSION))


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
    has = bridge.setup_kept(station)
    return has is not None and (has.setup.numbers, has.setup.grids) == (
        accepted.get("numbers"),
        accepted.get("grids"),
    )


def _evening(session: TrainingSession, station: Station, accepted: Mapping[str, Any]) -> Evening:
    """Who came as the phone said; all else as it was asked before, or as the session has it."""
    evening = station_evening(session, station)
    return with_players(evening, int(accepted.get("players_total") or expected_of(session)))
