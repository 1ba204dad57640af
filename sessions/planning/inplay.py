"""How many of those who are there are in play at once: nobody came to watch."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sessions.planning.numbers import at_least, whole


def playing_share(
    players: int, places: int, *, planned_waiting: float = 0.0, anyone_can_join: bool = False
) -> float | None:
    """Share of `players` in play where a drill has so many places; None for nobody.

    `planned_waiting` is the share that waits by design (waves, finishing), whatever the numbers. ValueError below 0.
    """
    whole("players", players, 0)
    whole("places", places, 0)
    at_least("planned_waiting", planned_waiting, 0)
    if players == 0:
        return None
    room = 1.0 if anyone_can_join else min(1.0, places / players)
    return min(room, 1.0 - planned_waiting)


@dataclass(frozen=True, slots=True)
class InPlay:
    """Share of a part's players in play, 0 to 1; `as_written` where it isn't fitted to those who are there."""

    share: float
    as_written: bool


def in_play_of(stations: Iterable[tuple[float | None, bool]]) -> InPlay | None:
    """The mean over stations that share the players evenly, each (share, fitted); None where none of them says."""
    known = [(share, fitted) for share, fitted in stations if share is not None]
    if not known:
        return None
    return InPlay(sum(share for share, _ in known) / len(known), not all(fitted for _, fitted in known))
