"""What happened: who came, what was run of each part, what it cost and why. One value for page, paper and API."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from sessions.planning import load
from sessions.planning.account import PartAccount
from sessions.planning.fold import PartState
from sessions.planning.fold.bodies import AgainAnswer
from sessions.planning.headers import planned_headers
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.rotation.as_run import WhoPlayed
from sessions.queries.guides import goes_by_load
from sessions.queries.helping import helped
from sessions.queries.plan import PartView, SessionView
from sessions.queries.recorded.apart import WordOfPhone
from sessions.queries.recorded.record import SessionRecord, session_record

if TYPE_CHECKING:
    from sessions.models import Register

NEAR_MIN = 1.0  # a tap half a minute late is as planned


@dataclass(frozen=True)
class InPlayRun:
    """Minutes in play and minutes there, in the rounds of which it is known who played; `share` None where none is known."""

    minutes: float
    known_min: float

    @property
    def share(self) -> float | None:
        return self.minutes / self.known_min if self.known_min else None


@dataclass(frozen=True)
class PlayerThere:
    """One player of the register: there or not, from when to when. Which limits there were is gone with the evening."""

    id: str
    name: str
    state: str
    words: str
    came_at: datetime | None
    left_at: datetime | None
    minutes: float
    limited: bool
    guest: bool
    in_play: InPlayRun
    apart: list[WordOfPhone]  # where phones said otherwise and nobody settled it, the one that counts last


@dataclass(frozen=True)
class PartRun:
    """One part as it was run; `changes` are what was different from the plan."""

    key: str
    number: int
    title: str
    started_at: datetime | None
    ended_at: datetime | None
    account: PartAccount
    who_played: WhoPlayed | None  # None for a part that was not run
    effort: float | None
    again: AgainAnswer | None  # None where nobody said
    changes: list[PlanningReason]


@dataclass(frozen=True)
class NoteLeft:
    at: datetime
    text: str
    part: str


@dataclass(frozen=True)
class WhatHappened:
    """A session that is done. `players` is empty for who may not see names; `came` is for all."""

    came: int
    expected: int
    trialists: int
    players: list[PlayerThere]
    parts: list[PartRun]
    minutes: float
    planned_minutes: float
    effort: float | None
    load_au: float | None
    expected_au: float
    estimated: bool
    headers: int
    planned_headers: int
    notes: list[NoteLeft]
    changes: list[PlanningReason]
    why_load: PlanningReason | None
    in_play: InPlayRun  # of everybody together
    who_played: (
        PlanningReason | None
    )  # of which parts it is known; None where no part was run, or nobody is on the register
    confirmed_at: datetime | None  # when the register was read through that counts
    next_time: str

    @property
    def outcome(self) -> str:
        """Against what was to be expected: easier, as planned, harder; empty where nobody rated it."""
        if self.estimated or self.load_au is None:
            return ""
        return load.against_plan(self.load_au, self.expected_au)

    @property
    def apart(self) -> list[PlayerThere]:
        """Players of whom phones said otherwise; none for who may not see names."""
        return [each for each in self.players if each.apart]

    @property
    def told(self) -> list[PlanningReason]:
        """What is said above the parts: what the figures beside it show already is not said again."""
        return [each for each in self.changes if each.code not in ("came_otherwise", "took_minutes")]

    @property
    def reasons(self) -> list[PlanningReason]:
        """Everything that went otherwise than planned, part by part."""
        return [*self.changes, *(change for part in self.parts for change in part.changes)]


def what_happened(view: SessionView, *, with_names: bool) -> WhatHappened | None:
    """None for a session that is not done. Three queries, one more where phones said otherwise."""
    found = session_record(view.row, view.plan)
    if found is None:
        return None
    with_au = goes_by_load(view.row.age_group)
    load_au = None if found.entry.load_au is None or not with_au else float(found.entry.load_au)
    minutes = float(found.entry.minutes)
    effort = found.state.effort()
    register = found.register
    return WhatHappened(
        came=found.came,
        expected=view.row.players_expected,
        trialists=len(found.state.trialists),
        players=[_player(each, found) for each in register] if with_names else [],
        parts=[_part(view, each, found) for each in view.parts],
        minutes=minutes,
        planned_minutes=view.plan.minutes,
        effort=effort,
        load_au=load_au,
        expected_au=view.expected_au,
        estimated=found.entry.is_estimated,
        headers=found.entry.headers,
        planned_headers=planned_headers(found.plan),
        notes=[NoteLeft(each.at, each.text, _title(view, each.part)) for each in found.state.notes],
        changes=list(_changes(view, found, minutes)),
        why_load=_why_load(effort, minutes, load_au, view.expected_au),
        in_play=_in_play(*register),
        who_played=_who_played(view, found) if register else None,
        confirmed_at=found.state.confirmed_at,
        next_time=found.state.next_time.text if found.state.next_time else "",
    )


def _in_play(*rows: Register) -> InPlayRun:
    return InPlayRun(
        float(sum(each.in_play_min for each in rows)), float(sum(each.known_min for each in rows))
    )


def _who_played(view: SessionView, found: SessionRecord) -> PlanningReason | None:
    """Of which parts, by their numbers, it is known who was in play, and of which it is not."""
    ran = [(str(each.number), found.who_played.get(str(each.row.public_id))) for each in view.parts]
    known = ", ".join(number for number, who in ran if who in ("turns", "everybody"))
    unknown = ", ".join(number for number, who in ran if who == "not_known")
    if not known:
        return reason("who_played_unknown") if unknown else None
    if not unknown:
        return reason("who_played")
    return reason("who_played_of_some", known=known, unknown=unknown)


def _player(row: Register, found: SessionRecord) -> PlayerThere:
    limited, key = bool(row.was_limited), str(row.player.public_id)
    return PlayerThere(
        id=key,
        name=row.player.display_name,
        state=row.state,
        words=str(row.get_state_display()),
        came_at=row.came_at,
        left_at=row.left_at,
        minutes=float(row.minutes),
        limited=limited,
        guest=row.is_guest,
        in_play=_in_play(row),
        apart=found.apart.get(key, []),
    )


def _title(view: SessionView, key: str | None) -> str:
    return next((each.title for each in view.parts if str(each.row.public_id) == key), "")


def _part(view: SessionView, part: PartView, found: SessionRecord) -> PartRun:
    key = str(part.row.public_id)
    state = next((each for each in found.state.parts if each.key == key), PartState(key=key))
    cost = found.account.part(key)
    ended_at = state.ended_at
    if state.started_at and ended_at:  # not into the changeover: so long as the minutes that are said
        ended_at = min(ended_at, state.started_at + timedelta(minutes=cost.minutes))
    return PartRun(
        key=key,
        number=part.number,
        title=part.title,
        started_at=state.started_at,
        ended_at=ended_at,
        account=cost,
        who_played=found.who_played.get(key),
        effort=found.state.effort(key),
        again=state.again,
        changes=list(_part_changes(part, state, cost, found)),
    )


def _part_changes(
    part: PartView, state: PartState, cost: PartAccount, found: SessionRecord
) -> Iterator[PlanningReason]:
    key = cost.key
    planned = next(each for each in found.plan.parts if each.key == key)
    if cost.how == "skipped":
        yield reason("ran_skipped", key)
    elif cost.how == "not_run":
        yield reason("ran_not", key)
    if not cost.ran:
        return
    if abs(cost.minutes - planned.minutes) >= NEAR_MIN:
        yield reason("ran_minutes", key, minutes=float(round(cost.minutes)), planned=planned.minutes)
    if cost.bouts != planned.bouts:
        yield reason("ran_rounds", key, bouts=cost.bouts, planned=planned.bouts)
    yield from _played_otherwise(part, state, cost)
    if cost.headers != planned.headers_per_player:
        yield reason("ran_headers", key, headers=cost.headers, planned=planned.headers_per_player)


def _played_otherwise(part: PartView, state: PartState, cost: PartAccount) -> Iterator[PlanningReason]:
    first, key = part.first, cost.key
    if state.swap is not None:
        yield reason("ran_swapped", key, title=cost.title, planned=part.title)
        return
    if first is None or first.drill is None:
        return
    row = first.row
    planned = row.variation_key if row.planned_key is None else row.planned_key
    run = row.variation_key if state.variation is None else state.variation
    if run != planned:
        names = {each.key: each.title for each in first.drill.document.variations}
        title = first.drill.title
        yield reason("ran_other", key, title=names.get(run, title), planned=names.get(planned, title))
    if state.setup is not None:
        yield from _set_up(state.setup, key)


def _set_up(setup: dict[str, Any], key: str) -> Iterator[PlanningReason]:
    wanted = ("players_total", "numbers", "length_m", "width_m")
    if all(setup.get(name) for name in wanted):
        yield reason(
            "ran_set_up",
            key,
            players=setup["players_total"],
            numbers=str(setup["numbers"]),
            length_m=float(setup["length_m"]),
            width_m=float(setup["width_m"]),
        )


def _changes(view: SessionView, found: SessionRecord, minutes: float) -> Iterator[PlanningReason]:
    if found.register and found.came != view.row.players_expected:
        yield reason("came_otherwise", came=found.came, expected=view.row.players_expected)
    if abs(minutes - view.plan.minutes) >= NEAR_MIN:
        yield reason("took_minutes", minutes=float(round(minutes)), planned=view.plan.minutes)
    if any(each.how == "said" for each in found.account.parts):
        yield reason("ran_by_word")
    by_helper = helped(view.row)
    if "run" in by_helper:
        yield reason("helper_ran")
    if "heads" in by_helper and found.state.heads:
        yield reason("helper_counted", count=found.state.heads)
    if found.state.set_aside:
        yield reason("set_aside", count=len(found.state.set_aside))
    if found.state.not_understood:
        yield reason("not_understood", count=len(found.state.not_understood))


def _why_load(
    effort: float | None, minutes: float, load_au: float | None, expected_au: float
) -> PlanningReason | None:
    if load_au is None:
        return None
    if effort is None:
        return reason("load_estimated", load_au=float(round(load_au)))
    return reason(
        "load_rated",
        cr10=effort,
        minutes=minutes,
        load_au=float(round(load_au)),
        expected_au=float(round(expected_au)),
    )
