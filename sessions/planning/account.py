"""What a session costs: minutes, load and headers of each part, as planned or as it was run. The one function for both.

Plan, week, ledger, trim, sheets, pages and API read their figures here. The measure is session-RPE (see `load`). How rounds that
were left out count, and what counts where nobody tapped along, is our own rule (common practice, no source).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from sessions.planning.fold.state import DeliveryState, PartState
from sessions.planning.load import planned
from sessions.planning.plan import PlannedPart, SessionPlan

# planned: as it stands in the plan. clock: from its start to its end. said: nobody tapped, so the plan stands for it.
# skipped: left out on purpose. not_run: it never began.
How = Literal["planned", "clock", "said", "skipped", "not_run"]
NEAR = 1e-9


@dataclass(frozen=True, slots=True)
class PartAccount:
    """One part: minutes (rests and holds included), load in AU and headers of one player. `how` says where they come from.

    `work_share` is the play as run ÷ the play as planned (1 as planned, more with minutes given); `bouts` the rounds begun.
    """

    key: str
    title: str
    how: How
    minutes: float
    load_au: float
    headers: int
    work_share: float
    bouts: int
    cr10: float

    @property
    def ran(self) -> bool:
        """Whether it was played at all."""
        return self.how not in ("skipped", "not_run")

    @property
    def heading_minutes(self) -> float:
        """Minutes of parts in which there is heading on purpose."""
        return self.minutes if self.headers else 0.0


@dataclass(frozen=True, slots=True)
class Account:
    """A session: its parts in the order of the plan, its changeovers in AU, and their sums.

    `load_au` is the planned measure, not yet × a squad's factor (see `load.expected`).
    """

    parts: tuple[PartAccount, ...]
    changeovers_au: float
    load_au: float

    @property
    def headers(self) -> int:
        """Headers of one player who is there for all of it."""
        return sum(part.headers for part in self.parts)

    @property
    def heading_minutes(self) -> float:
        """Minutes of parts with heading on purpose."""
        return sum(part.heading_minutes for part in self.parts)

    def part(self, key: str) -> PartAccount:
        """One part by its key. KeyError for a key that is not in the plan."""
        found = next((part for part in self.parts if part.key == key), None)
        if found is None:
            raise KeyError(key)
        return found


def account(plan: SessionPlan, state: DeliveryState | None = None) -> Account:
    """The account of a plan, a `PartAccount` for each of its parts; with a state, of what was run of it.

    `plan` holds each part as it is, or was, played: effort and headers of the variation, in the set-up of the night.
    """
    if state is None:
        return _summed(plan, [_Run("planned", part.minutes, 1.0) for part in plan.parts])
    return _summed(plan, _runs(plan, state))


@dataclass(frozen=True, slots=True)
class _Run:
    """How a part was run: minutes, and the play in it as a share of the play as planned."""

    how: How
    minutes: float
    share: float


def _summed(plan: SessionPlan, runs: list[_Run]) -> Account:
    efforts = [_Effort(run.minutes, part.cr10) for part, run in zip(plan.parts, runs, strict=True)]
    loads = planned(efforts, [_changeover_min(part, run) for part, run in zip(plan.parts, runs, strict=True)])
    parts = tuple(
        PartAccount(
            key=part.key,
            title=part.name,
            how=run.how,
            minutes=run.minutes,
            load_au=load_au,
            headers=_headers(part, run),
            work_share=run.share,
            bouts=_bouts(part, run),
            cr10=part.cr10,
        )
        for part, run, load_au in zip(plan.parts, runs, loads.parts_au, strict=True)
    )
    return Account(parts, loads.changeovers_au, loads.total_au)


@dataclass(frozen=True, slots=True)
class _Effort:
    minutes: float
    cr10: float


def _changeover_min(part: PlannedPart, run: _Run) -> float:
    """The changeover into a part goes with it; where a session was cut short without a clock, so much of it."""
    if run.how in ("skipped", "not_run"):
        return 0.0
    return part.changeover_s / 60 * (min(1.0, run.share) if run.how == "said" else 1.0)


def _headers(part: PlannedPart, run: _Run) -> int:
    """Headers by seconds of play run ÷ seconds of play planned, rounded up: nobody heads half a ball."""
    return math.ceil(part.headers_per_player * run.share - NEAR) if run.share else 0


def _bouts(part: PlannedPart, run: _Run) -> int:
    return min(part.bouts, math.ceil(part.bouts * run.share - NEAR)) if run.share else 0


def _runs(plan: SessionPlan, state: DeliveryState) -> list[_Run]:
    by_key = {part.key: part for part in state.parts}
    states = [by_key.get(part.key, PartState(key=part.key)) for part in plan.parts]
    begun = [number for number, each in enumerate(states) if each.started_at is not None]
    if state.status in ("cancelled", "moved"):
        return [_Run("not_run", 0.0, 0.0) for _ in plan.parts]
    if not begun:
        return [
            _untapped(part, each, _share_of_all(plan, state))
            for part, each in zip(plan.parts, states, strict=True)
        ]
    rest_ran = state.status == "delivered" and not state.minutes_said
    last = begun[-1]
    changeovers = _changeovers_after(plan, states)
    return [
        _tapped(
            part,
            each,
            after_the_last=number > last and rest_ran,
            changeover_min=changeovers.get(part.key, 0.0),
        )
        for number, (part, each) in enumerate(zip(plan.parts, states, strict=True))
    ]


def _changeovers_after(plan: SessionPlan, states: list[PartState]) -> dict[str, float]:
    """By part that ended as another began, the minutes of the changeover into that one: they are no part's own."""
    into = {
        each.started_at: part.changeover_s / 60
        for part, each in zip(plan.parts, states, strict=True)
        if each.started_at is not None
    }
    return {each.key: into[each.ended_at] for each in states if each.ended_at in into}


