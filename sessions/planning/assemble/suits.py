"""Which kinds of part an activity suits, and how long a part of each kind may be (common practice, no source)."""

from __future__ import annotations

from collections.abc import Mapping

_EASY_CR10 = 4.5  # no harder than this to arrive, warm up or cool down with

SUITS: Mapping[str, frozenset[str]] = {
    "arrival": frozenset({"arrival", "warm-up"}),
    "warm-up": frozenset({"arrival", "warm-up", "cool-down"}),
    "rondo": frozenset({"arrival", "warm-up", "practice"}),
    "possession": frozenset({"practice", "game"}),
    "directional game": frozenset({"practice", "game"}),
    "waves": frozenset({"practice"}),
    "finishing": frozenset({"practice"}),
    "pattern": frozenset({"warm-up", "practice", "cool-down"}),
    "technique": frozenset({"arrival", "warm-up", "practice", "cool-down"}),
    "duel": frozenset({"practice"}),
    "set piece": frozenset({"practice"}),
    "fun game": frozenset({"arrival", "warm-up", "game"}),
    "match": frozenset({"game"}),
}
_EASY = frozenset({"cool-down"})


def kinds_of(activity: str, effort_cr10: float) -> frozenset[str]:
    """The kinds of part that a drill of this activity and effort suits; none for an unknown activity."""
    kinds = SUITS.get(activity, frozenset())
    return kinds - _EASY if effort_cr10 > _EASY_CR10 else kinds


def minutes_of(written: int) -> tuple[int, int]:
    """The fewest and the most minutes that a drill written for so many is still worth setting up for."""
    return max(5, round(written * 0.6)), max(8, round(written * 1.5))
