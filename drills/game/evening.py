"""Tonight: who came, on what ground, with which kit. Everything that asks Fit asks it with an `Evening`.

The edges of a piece of ground are seen along its length: `left` and `right` are its short ends, `bottom` and `top` its
long sides; its length runs from left to right, its width from bottom to top.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Literal, get_args

import msgspec

from club.ages import Ages
from drills.game.document.choices import GoalSize
from drills.game.format import MOST_PLAYERS
from drills.game.space import ALL_EDGES, LONGEST_M, Edge
from drills.game.wording.rendering import text_of
from drills.game.wording.shapes import Sentence

# What stands at an edge. fence: a fence, wall or hedge, where a ball stops and a child can run into it. group: another
# group may train there. open: free ground beyond.
Stands = Literal["fence", "group", "open"]
STANDS: tuple[Stands, ...] = get_args(Stands)
ENDS: tuple[Edge, Edge] = ("left", "right")
SIDES: tuple[Edge, Edge] = ("bottom", "top")


@dataclass(frozen=True, slots=True)
class FixedGoal:
    """A goal that can't be moved. `along` is its middle as a share of its edge, from the left or from the bottom.

    Raises ValueError naming the field.
    """

    edge: Edge
    along: float
    size: GoalSize

    def __post_init__(self) -> None:
        if self.edge not in ALL_EDGES:
            raise ValueError(f"edge: must be one of {', '.join(ALL_EDGES)}, not {self.edge!r}")
        if not 0 <= self.along <= 1:
            raise ValueError(f"along: must be a share from 0 to 1, not {self.along!r}")
        if self.size not in tuple(GoalSize):
            raise ValueError(f"size: must be one of {', '.join(GoalSize)}, not {self.size!r}")


@dataclass(frozen=True, slots=True)
class Piece:
    """Ground in one piece, a rectangle in metres, with what stands at each edge. Typed lengths mean open edges.

    Raises ValueError naming the field.
    """

    key: str
    length_m: float
    width_m: float
    left: Stands = "open"
    right: Stands = "open"
    bottom: Stands = "open"
    top: Stands = "open"
    goals: tuple[FixedGoal, ...] = ()

    def __post_init__(self) -> None:
        for name, metres in (("length_m", self.length_m), ("width_m", self.width_m)):
            if not (math.isfinite(metres) and metres > 0):
                raise ValueError(f"{name}: must be more than 0, not {metres}")
        for edge in ALL_EDGES:
            if self.at(edge) not in STANDS:
                raise ValueError(f"{edge}: must be one of {', '.join(STANDS)}, not {self.at(edge)!r}")

    @property
    def area_m2(self) -> float:
        """Length × width."""
        return self.length_m * self.width_m

    def at(self, edge: Edge) -> Stands:
        """What stands at an edge."""
        stands: Stands = getattr(self, edge)
        return stands

    def edges(self, stands: Stands) -> tuple[Edge, ...]:
        """The edges where this stands, in the order of `ALL_EDGES`."""
        return tuple(edge for edge in ALL_EDGES if self.at(edge) == stands)

    def edge_m(self, edge: Edge) -> float:
        """How long an edge is, in metres."""
        return self.width_m if edge in ("left", "right") else self.length_m

    def cut(self, parts: int) -> tuple[Piece, ...]:
        """So many even shares, cut across the longer side, from the left or the bottom; beyond each cut another group
        trains.

        A fixed goal belongs to the share that its middle stands in, the one before where it stands on a cut. Raises
        ValueError for fewer than one part.
        """
        if parts < 1:
            raise ValueError(f"parts: must be at least 1, not {parts}")
        lengthways = self.length_m >= self.width_m
        first, last = ENDS if lengthways else SIDES
        side = "length_m" if lengthways else "width_m"
        shares = []
        for number in range(parts):
            of_share: dict[str, Any] = {side: getattr(self, side) / parts}
            of_share |= {first: "group"} if number else {}
            of_share |= {last: "group"} if number < parts - 1 else {}
            goals = tuple(_goals_of_share(self.goals, first, last, number, parts))
            shares.append(replace(self, goals=goals, **of_share))
        return tuple(shares)


def _goals_of_share(
    goals: tuple[FixedGoal, ...], first: Edge, last: Edge, number: int, parts: int
) -> Iterator[FixedGoal]:
    for goal in goals:
        share = 0 if goal.edge == first else parts - 1 if goal.edge == last else None
        if share is None:
            share = max(0, math.ceil(goal.along * parts) - 1)
            goal = replace(goal, along=min(1.0, max(0.0, goal.along * parts - share)))
        if share == number:
            yield goal


@dataclass(frozen=True, slots=True)
class PlayerAges:
    """The ages of tonight's players: *under n* of the youngest and the oldest year group (None: no upper limit).

    `youngest_years` is the age that everybody has reached on any day of the season. Raises ValueError naming the field.
    """

    under_low: int
    under_high: int | None
    youngest_years: int
    a_side: int | None = None  # players of one side in the group's matches; None: not said
    # The room that each has on their match pitch by the row in force at the club, in m²; None: as published.
    match_m2_each: float | None = None

    def __post_init__(self) -> None:
        if self.under_high is not None and self.under_high < self.under_low:
            raise ValueError("under_high: must not be below under_low")
        if self.match_m2_each is not None and not 0 < self.match_m2_each < math.inf:
            raise ValueError("match_m2_each: must be more than 0")


# Where nobody said how much ground there is: as much as anything takes.
AMPLE = Piece("", float(LONGEST_M), float(LONGEST_M))


def typed_ground(length_m: float | None, width_m: float | None) -> tuple[Piece, ...]:
    """Ground as somebody typed it, in metres; of a side that was not said there is as much as it takes."""
    if length_m is None and width_m is None:
        return ()
    return (Piece("", length_m or AMPLE.length_m, width_m or AMPLE.width_m),)


def players_of(ages: Ages, a_side: int | None = None, match_m2_each: float | None = None) -> PlayerAges:
    """The players of an age group, with the format that it plays (`a_side`) where that is known.

    `match_m2_each` is the room that each player of its matches has, keepers counted, in m².
    """
    return PlayerAges(ages.under_low, ages.under_high, ages.youngest_years, a_side, match_m2_each)


def one_year(under: int, a_side: int | None = None, match_m2_each: float | None = None) -> PlayerAges:
    """The players of one year group: under so many years on the day that the season goes by."""
    return players_of(Ages(under), a_side, match_m2_each)


@dataclass(frozen=True, slots=True)
class Evening:
    """All that Fit is told. What nobody said has one meaning, written here and nowhere else, and stands in `unsaid`.

    `keepers` are those who keep goal and nothing else; None: anyone may be asked to. `adults` None: as many as a drill
    needs. No `ages`: no rule of age is applied. No `pieces`: as much ground as it takes. `kit` counts what there is by
    kind; a kind that is absent is not counted, so an empty one limits nothing. `chosen`: a coach has put this drill into
    the session, so the ages that it was written for rule nothing out; what follows from tonight's ages holds all the
    same. Raises ValueError naming the field.
    """

    players: int  # everyone, keepers among them
    keepers: int | None = None
    adults: int | None = None
    ages: PlayerAges | None = None
    pieces: tuple[Piece, ...] = ()
    kit: Mapping[str, int] = field(default_factory=dict)
    chosen: bool = False

    def __post_init__(self) -> None:
        if not 1 <= self.players <= MOST_PLAYERS:
            raise ValueError(f"players: must be from 1 to {MOST_PLAYERS}, not {self.players}")
        if self.keepers is not None and not 0 <= self.keepers <= self.players:
            raise ValueError(f"keepers: must be from 0 to the {self.players} players, not {self.keepers}")
        if self.adults is not None and self.adults < 0:
            raise ValueError("adults: cannot be less than 0")
        if any(count < 0 for count in self.kit.values()):
            raise ValueError("kit: cannot be less than 0")

    @property
    def unsaid(self) -> frozenset[str]:
        """The names of what nobody said."""
        said = {
            "keepers": self.keepers is not None,
            "adults": self.adults is not None,
            "ages": self.ages is not None,
            "pieces": bool(self.pieces),
            "kit": bool(self.kit),
        }
        return frozenset(name for name, is_said in said.items() if not is_said)

    @property
    def ground(self) -> tuple[Piece, ...]:
        """The pieces of ground, the largest first; ample ground where nobody said."""
        return tuple(sorted(self.pieces, key=lambda piece: -piece.area_m2)) or (AMPLE,)

    def adults_for(self, needed: int) -> int:
        """The adults there are for a drill that needs so many; never none where nobody said."""
        return max(1, needed) if self.adults is None else self.adults

    def on(self, *pieces: Piece) -> Evening:
        """The same evening on this ground alone."""
        return replace(self, pieces=pieces)

    def for_station(self, players: int, piece: Piece | None = None, *, keepers: int | None = None) -> Evening:
        """A share of the evening: so many players on one piece (all ground where none is named), with one adult."""
        here = replace(self, players=players, keepers=keepers, adults=1)
        return here if piece is None else here.on(piece)

    def fit_key(self) -> tuple[object, ...]:
        """Equal for evenings to which Fit gives the same answers."""
        return (
            *(self.players, self.keepers, self.adults, self.ages, self.pieces, self.chosen),
            tuple(sorted(self.kit.items())),
        )


# --- kept beside the set-up that answers it ------------------------------------------------------------------------

SCHEMA = 1
Plain = dict[str, Any]
# Schema → function to the next one; 1 is the first.
STEPS: dict[int, Callable[[Plain], Plain]] = {}


class UnreadableEvening(ValueError):
    """Plain data that is no evening of a schema that is known here; the text says why."""


def as_plain(evening: Evening) -> Plain:
    """An evening as plain data, with the schema that it is written in."""
    plain: Plain = msgspec.to_builtins(evening)
    return {"schema": SCHEMA, **plain}


def from_plain(plain: Plain) -> Evening:
    """The evening that `as_plain` wrote, brought up from an older schema. Raises UnreadableEvening."""
    schema = plain.get("schema")
    while isinstance(schema, int) and schema in STEPS:
        plain, schema = STEPS[schema](plain), schema + 1
    if schema != SCHEMA:
        raise UnreadableEvening(text_of(Sentence("evening_unknown_schema", {"schema": str(schema)})))
    try:
        return msgspec.convert(plain, Evening)
    except msgspec.ValidationError as error:
        raise UnreadableEvening(str(error)) from error
