"""What the club's endpoints answer, as typed values: the answers and their description have one definition."""

from datetime import date
from typing import Annotated
from uuid import UUID

import msgspec

from club.api_described import Moment, one_of
from club.choices import EDGES, AtEdge, FixedGoalKind


class AgeGroupShape(msgspec.Struct, frozen=True, kw_only=True):
    """An age group of a season, with its budget. Lengths in metres, load in AU.

    `under` 12 with `years` 2 holds U11 and U12; null is adults, from age `over` (18 where null). `youngest_years` is the age
    that is certain on any day of the season.
    """

    id: UUID
    label: str
    season: str
    under: int | None
    years: int
    over: int | None
    under_low: int
    under_high: int | None
    youngest_years: int
    match_format: str
    match_length_m: float | None
    match_width_m: float | None
    ball_size: int | None
    session_minutes: int
    session_load_au: int | None
    week_load_au: int | None
    week_minutes: int | None
    week_days: int | None
    hardest_part: float
    version: int


class SquadShape(msgspec.Struct, frozen=True, kw_only=True):
    """A squad of the running season. Its players are counted, not named."""

    id: UUID
    name: str
    age_group: str
    player_count: int
    version: int


class PlayerShape(msgspec.Struct, frozen=True, kw_only=True):
    """All that is kept of a player."""

    id: UUID
    display_name: str
    shirt: int | None
    is_keeper: bool
    out_until_lifted: Annotated[
        bool,
        msgspec.Meta(description="Takes part nowhere until a coach of theirs lifts it. Why is not saved."),
    ]
    version: int


class PlayerOutShape(msgspec.Struct, frozen=True, kw_only=True):
    """Whether a player is out until a coach of theirs lifts it, since when, and who set it. Why is asked nowhere."""

    out_until_lifted: bool
    since: Moment | None
    set_by: str | None


class FixedGoalShape(msgspec.Struct, frozen=True, kw_only=True):
    """A goal that can't be moved. `along` is its middle as a share of its edge, from the left or from the near side."""

    edge: Annotated[str, one_of(EDGES)]
    along: Annotated[float, msgspec.Meta(ge=0, le=1)]
    size: Annotated[str, one_of(FixedGoalKind.choices)]


class PitchZoneShape(msgspec.Struct, frozen=True, kw_only=True):  # drawings have zones of their own
    """A part of a pitch that can be booked. Left and right are its ends, bottom (near) and top (far) its sides; zones of a
    pitch lie side by side in their order, the first one near.
    """

    id: UUID
    name: str
    length_m: float
    width_m: float
    edge_left: Annotated[str, one_of(AtEdge.choices)]
    edge_right: Annotated[str, one_of(AtEdge.choices)]
    edge_bottom: Annotated[str, one_of(AtEdge.choices)]
    edge_top: Annotated[str, one_of(AtEdge.choices)]
    fixed_goals: list[FixedGoalShape]
    version: int


class PitchShape(msgspec.Struct, frozen=True, kw_only=True):
    """A pitch with its zones; the whole of it is all of them."""

    id: UUID
    name: str
    surface: str
    has_lights: bool
    address: str
    ambulance_gate: str
    defibrillator: str
    zones: list[PitchZoneShape]
    version: int


class KitShape(msgspec.Struct, frozen=True, kw_only=True):
    """How many the club has; bibs by colour."""

    kind: str
    colour: str
    count: int


class ThemeShape(msgspec.Struct, frozen=True, kw_only=True):
    """What the club wants taught; drills name its key."""

    key: str
    title: str
    moment: str


class GuidelineShape(msgspec.Struct, frozen=True, kw_only=True):
    """A published figure with its source: advice that defers to local rules."""

    id: UUID
    rule: str
    under_low: int
    under_high: int
    a_side: int | None  # sizes of pitches: for which format
    jurisdiction: str
    value: float
    source: str
    note: str
    valid_from: date
    valid_before: date | None
    changed_by_club: bool
    version: int
