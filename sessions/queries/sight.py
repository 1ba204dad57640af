"""Where the stations of a session lie, pitch by pitch, and which keepers' stations are out of a second adult's sight."""

from collections.abc import Mapping, Sequence
from typing import Any

from drills.game.document.choices import Activity
from sessions.models import TrainingSession
from sessions.planning.plan import PlannedPart
from sessions.planning.reasons import PlanningReason
from sessions.planning.sight import StationAt, sight_reasons
from sessions.queries.adults import Adults, adults_of
from sessions.queries.laying import StationToLay, evening_to_lay, laid_out, station_name
from sessions.queries.rows import zones_of
from sessions.queries.station import StationView

StationsOfPart = Sequence[StationView]


def sight_of(
    session: TrainingSession, planned: Sequence[PlannedPart], parts: Sequence[StationsOfPart]
) -> list[PlanningReason]:
    """What stands against keepers' stations that are apart. No query.

    Only where a session holds several pitches does it matter where the grids are laid, so only then are they looked for.
    """
    if session.age_group.ages.supervised_years is None:
        return []
    apart = [len(stations) > 1 and any(map(_of_keepers, stations)) for stations in parts]
    if not any(apart):
        return []
    where, adults = _pitches(session, parts), adults_of(session)
    found: list[PlanningReason] = []
    for number, (part, stations) in enumerate(zip(planned, parts, strict=True), start=1):
        if apart[number - 1]:
            at = [
                StationAt(
                    where.get(station_name(number, index, len(stations)), ""),
                    _of_keepers(each),
                    _counts(each, adults),
                )
                for index, each in enumerate(stations)
            ]
            found += sight_reasons(part.key, at, adults.number)
    return found


def _of_keepers(station: Any) -> bool:
    return station.row.stays or (
        station.document is not None and station.document.activity == Activity.KEEPER
    )


def _counts(station: Any, adults: Adults) -> bool:
    """Whether the adult who is named for a station counts; where nobody is named, one of those who do is meant."""
    return station.row.adult is None or str(station.row.adult.public_id) in adults.counted


def _pitches(session: TrainingSession, parts: Sequence[StationsOfPart]) -> Mapping[str, str]:
    """The pitch of each station by the name of its grids; with one pitch, or none, all are on the same."""
    pitches = list(dict.fromkeys(each["pitch"] for each in zones_of(session)))
    if len(pitches) < 2:
        return {
            station_name(number, index, len(stations)): "".join(pitches)
            for number, stations in enumerate(parts, start=1)
            for index in range(len(stations))
        }
    found: dict[str, str] = {}
    for part in laid_out(evening_to_lay(session), [_to_lay(each) for each in parts]):
        for grid in part.layout.placed:
            on = next((pitch for pitch in pitches if grid.space.startswith(f"{pitch}: ")), "")
            found.setdefault(grid.key.split(".")[0], on)
    return found


def _to_lay(stations: StationsOfPart) -> list[Any]:
    return [
        StationToLay.of(each.tonight, str(index)) if each.tonight else None
        for index, each in enumerate(stations)
    ]
