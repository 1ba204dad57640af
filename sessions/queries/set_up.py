"""Every part set up for tonight: for how many, and which stations are not yet. The page, the pitch and the API read this."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from drills import queries as drills
from drills.game.evening import Evening
from drills.game.fit import OTHER_RUNG, SetUp
from drills.game.fits import holds
from drills.game.format import MOST_PLAYERS
from drills.game.reasons import Reason
from drills.queries import StationDrill, club_stock
from sessions import bridge
from sessions.choices import STILL_TO_COME
from sessions.models import Part, Station, TrainingSession
from sessions.queries.evening import ages_of, share_of, starting_evening, with_players
from sessions.queries.rows import expected_of


@dataclass(frozen=True)
class ToSetUp:
    """A station with a drill and the evening that it is to be set up for; `rung` is the one that it is played on.

    `stale` says why its set-up is not one for that evening: nothing where it holds, where there is none, and once its
    part has begun (`begun`) or the session is over, which stay as they are.
    """

    part: Part
    station: Station
    drill: StationDrill
    rung: str
    evening: Evening
    begun: bool
    is_set_up: bool
    stale: tuple[Reason, ...]

    @property
    def is_settled(self) -> bool:
        """Whether nothing is left to be set up at it: its set-up holds, or its part has begun."""
        return self.holds or self.begun

    @property
    def holds(self) -> bool:
        """Whether it has a set-up that can be played as it is."""
        return self.is_set_up and not self.stale


def players_tonight(session: TrainingSession) -> int:
    """Who is there and takes part by the register, as soon as somebody is; until then as many heads as were counted; else
    as many as are expected, without who is out until lifted. No query.

    Once a session is over it is the number that was planned: who came stands in the attendance.
    """
    if session.state not in STILL_TO_COME:
        return session.players_expected
    return bridge.counted(session) or expected_of(session)


def looked_after_tonight(session: TrainingSession) -> int:
    """For how many players adults are needed: those of `players_tonight`, and whoever watches. No query."""
    there = 0
    if session.state in STILL_TO_COME:
        there = bridge.there(session)
    return max(there, players_tonight(session))


def stations_to_set_up(
    session: TrainingSession, players: int, *, kit: Mapping[str, int] | None = None
) -> list[ToSetUp]:
    """Each station with a drill, in order, for so many players. `kit` is the club's where it is at hand; else it is one query."""
    stock = club_stock() if kit is None else kit
    return [
        station_to_set_up(session, station, players, kit=stock)
        for part in session.parts.all()
        for station in part.stations.all()
        if station.revision is not None
    ]


def set_up_for(part: Part) -> int | None:
    """For how many players a part is set up, all its stations together; None where one with a drill is not yet. No query."""
    rows = [each for each in part.stations.all() if each.revision_id is not None]
    if not rows or any(each.evening is None for each in rows):
        return None
    return next((number for number in range(1, MOST_PLAYERS + 1) if _answered(part, number)), None)


def station_to_set_up(
    session: TrainingSession, station: Station, players: int, *, kit: Mapping[str, int]
) -> ToSetUp:
    """One station with a drill, for so many players in its session. No query."""
    assert station.revision is not None
    part, drill = station.part, drills.station_drill(station.revision)
    run = bridge.parts_run(session).get(str(part.public_id))
    # Another drill is played in its place: its own is not to be set up.
    begun = run is not None and (run.started_at is not None or run.swap is not None)
    kept, rung = bridge.kept_at(station), _rung(station, drill, run.variation if run else None)
    asked = replace(starting_evening(session, station), kit=kit, ages=ages_of(session.age_group))
    here = with_players(asked, share_of(players, station))
    stale: tuple[Reason, ...] = ()
    if kept.setup and kept.evening and not begun and session.state in STILL_TO_COME:
        # Whoever shares a part otherwise than evenly meant it so, as long as all are accounted for.
        there = kept.evening.players if _answered(part, players) else here.players
        now = with_players(replace(asked, keepers=kept.evening.keepers), there)
        stale = _stale(drill, station.variation_key, rung, kept.setup.setup, now)
    return ToSetUp(part, station, drill, rung, here, begun, kept.setup is not None, stale)


def _stale(drill: StationDrill, key: str, rung: str, setup: SetUp, now: Evening) -> tuple[Reason, ...]:
    found = holds(drill.document, key, setup, now).reasons
    return found if key == rung else (OTHER_RUNG, *found)


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
