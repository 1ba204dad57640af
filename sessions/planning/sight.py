"""A keepers' station apart from the others is in sight of a second adult, or the plan says that it is not.

Nobody works alone with children out of others' sight: common practice in safeguarding, no single source; the club's and
the association's own rules come first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sessions.planning.reasons import PlanningReason, reason

NEAR = 2  # adults who count, on the keepers' pitch: theirs and a second one (common practice, no source)


@dataclass(frozen=True, slots=True)
class StationAt:
    """A station beside others: on which pitch it is (empty: not known), and whether it is the keepers'.

    `counts` is False where the adult who is named for it does not count; nobody named: whoever is free.
    """

    pitch: str
    keepers: bool = False
    counts: bool = True


def sight_reasons(part: str, stations: Sequence[StationAt], adults: int) -> tuple[PlanningReason, ...]:
    """What stands against keepers who work apart in a part; `adults` are those who count at the session.

    Stations on one pitch are in sight of each other. With one station alone, or no keepers', nothing is said.
    """
    if len(stations) < 2:
        return ()
    found = []
    for index, each in enumerate(stations):
        if not each.keepers:
            continue
        others = [other for number, other in enumerate(stations) if number != index]
        if adults < NEAR:
            clears = (reason("clear_adults_more", part, more=NEAR - adults),)
            found.append(reason("keepers_no_second", part, clears))
            continue
        near = [other for other in others if _near(each, other)]
        if not any(other.counts for other in near):
            clears = (reason("clear_keepers_sight", part),)
            beside = reason("keepers_no_second", part, clears)
            found.append(beside if near else reason("keepers_out_of_sight", part, clears, pitch=each.pitch))
    return tuple(found)


def _near(one: StationAt, other: StationAt) -> bool:
    """On the same pitch; where one of the two has no place yet, nothing is held against them."""
    return not one.pitch or not other.pitch or one.pitch == other.pitch
