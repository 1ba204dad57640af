"""Every part set up for tonight: for how many, and which stations are not yet. The page, the pitch and the API read this."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from drills import queries as drills
from drills.game.evening import Evening
from drills.game.format import MOST_PLAYERS
from drills.queries import StationDrill, club_stock
from sessions import bridge
from sessions.models import Part, Station, TrainingSession
from sessions.planning.fold import playing_now
from sessions.queries.evening import share_of, starting_evening, with_players


@dataclass(frozen=True)
class ToSetUp:
    """A station with a drill and the evening that it is to be set up for; `rung` is the one that it is played on.

    `holds`: its set-up answers as many players already. `begun`: its part is under way or over, and stays as it is.
    """

    part: Part
    station: Station
    drill: StationDrill
    rung: str
    evening: Evening
    holds: bool
    begun: bool


def players_tonight(session: TrainingSession) -> int:
    """Who is there and takes part by the register, trialists among them, as soon as somebody is; else as many as are expected. No query."""
    trialists = len(session.delivery.get("trialists", []))
    return playing_now(bridge.register_of(session).values(), trialists) or session.players_expected


def stations_to_set_up(
    session: TrainingSession, players: int, *, kit: Mapping[str, int] | None = None
) -> list[ToSetUp]:
    """Each station with a drill, in order, for so many players. `kit` is the club's where it is at hand; else it is one query."""
    stock = club_stock() if kit is None else kit
    return list(_stations(session, players, stock))


def set_up_for(part: Part) -> int | None:
    """For how many players a part is set up, all its stations together; None where one with a drill is not yet. No query."""
    rows = [each for each in part.stations.all() if each.revision_id is not None]
    if not rows or any(each.evening is None for each in rows):
        return None
    return next((number for number in range(1, MOST_PLAYERS + 1) if _answered(part, number)), None)


def _stations(session: TrainingSession, players: int, kit: Mapping[str, int]) -> Iterator[ToSetUp]:
    run = bridge.parts_run(session)
    for part in session.parts.all():
        state = run.get(str(part.public_id))
        enough = _answered(part, players)
        for station in part.stations.all():
            if station.revision is None:
                continue
            drill = drills.station_drill(station.revision)
            rung = _rung(station, drill, state.variation if state else None)
            asked = replace(starting_evening(session, station), kit=kit)
            yield ToSetUp(
                part=part,
                station=station,
                drill=drill,
                rung=rung,
                evening=with_players(asked, share_of(players, station)),
                holds=enough and station.setup is not None and rung == station.variation_key,
                begun=state is not None and state.started_at is not None,
            )


def _answered(part: Part, players: int) -> bool:
    """Whether the stations of a part are for so many together; one that is not set up counts as its share."""
    kept = [(each, bridge.evening_kept(each)) for each in part.stations.all()]
    return players == sum(share_of(players, row) if asked is None else asked.players for row, asked in kept)


def _rung(station: Station, drill: StationDrill, changed_to: str | None) -> str:
    """The rung that was chosen at the pitch, where the drill has it; else the planned one."""
    if changed_to is None or changed_to == station.variation_key:
        return str(station.variation_key)
    known = {each.key for each in drill.document.variations}
    return changed_to if changed_to in known or not changed_to else str(station.variation_key)
