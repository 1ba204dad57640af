"""What is answered about a session, as typed values: the answers and their description have one definition.

Names follow the model's. What was recorded of it stands in `happened`, what one room alone answers in that room.
"""

from datetime import date
from typing import Annotated
from uuid import UUID

import msgspec
from msgspec import Meta

from club.api_described import Clock, Moment, one_of
from drills.api.shapes import GridPlayed
from sessions.api.happened import EmergencyOut, HappenedOut, HeatOut, ThunderOut, UncountedOut
from sessions.api.reasons import ReasonOut
from sessions.choices import Kind, PartKind, State
from sessions.pages.everything.lines import Standing
from sessions.planning.laying import When


class RowOut(msgspec.Struct, frozen=True, kw_only=True):
    id: UUID
    name: str


class StepsOut(msgspec.Struct, frozen=True, kw_only=True):
    """Where one can go from the variation that is planned, by key; an empty one is the drill as written, null is none."""

    easier: str | None
    harder: str | None
    back: str | None


class StaleOut(msgspec.Struct, frozen=True, kw_only=True):
    """Why a set-up is not one for this evening any more."""

    code: str
    text: str


class TeamOut(msgspec.Struct, frozen=True, kw_only=True):
    """A team by its bib: how many it has, and whether it begins inside, outside or resting."""

    bib: str
    players: int
    place: str


class TeamBoutOut(msgspec.Struct, frozen=True, kw_only=True):
    """Which teams are where in one bout, by their bibs."""

    number: int
    inside: list[str]
    outside: list[str]
    resting: list[str]


class GridTeamsOut(msgspec.Struct, frozen=True, kw_only=True):
    """The teams of one grid; `bouts` are empty where whole teams don't go round."""

    grid: int
    format: str
    keepers: int
    teams: list[TeamOut]
    bouts: list[TeamBoutOut]


class SetUpOut(msgspec.Struct, frozen=True, kw_only=True):
    """The set-up that was accepted. `grid_sizes` are length and width in metres; `distance` is from the design."""

    format: str
    numbers: str
    grids: int
    grid_formats: list[str]
    grid_sizes: list[tuple[float, float]]
    waiting: int
    players_total: int
    length_m: float
    width_m: float
    distance: float
    kind: str
    kit: dict[str, int]
    bibs: dict[str, int]
    reasons: list[str]
    rotation: str
    teams: list[GridTeamsOut]


class PlayedOut(msgspec.Struct, frozen=True, kw_only=True):
    """The drill as it is run: who is on which grid, and everything that is said of how it goes."""

    grids: list[GridPlayed]
    start: list[str]
    rules: list[str]
    phases: list[str]
    winning: str
    scoring: list[str]
    restarts: list[str]
    ends: str
    colours: list[str]
    say_this: list[str]


class SetUpInputOut(msgspec.Struct, frozen=True, kw_only=True):
    """What a set-up answers. A length that nobody said is null."""

    players: int
    keepers: int | None
    adults: int | None
    length_m: float | None
    width_m: float | None


class StationOut(msgspec.Struct, frozen=True, kw_only=True):
    id: UUID
    drill: UUID | None
    title: str
    revision: int | None
    changed_since: bool
    retired: Annotated[bool, Meta(description="The drill is off the shelf; what is planned here stays.")]
    variation_key: str
    steps: StepsOut | None
    group: str
    place: str
    adult: UUID | None
    stays: bool
    setup: SetUpOut | None
    played: PlayedOut | None
    setup_input: SetUpInputOut | None
    setup_is_stale: Annotated[
        bool, Meta(description="There are reasons to set it up again; never once it is done.")
    ]
    setup_stale_reasons: list[StaleOut]


