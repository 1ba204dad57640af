"""An evening on the ground: where the grids of its parts lie, and when everything on them is laid. One figure for all who show it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from club import queries as club
from drills.game.document import DrillDocument
from drills.game.evening import Piece
from drills.game.margins import BETWEEN_M
from drills.game.played import Played
from sessions.models import TrainingSession
from sessions.planning.laying import Crew, GridAt, PartToLay, PlacedKit, SetUpPlan, set_up_plan, things_of
from sessions.planning.layout import GridToLay, KeptLayout, grids_of, lay_out_evening
from sessions.planning.layout.ground import decimetres
from sessions.planning.plan import PlannedPart
from sessions.planning.supervision import AdultRule, adults_needed
from sessions.queries.adults import adults_of
from sessions.queries.evening import ages_of, pieces_of
from sessions.queries.guides import adult_rule_for
from sessions.queries.set_up import looked_after_tonight

_LETTERS = "abcdefgh"
WATCHED_YEARS = (
    8  # up to this age one adult stays with the children in a changeover (common practice, no source)
)


@dataclass(frozen=True)
class StationToLay:
    """A station with a drill: the drill as it is played, which it is, what has to be carried, and its grids.

    `sizes` are format, length and width of each grid that stands at the same time; `off` is how many players wait.
    """

    document: DrillDocument
    drill: str
    kit: Mapping[str, int]
    sizes: Sequence[tuple[str, float, float]]
    off: int = 0

    @classmethod
    def of(cls, tonight: Played, drill: str) -> "StationToLay":
        """A drill as it is run."""
        sizes = [(str(each.format), each.length_m, each.width_m) for each in tonight.grids]
        return cls(tonight.document, drill, tonight.kit, sizes, tonight.off)

    @property
    def waits(self) -> bool:
        return self.document.queue is not None or self.off > 0


Stations = Sequence[StationToLay | None]


@dataclass(frozen=True)
class EveningToLay:
    """Who is there and on what ground; `oldest` is under n, `rule` the figure of supervision in force."""

    pieces: tuple[Piece, ...]
    oldest: int | None
    adults: int
    players: int
    youngest_years: int | None
    rule: AdultRule | None
    pace_m: float = 1.0

    @property
    def crew(self) -> Crew:
        """One stays with the youngest in a changeover; older ones drink in sight of those who lay."""
        young = self.youngest_years is not None and self.youngest_years <= WATCHED_YEARS
        return Crew(self.adults, 1 if young else 0)

    @property
    def looked_after(self) -> int:
        """Adults whom the players need at all times."""
        return adults_needed(self.players, self.rule)


def evening_to_lay(session: TrainingSession) -> EveningToLay:
    """A session's own evening. No query beyond the club's settings and its figures in force."""
    return EveningToLay(
        pieces=pieces_of(session),
        oldest=ages_of(session.age_group).under_high,
        adults=adults_of(session).number,
        players=looked_after_tonight(session),
        youngest_years=session.age_group.ages.supervised_years,
        rule=adult_rule_for(session.age_group, session.day),
        pace_m=float(club.club_settings().pace_m),
    )


def station_name(part: int, index: int, stations: int) -> str:
    """What a station's grids are called, parts counted from 1: `2`, or `2a` and `2b` beside each other."""
    return f"{part}{_LETTERS[index % len(_LETTERS)]}" if stations > 1 else str(part)


def laid_out(evening: EveningToLay, parts: Sequence[Stations]) -> tuple[KeptLayout, ...]:
    """Where the grids of each part lie; nowhere, where nothing is booked."""
    if not evening.pieces:
        return ()
    grids = [
        tuple(_grids(number, stations, evening.oldest)) for number, stations in enumerate(parts, start=1)
    ]
    return lay_out_evening(grids, evening.pieces, pace_m=evening.pace_m)


def _grids(number: int, stations: Stations, oldest: int | None) -> Iterator[GridToLay]:
    for index, each in enumerate(stations):
        if each is not None:
            name = station_name(number, index, len(stations))
            yield from grids_of(each.document, each.sizes, key=name, waiting=each.waits, under=oldest)


def laying_of(
    evening: EveningToLay,
    planned: Sequence[PlannedPart],
    parts: Sequence[Stations],
    stock: Mapping[str, int],
) -> SetUpPlan:
    """The set-up plan of an evening: `parts` are the stations of each planned part, in order."""
    kept = laid_out(evening, parts)
    to_lay = []
    for index, (part, stations) in enumerate(zip(planned, parts, strict=True)):
        placed = kept[index].layout.placed if kept else ()
        grids, things = _on_ground(index + 1, stations, {each.key: GridAt.of(each) for each in placed})
        to_lay.append(
            PartToLay(
                key=part.key,
                things=things,
                grids=grids,
                play_s=60 * part.minutes,
                changeover_s=part.changeover_s,
                needed=max(evening.looked_after, _adults_at(stations)),
            )
        )
    return set_up_plan(to_lay, evening.crew, stock)


def _adults_at(stations: Stations) -> int:
    """An adult at each station, or as many as its drill asks for."""
    return sum(1 if each is None else each.document.adults for each in stations)


def _on_ground(
    number: int, stations: Stations, placed: Mapping[str, GridAt]
) -> tuple[tuple[GridAt, ...], tuple[PlacedKit, ...]]:
    """The grids of a part and all that stands on them. Two stations never have one thing in the same place twice."""
    grids: list[GridAt] = []
    things: dict[PlacedKit, None] = {}
    at_m = 0.0
    for index, each in enumerate(stations):
        if each is None:
            continue
        name = station_name(number, index, len(stations))
        own = [grid for key, grid in placed.items() if key == name or key.startswith(f"{name}.")]
        if not own:
            own, at_m = _in_a_row(each, at_m)
        grids += own
        drill = f"{each.drill} {index}" if len(stations) > 1 else each.drill
        things |= dict.fromkeys(things_of(each.document, each.kit, own, drill=drill, first=number == 1))
    return tuple(grids), tuple(things)


def _in_a_row(station: StationToLay, at_m: float) -> tuple[list[GridAt], float]:
    """Grids without a place, side by side from one corner, so that those of the same size find theirs standing."""
    found = []
    for _format, length_m, width_m in station.sizes:
        box = (decimetres(at_m), 0, decimetres(length_m), decimetres(width_m))
        found.append(GridAt("", box, box))
        at_m += length_m + BETWEEN_M
    return found, at_m
