"""A drill's grids for the lay-out: what its players, goals and waiting line take of the ground around them."""

from __future__ import annotations

from collections.abc import Sequence

from drills.game.document import DrillDocument
from drills.game.format import Format
from drills.game.margins import behind_goal_m
from drills.game.places.outside import line_edge
from drills.game.playable import outside_edges
from drills.game.space import ALL_EDGES, STRIP_LEAST_M, Edge
from sessions.planning.layout.ground import Depths, GridToLay

# How deep a waiting line is drawn, in metres (common practice, no source).
LINE_M = 3.0


def grids_of(
    document: DrillDocument,
    sizes: Sequence[tuple[str, float, float]],
    *,
    key: str,
    waiting: bool,
    under: int | None,
) -> list[GridToLay]:
    """The grids of one station, each from (format, length, width in metres); several are numbered: `2.1`, `2.2`.

    `document` is the drill as it is played; `waiting` says that a line waits; `under` is the oldest of tonight's
    players. Raises UnclearFormat.
    """
    shot_at = _shot_at(document, under)
    waits = _waits(shot_at) if waiting else ()
    return [
        GridToLay(
            key if len(sizes) == 1 else f"{key}.{number}",
            length_m,
            width_m,
            _strips(document, fmt),
            shot_at,
            waits_m=waits,
        )
        for number, (fmt, length_m, width_m) in enumerate(sizes, start=1)
    ]


def _strips(document: DrillDocument, fmt: str) -> Depths:
    if not Format.parse(fmt).players_outside:
        return ()
    return tuple((edge, STRIP_LEAST_M) for edge in outside_edges(document) or ALL_EDGES)


def _shot_at(document: DrillDocument, under: int | None) -> Depths:
    """The edges with goals, and what the largest of each asks for behind it."""
    deep: dict[Edge, float] = {}
    for goal in document.goals:
        edge = goal.edge.value
        if edge in ALL_EDGES:
            deep[edge] = max(deep.get(edge, 0.0), float(behind_goal_m(goal.size, under)))
    return tuple(sorted(deep.items()))


def _waits(shot_at: Depths) -> Depths:
    edge = line_edge(dict(shot_at))
    return () if edge is None else ((edge, LINE_M),)
