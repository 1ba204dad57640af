"""What a rotation of players is made from: the places of a station, and who is here for which bouts."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from club import queries as club
from club import reading
from club.actor import Actor
from drills.game.bibs import COLOURS
from drills.game.format import Format
from sessions.choices import Attendance
from sessions.planning.clock import ClockSpell
from sessions.planning.rotation import TeamPlaces
from sessions.planning.rotation.tonight import RESTING
from sessions.planning.teams import GridTeams as Made
from sessions.planning.teams import teams_of, teams_tonight
from sessions.queries.pitch import PlayerShown, players_for
from sessions.queries.plan import PartView
from sessions.queries.station import StationView

OUTSIDE_ONLY = "outside_only"
NO_CONTACT = "no_contact"
GRACE = timedelta(seconds=45)  # who comes that much into a bout still plays it


@dataclass(frozen=True)
class GridBibs:
    """The bibs of one grid with their players and where they begin; those that rest are among them."""

    teams: tuple[tuple[str, int, str], ...]
    keepers: int


@dataclass(frozen=True)
class RotationPlaces:
    """The bibs of a station with their places in each bout, those that rest at first too; keepers over all grids."""

    teams: tuple[TeamPlaces, ...]
    keepers: int
    short: tuple[tuple[str, int, int], ...]  # colour, needed over all grids, there
    grids: tuple[GridBibs, ...] = ()

    @property
    def total(self) -> int:
        return sum(each.places for each in self.teams if each.place != RESTING) + self.keepers


@dataclass(frozen=True)
class Here:
    """A player who takes part, for the bouts from `first` to `last`, with tonight's limits."""

    player: PlayerShown
    first: int
    last: int
    outside_only: bool = False
    most_min: int | None = None


def places_of(station: StationView, bouts: int) -> RotationPlaces:
    """The places of a station as it is played tonight, else as it is written, in the club's own bibs."""
    stock = {row.colour: row.count for row in club.bib_rows() if row.count}
    grids = _grids(station, bouts)
    teams = [TeamPlaces(bib, players, place) for grid in grids for bib, players, place in grid.teams]
    needed = station.tonight.bibs if station.tonight else {bib: players for bib, players, _ in grids[0].teams}
    short = tuple(
        (colour, count, stock.get(colour, 0))
        for colour, count in needed.items()
        if stock and count > stock.get(colour, 0)
    )
    return RotationPlaces(tuple(teams), sum(grid.keepers for grid in grids), short, grids)


def _grids(station: StationView, bouts: int) -> tuple[GridBibs, ...]:
    made = teams_tonight(station.tonight, bouts) if station.tonight else _plain(bouts)
    seen: Counter[str] = Counter()
    found = []
    for grid in made:
        teams = []
        for each in grid.teams:
            seen[each.bib] += 1
            # The same colour on another grid is another team.
            bib = each.bib if seen[each.bib] == 1 else f"{each.bib} {seen[each.bib]}"
            teams.append((bib, each.players, each.place))
        found.append(GridBibs(tuple(teams), grid.keepers))
    return tuple(found)


def _plain(bouts: int) -> tuple[Made, ...]:
    """Four against four, where there is no drill to say."""
    return teams_of([Format.parse("4v4")], bouts=max(1, bouts), bibs=[list(COLOURS[:2])])


def here(actor: Actor, session: Any, part: PartView) -> list[Here]:
    """Who takes part in a part, by shirt number and name; before the register is taken, everybody of the squad.

    The session was read with its turns (`session_with_turns`).
    """
    players = players_for(actor, session)
    rows: list[dict[str, Any]] = session.register_rows
    lines = {str(reading.outer_id(row["player"])): row for row in rows}
    spells = [each for each in part.times.spells if each.kind == "bout"]
    found = [_line(each, lines.get(each.id), bool(lines), spells) for each in players]
    shown = [each for each in found if each is not None]
    return sorted(shown, key=lambda each: (each.player.shirt or 999, each.player.name))


def _line(
    player: PlayerShown, row: Mapping[str, Any] | None, taken: bool, spells: Iterable[ClockSpell]
) -> Here | None:
    bouts = list(spells)
    if player.out:
        return None  # until a coach of theirs lifts it, whatever the register says
    if row is None:
        return None if taken else Here(player, 1, len(bouts))
    if row["state"] in (Attendance.ABSENT, Attendance.WATCHING):
        return None
    came_at, left_at = _moment(row["came_at"]), _moment(row["left_at"])
    there = [
        each.number
        for each in bouts
        if (came_at is None or came_at <= each.starts_at + GRACE)
        and (left_at is None or left_at >= each.ends_at - GRACE)
    ]
    if not there:
        return None
    limits = row["limits"]
    most = next((reading.whole(text.split()[2]) for text in limits if text.startswith("at most ")), None)
    outside = OUTSIDE_ONLY in limits or NO_CONTACT in limits
    return Here(player, there[0], there[-1], outside, most)


def _moment(text: str | None) -> datetime | None:
    return reading.moment(text) if text else None
