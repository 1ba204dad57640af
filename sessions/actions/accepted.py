"""What was accepted at the pitch without signal becomes the station's own set-up when the events come in."""

import contextlib
from collections.abc import Mapping
from typing import Any

from club.errors import Refused
from sessions.actions.setups import TurnOut, put_setup
from sessions.models import DeliveryEvent, Station, TrainingSession
from sessions.queries.spaces import largest_space

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
    length_m, width_m = largest_space(session) or (AMPLE["length_m"], AMPLE["width_m"])
    booked = {**AMPLE, "length_m": length_m, "width_m": width_m}
    asked = {**booked, **(station.setup_input or {})}
    return TurnOut(
        players=int(accepted.get("players_total") or session.players_expected),
        length_m=asked["length_m"],
        width_m=asked["width_m"],
        keepers=asked["keepers"],
        adults=asked["adults"],
    )