class PartOut(msgspec.Struct, frozen=True, kw_only=True):
    id: UUID
    kind: Annotated[str, one_of(PartKind.choices)]
    title: str
    minutes: int
    bouts: int
    bout_s: int
    rest_s: int
    changeover_s: int
    changeover_laying_minutes: Annotated[
        float, Meta(description="Half minutes that laying takes in the changeover before it.")
    ]
    effort: float
    changes_round: bool
    starts_at: Moment
    ends_at: Moment
    load_au: Annotated[float | None, Meta(description="Null up to U10, like all AU.")]
    stations: list[StationOut]


class SessionRow(msgspec.Struct, frozen=True, kw_only=True):
    """A session in a list."""

    id: UUID
    version: int
    age_group: UUID
    squad: UUID
    slot: UUID | None
    title: str
    theme: UUID | None
    day: date
    starts: Clock
    ends: Clock
    zones: list[RowOut]
    staff: list[RowOut]
    together: Annotated[
        list[RowOut], Meta(description="Sessions of other teams that it was joined with, by team.")
    ]
    players_expected: int
    players_tonight: Annotated[
        int,
        Meta(
            description="Here by the register and taking part, as soon as somebody is; else as heads were counted; else as expected."
        ),
    ]
    kind: Annotated[str, one_of(Kind.choices)]
    state: Annotated[str, one_of(State.choices)]
    why_cancelled: str
    delivered_minutes: int | None


class UsedAgainOut(msgspec.Struct, frozen=True, kw_only=True):
    """One time that the parts were fitted anew, and all that became different; from which session, where it is a copy."""

    title: str
    day: date | None
    age_group: str
    changes: list[ReasonOut]


class LaidAt(msgspec.Struct, frozen=True, kw_only=True):
    """What is laid at one time: before the start, while a part is played (during), or in a changeover."""

    when: When
    starts_at: Moment
    part: Annotated[int, Meta(description="The part that it is for, from 1.")]
    kit: str
    adults: int
    minutes: float


class SessionOut(SessionRow, frozen=True, kw_only=True):
    """A session with its parts. Loads in AU are null up to U10."""

    note: str
    parts: list[PartOut]
    planned_au: float | None
    expected_au: Annotated[
        float | None, Meta(description="What the plan will probably come to for this team.")
    ]
    counts_au: Annotated[
        float | None, Meta(description="What its week counts: as it was recorded, else as expected.")
    ]
    budget_au: float | None
    set_up_from: Moment
    set_up_minutes: int
    laying: list[LaidAt]
    clear_from: Moment
    clear_by: Moment
    kit: dict[str, int]
    adults_needed: int
    adults_counted: Annotated[int, Meta(description="18 or over, with vetting that holds on the day.")]
    adults_not_counted: list[UncountedOut]
    players_without_out: Annotated[
        int,
        Meta(
            description="Players expected, without who is out until lifted: what everything is worked out for."
        ),
    ]
    emergency: EmergencyOut
    reasons: list[ReasonOut]
    used_again: Annotated[list[UsedAgainOut], Meta(description="The last time first.")]
    happened: Annotated[HappenedOut | None, Meta(description="Once it is done.")]
    heat: Annotated[HeatOut | None, Meta(description="The last `heat` event.")]
    thunder: Annotated[ThunderOut | None, Meta(description="The clock of the last `thunder` event.")]


class SetUpLineOut(msgspec.Struct, frozen=True, kw_only=True):
    """One station with a drill. `holds`: its set-up can be played as it is; `nothing_fits`: it keeps what it had, and
    `reasons` say why; `begun`: its part is under way or over, and stays as it is. `stale_reasons`: why it doesn't hold.
    """

    part: UUID
    station: UUID
    title: str
    players: int
    standing: Standing
    changed: bool
    set_up: Annotated[str, Meta(description="Numbers and size; empty where the drill is played as written.")]
    stale_reasons: list[str]
    reasons: list[str]


class AllSetUpOut(msgspec.Struct, frozen=True, kw_only=True):
    players: int
    version: int
    stations: list[SetUpLineOut]
