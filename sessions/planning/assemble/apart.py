"""Keepers at a station of their own: two ways at the same time as one, with what both need together."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import product

from sessions.planning.assemble.library import Apart, Way

# From one station to the other, as between grids that are used at the same time; an adult at each: common practice, no source.
BETWEEN_M = 3.0
ADULT_EACH = 1


def apart(stations: Apart, *, length_m: float, width_m: float) -> Way:
    """Both stations as one way: kit and adults add up, with one adult at each at least; playing share and distance are
    averages over the players.

    The room is that of both side by side: inside `length_m` × `width_m` where there is a way to lay them, else the
    smallest there is, which is then too large. The marking is nobody else's.
    """
    keepers, others = stations.keepers, stations.others
    long, short = _side_by_side(keepers, others, length_m, width_m)
    return replace(
        others,
        players=keepers.players + others.players,
        length_m=long,
        width_m=short,
        adults=sum(max(ADULT_EACH, each.adults) for each in (keepers, others)),
        kit=dict(Counter(keepers.kit) + Counter(others.kit)),
        playing_share=stations.between(keepers.playing_share, others.playing_share),
        off_by_plan=stations.between(keepers.off_by_plan, others.off_by_plan),
        distance=stations.between(keepers.distance, others.distance),
        cones="",
        apart=stations,
    )


def _side_by_side(one: Way, other: Way, length_m: float, width_m: float) -> tuple[float, float]:
    """Long and short side of the room for both, each turned either way."""
    free = max(length_m, width_m), min(length_m, width_m)
    rooms = []
    for (a, b), (c, d) in product(
        *(((w.length_m, w.width_m), (w.width_m, w.length_m)) for w in (one, other))
    ):
        along, across = a + BETWEEN_M + c, max(b, d)
        rooms.append((max(along, across), min(along, across)))
    return min(
        rooms, key=lambda room: (room[0] > free[0] + 1e-9 or room[1] > free[1] + 1e-9, room[0] * room[1])
    )
