"""A station as it is played tonight: its drill in tonight's numbers and bibs, its set-up, and whether that still holds."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from uuid import UUID

from drills import queries as drills
from drills.game.bibs import Wear
from drills.game.design import Design
from drills.game.document import DrillDocument
from drills.game.evening import Evening, PlayerAges
from drills.game.fit import SetUp
from drills.game.playable import design_of
from drills.game.played import Played, as_played
from drills.game.reasons import Reason as GameReason
from drills.game.variations import find
from drills.queries import StationDrill
from sessions import bridge
from sessions.models import Station, TrainingSession
from sessions.planning.inplay import playing_share
from sessions.planning.teams import GridTeams, teams_tonight
from sessions.queries.evening import ages_of, share_of
from sessions.queries.laying import StationToLay
from sessions.queries.set_up import ToSetUp, players_tonight, set_up_for, station_to_set_up


@dataclass(frozen=True)
class StationView:
    """A station with its drill as it is played tonight: `tonight` is what every page, sheet and answer reads of it."""

    row: Station
    drill: StationDrill | None
    setup: SetUp | None
    bibs: tuple[Wear, ...]
    to_set_up: ToSetUp | None = None  # as it stands for who is there tonight; None without a drill
    in_play: float | None = None
    setup_for: int = 0  # players that the stations of its part are set up for together
    evening: Evening | None = None  # what its set-up answers
    lost: str = ""  # why its set-up can't be read here: it is as if there were none
    ages: PlayerAges | None = None  # of the session's age group, with its format

    @property
    def stale(self) -> tuple[GameReason, ...]:
        """Why its set-up is not one for tonight any more."""
        return self.to_set_up.stale if self.to_set_up else ()

    @property
    def setup_is_stale(self) -> bool:
        return bool(self.stale)

    @cached_property
    def tonight(self) -> Played | None:
        """The drill as it is run; None where there is none."""
        if self.drill is None:
            return None
        return as_played(
            self.drill.document, self.row.variation_key, self.setup, self.bibs, players=self.ages
        )

    @property
    def document(self) -> DrillDocument | None:
        """The drill in tonight's numbers and colours."""
        return self.tonight.document if self.tonight else None

    @property
    def kit(self) -> Mapping[str, int]:
        return self.tonight.kit if self.tonight else {}

    @property
    def variation_title(self) -> str:
        variation = find(self.drill.document, self.row.variation_key) if self.drill else None
        return variation.title if variation else ""

    @property
    def teams(self) -> tuple[GridTeams, ...]:
        """The teams of each grid and how whole ones go round, for the rounds of its part; none without a drill."""
        return teams_tonight(self.tonight, self.row.part.bouts) if self.tonight else ()

    @property
    def headers(self) -> int:
        """Headers per player that are planned at it."""
        return self.document.headers_planned if self.document else 0

    @property
    def title(self) -> str:
        return self.drill.title if self.drill else self.row.place


def station_view(
    session: TrainingSession, row: Station, *, kit: Mapping[str, int] | None = None
) -> StationView:
    """A station as it is played tonight, from rows that are at hand. No query.

    `kit` is the club's, as Fit counts it; whoever shows nothing of what is stale may leave it out.
    """
    if row.revision is None:
        return StationView(row, None, None, ())
    drill = drills.station_drill(row.revision)
    kept = bridge.kept_at(row)
    setup = kept.setup.setup if kept.setup else None
    evening = kept.evening
    tonight = players_tonight(session)
    here = evening.players if setup and evening else share_of(tonight, row)
    setup_for = set_up_for(row.part) or tonight
    design = design_of(drill.document, row.variation_key)
    return StationView(
        row=row,
        drill=drill,
        setup=setup,
        bibs=kept.setup.bibs if kept.setup else (),
        to_set_up=station_to_set_up(session, row, tonight, kit=kit or {}),
        setup_for=setup_for,
        evening=evening,
        lost=kept.lost,
        ages=ages_of(session.age_group),
        in_play=(here - setup.waiting) / here if setup else in_play_as_written(design, here),
    )


def station_of(session: TrainingSession, public_id: UUID | str) -> StationView | None:
    """One station of a session whose rows are at hand. No query."""
    every = [each for part in session.parts.all() for each in part.stations.all()]
    found = next((each for each in every if str(each.public_id) == str(public_id)), None)
    return station_view(session, found) if found else None


def in_play_as_written(design: Design, players: int) -> float | None:
    """Share of so many players in play where a drill is played as it is written."""
    return playing_share(
        players,
        design.format.players,
        planned_waiting=design.planned_waiting,
        anyone_can_join=design.anyone_can_join,
    )


def to_lay(stations: Iterable[StationView]) -> list[StationToLay | None]:
    """The stations as the lay-out and the set-up plan take them; None for one without a drill."""
    return [
        StationToLay.of(each.tonight, str(each.drill.drill_public_id))
        if each.tonight and each.drill
        else None
        for each in stations
    ]
