"""Who is where in which bout of one night: teams by bib, loans, minutes inside, outside and waiting."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field

from sessions.planning.numbers import whole
from sessions.planning.reasons import PlanningReason

INSIDE, OUTSIDE, RESTING, KEEPER = "inside", "outside", "resting", "keeper"
Pair = tuple[str, str]


@dataclass(frozen=True, slots=True)
class TeamPlaces:
    """A bib and how many places it has in each bout; `place` is where it begins: inside, outside, or resting.

    A bib that rests has its players in it only where whole teams go round; else whoever rests waits in turn. Raises
    ValueError naming the field.
    """

    bib: str
    places: int
    place: str = INSIDE

    def __post_init__(self) -> None:
        whole(f"teams {self.bib}", self.places, 0)
        if self.place not in (INSIDE, OUTSIDE, RESTING):
            raise ValueError(f"place: must be {INSIDE}, {OUTSIDE} or {RESTING}, not {self.place!r}")


@dataclass(frozen=True, slots=True)
class InBib:
    """Who wears a bib in one bout, and where that bib plays. Keepers have the bib `keeper`."""

    bib: str
    place: str
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PeopleBout:
    """One bout. `loans` are (player, own bib, bib played for) where a short team borrows, or a long one lends, somebody."""

    number: int
    teams: tuple[InBib, ...]
    waiting: tuple[str, ...] = ()
    away: tuple[str, ...] = ()
    loans: tuple[tuple[str, str, str], ...] = ()

    def place_of(self, name: str) -> tuple[str, str]:
        """(place, bib) of a player: waiting and away have no bib."""
        for team in self.teams:
            if name in team.names:
                return (INSIDE if team.place == KEEPER else team.place), team.bib
        return ("waiting" if name in self.waiting else "away"), ""


@dataclass(frozen=True, slots=True)
class Shares:
    """Minutes of one player. `share` is minutes in play, inside or outside, ÷ minutes present; None when never there."""

    inside_min: float
    outside_min: float
    waiting_min: float

    @property
    def present_min(self) -> float:
        return self.inside_min + self.outside_min + self.waiting_min

    @property
    def in_play_min(self) -> float:
        return self.inside_min + self.outside_min

    @property
    def share(self) -> float | None:
        """In play ÷ present, 0 to 1; None for who was never there."""
        return self.in_play_min / self.present_min if self.present_min else None

    def plus(self, other: Shares) -> Shares:
        """The minutes of both, added."""
        return Shares(
            self.inside_min + other.inside_min,
            self.outside_min + other.outside_min,
            self.waiting_min + other.waiting_min,
        )


@dataclass(frozen=True, slots=True)
class PeopleRotation:
    """The night. `whole_teams` says that teams go round together.

    `spread_min` is the widest difference of waiting in minutes between players who take their turn of it (of minutes
    outside, where nobody waits), `bound_min` the least any plan can reach; `proven` is true only where it is met.
    `changes` counts changes of bib; `cycle` is how many bouts it takes to come out even.
    """

    bouts: tuple[PeopleBout, ...]
    bout_min: float
    whole_teams: bool
    spread_min: float
    bound_min: float
    proven: bool
    changes: int
    cycle: int
    reasons: tuple[PlanningReason, ...] = ()
    names: tuple[str, ...] = ()

    def swaps(self) -> list[int]:
        """For each break between two bouts, how many put on another bib than they wore before."""
        worn: dict[str, str] = {}
        found = []
        for bout in self.bouts:
            now = {name: team.bib for team in bout.teams for name in team.names}
            found.append(sum(worn.get(name, bib) != bib for name, bib in now.items()))
            worn |= now
        return found[1:]

    def shares(self) -> dict[str, Shares]:
        """Minutes inside, outside and waiting of everybody."""
        counts = {name: Counter(bout.place_of(name)[0] for bout in self.bouts) for name in self.names}
        return {
            name: Shares(
                each[INSIDE] * self.bout_min, each[OUTSIDE] * self.bout_min, each["waiting"] * self.bout_min
            )
            for name, each in counts.items()
        }


@dataclass(frozen=True, slots=True)
class RotationLimits:
    """What limits single players: bouts are numbered from 1. All by name.

    `together` wear one bib whenever both play, `apart` never do; in goal nobody is with anybody.
    """

    keepers: tuple[str, ...] = ()  # pinned in goal and exempt from waiting
    outside_only: frozenset[str] = frozenset()
    most_min: Mapping[str, float] = field(default_factory=dict)
    presence: Mapping[str, tuple[int, int]] = field(default_factory=dict)
    together: tuple[Pair, ...] = ()
    apart: tuple[Pair, ...] = ()