def _share_of_all(plan: SessionPlan, state: DeliveryState) -> float:
    """Where nobody tapped along: the minutes that took place ÷ the minutes planned, 1 at most."""
    if state.status not in ("delivered", "shortened") or not plan.minutes:
        return 0.0
    return min(1.0, state.minutes_delivered / plan.minutes)


def _untapped(part: PlannedPart, state: PartState, share: float) -> _Run:
    if state.skipped:
        return _Run("skipped", 0.0, 0.0)
    if not share:
        return _Run("not_run", 0.0, 0.0)
    kept = _kept(part, state)
    return _Run("said", part.minutes * share * kept, share * kept)


def _kept(part: PlannedPart, state: PartState) -> float:
    """The share of a part's rounds that were not left out."""
    return max(0.0, (part.bouts - state.dropped_bouts) / part.bouts)


def _tapped(part: PlannedPart, state: PartState, *, after_the_last: bool, changeover_min: float) -> _Run:
    if state.started_at is None:
        if state.skipped:
            return _Run("skipped", 0.0, 0.0)
        kept = _kept(part, state)
        return _Run("said", part.minutes * kept, kept) if after_the_last else _Run("not_run", 0.0, 0.0)
    minutes = state.minutes or 0.0
    meant = _meant(part, state)
    minutes -= min(max(0.0, minutes - meant), changeover_min)
    if state.ended_by_itself:  # nobody ended it: it went on no longer than it was meant to
        minutes = min(minutes, meant)
    return _Run("clock", minutes, _work_share(part, state, minutes))


def _meant(part: PlannedPart, state: PartState) -> float:
    """Minutes that a part has at the pitch: those planned and given, without each round left out and its rest."""
    left_out_s = min(part.bouts, state.dropped_bouts) * (part.bout_length_s + part.rest_s)
    return max(0.0, part.minutes - left_out_s / 60) + state.extra_minutes


def _work_share(part: PlannedPart, state: PartState, minutes: float) -> float:
    """Play in so many minutes by the clock, holds left out, ÷ the play planned. Minutes that were given are play at the end."""
    net_s = max(0.0, minutes * 60 - state.held_s)
    bouts = max(0, part.bouts - state.dropped_bouts)
    bout_s, rest_s, extra_s = part.bout_length_s, float(part.rest_s), state.extra_minutes * 60.0
    if not bout_s:
        return 0.0
    round_s = bout_s + rest_s
    whole = min(bouts, int(net_s // round_s))
    if not bouts:
        played_s = min(extra_s, net_s)
    elif whole >= bouts:
        played_s = bouts * bout_s + min(extra_s, max(0.0, net_s - bouts * round_s + rest_s))
    else:
        last = whole == bouts - 1
        played_s = whole * bout_s + min(net_s - whole * round_s, bout_s + (extra_s if last else 0.0))
    return played_s / (part.bouts * bout_s)
