"""The rows of a block that its pages are put together from, and what is worked out of them for a team."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from sessions.planning.taught import OnTheme, on_themes
from sessions.queries.block.taught import Taught
from sessions.queries.calendar.games import Game
from sessions.queries.slots.weekly import FreeSlot, free_slots

if TYPE_CHECKING:
    from sessions.models import ClosedDays, Slot, TrainingSession


@dataclass(frozen=True)
class BlockAtHand:
    """By team, but for closed days and themes."""

    sessions: Mapping[int, list[TrainingSession]]
    taught: Mapping[int, list[Taught]]
    slots: Mapping[int, list[Slot]]
    games: Mapping[int, list[Game]]
    closed: Mapping[date, list[ClosedDays]]  # by Monday
    shares: Mapping[int, Mapping[str, int]]
    themes: Mapping[str, Any]
    today: date


def by_team(rows: Iterable[Any], of: Any = lambda each: each.squad_id) -> dict[int, list[Any]]:
    found: dict[int, list[Any]] = defaultdict(list)
    for each in rows:
        found[of(each)].append(each)
    return found


def minutes_of_block(team: Any, block: Any, at_hand: BlockAtHand) -> float:
    """All that a team trains in the block: sessions as they are, and slots that are empty still."""
    free = empty_slots(team, max(block.first_day, at_hand.today), block.last_day, at_hand)
    return sum(each.minutes for each in at_hand.taught.get(team.pk, [])) + sum(
        _long(each.slot) for each in free
    )


def empty_slots(team: Any, first: date, last: date, at_hand: BlockAtHand) -> list[FreeSlot]:
    if first > last:
        return []
    return free_slots(at_hand.slots.get(team.pk, []), at_hand.sessions.get(team.pk, []), first, last)


def _long(slot: Slot) -> float:
    return (slot.ends.hour - slot.starts.hour) * 60 + slot.ends.minute - slot.starts.minute


def themes_of(taught: Iterable[Taught], shares: Mapping[str, int], minutes: float) -> dict[str, OnTheme]:
    """Minutes on each theme: done, planned, and what is meant of so many minutes. No query."""
    rows = list(taught)
    return on_themes(
        [each.themes for each in rows if each.is_done],
        [each.themes for each in rows if not each.is_done],
        shares,
        minutes,
    )
