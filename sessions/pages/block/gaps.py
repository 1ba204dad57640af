"""What the rest of this week still lacks, on top of the page of a block."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any, Literal

from club.actor import Actor
from sessions.access import reads_sessions
from sessions.choices import StaffPart, State
from sessions.pages.block.at_hand import BlockAtHand, empty_slots
from sessions.pages.weeks import monday_of
from sessions.queries.over_all import over_all
from sessions.queries.rows import staff_rows_of, zones_of
from sessions.queries.slots.weekly import FreeSlot

if TYPE_CHECKING:
    from sessions.models import TrainingSession


Lacks = Literal["session", "lead", "second", "place"]
LACKS: tuple[Lacks, ...] = ("session", "lead", "second", "place")


@dataclass(frozen=True)
class Gap:
    """Something that this week still lacks: a session in a slot, a lead, a second adult, a space."""

    lacks: Lacks
    day: date
    team: Any
    session: TrainingSession | None = None
    free: FreeSlot | None = None
    reads: bool = False
    plans: bool = False


def gaps_of(actor: Actor, teams: Iterable[Any], at_hand: BlockAtHand) -> dict[Lacks, list[Gap]]:
    """What the rest of this week lacks, by what is lacking; each in order of time."""
    last = monday_of(at_hand.today) + timedelta(days=6)
    found: dict[Lacks, list[Gap]] = {each: [] for each in LACKS}
    for team in teams:
        for free in empty_slots(team, at_hand.today, last, at_hand):
            found["session"].append(
                Gap("session", free.day, team, free=free, plans=actor.plans_for(team.age_group_id))
            )
        for session in at_hand.sessions.get(team.pk, []):
            if session.state in (State.PLANNED, State.MOVED) and at_hand.today <= session.day <= last:
                for lacks in _lacks(session):
                    found[lacks].append(
                        Gap(
                            lacks,
                            session.day,
                            team,
                            session=session,
                            reads=reads_sessions(actor, team.age_group_id),
                        )
                    )
    return {name: sorted(each, key=lambda gap: gap.day) for name, each in found.items() if each}


def _lacks(session: TrainingSession) -> list[Lacks]:
    found: list[Lacks] = []
    if not any(each["part"] == StaffPart.LEADS for each in staff_rows_of(session)):
        found.append("lead")
    night = over_all(session)
    if night.adults < night.needed:
        found.append("second")
    if not zones_of(session):
        found.append("place")
    return found
