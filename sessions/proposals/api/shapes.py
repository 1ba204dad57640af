"""What is answered about proposals, as typed values: the answers and their description have one definition."""

from typing import Annotated
from uuid import UUID

import msgspec
from msgspec import Meta

from club.api_described import one_of
from sessions.api.reasons import ReasonOut
from sessions.choices import ComputationState, HowMuch, PartKind

_HOW_MUCH = one_of(HowMuch.choices)
_LOAD_AU = Annotated[float | None, Meta(description="Null up to U10, like all AU.")]


class KeepersOut(msgspec.Struct, frozen=True, kw_only=True):
    """The keepers' station of a part, at the same time as the others'."""

    drill: str
    rung: str
    title: str
    players: int
    numbers: str
    grids: int
    length_m: float
    width_m: float


class RoundsOut(msgspec.Struct, frozen=True, kw_only=True):
    bouts: int
    bout_s: int
    rest_s: int


class ProposedPartOut(msgspec.Struct, frozen=True, kw_only=True):
    number: str
    kind: Annotated[str, one_of(PartKind.choices)]
    drill: Annotated[str, Meta(description="Empty for a part that stays as it is.")]
    rung: str
    title: str
    minutes: int
    rounds: Annotated[RoundsOut | None, Meta(description="None for a part that stays as it is.")]
    starts_min: int
    changeover_minutes: int
    effort: float
    load_au: _LOAD_AU
    numbers: str
    grids: int
    length_m: float
    width_m: float
    keepers: Annotated[
        KeepersOut | None,
        Meta(description="With the keepers separate; numbers and sides are then the others'."),
    ]
    kept: bool
    reasons: list[ReasonOut]
    instead: list[str]


class ProposedSessionOut(msgspec.Struct, frozen=True, kw_only=True):
    objective: float
    minutes: int
    load_au: _LOAD_AU
    headers: int
    set_up_minutes: int
    parts: list[ProposedPartOut]


class PartSoFarOut(msgspec.Struct, frozen=True, kw_only=True):
    title: str
    minutes: int


class ProposalOut(msgspec.Struct, frozen=True, kw_only=True):
    """`best` and `alternatives` once it is done; `clash` names limits that cannot hold together, `reasons` say why."""

    id: UUID
    session: UUID | None
    state: Annotated[str, one_of(ComputationState.choices)]
    before: Annotated[int | None, Meta(description="How many go first; null unless it waits.")]
    wait_s: Annotated[
        int | None,
        Meta(description="About how many seconds until its turn, by what the last ones took."),
    ]
    so_far: Annotated[list[PartSoFarOut], Meta(description="The best so far, not final.")]
    best: ProposedSessionOut | None
    alternatives: list[ProposedSessionOut]
    proven: bool
    gap: Annotated[float | None, Meta(description="By what share a better one could score higher at most.")]
    clash: list[str]
    reasons: list[ReasonOut]


class WeightsOut(msgspec.Struct, frozen=True, kw_only=True):
    """How much each counts: not at all, half (a little), as usual, double (a lot)."""

    theme: Annotated[str, _HOW_MUCH]
    playing: Annotated[str, _HOW_MUCH, Meta(description="Minutes in play.")]
    moves: Annotated[str, _HOW_MUCH, Meta(description="Cones laid once.")]
    last_week: Annotated[str, _HOW_MUCH, Meta(description="Last week's drill, one step harder.")]
    rating: Annotated[str, _HOW_MUCH, Meta(description="Drills noted to have worked.")]
    effort: Annotated[str, _HOW_MUCH, Meta(description="Effort that rises, then falls.")]
    version: int
