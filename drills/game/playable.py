"""What Fit has to know of a drill, read from its document: numbers, grid, waiting, kit, ages."""

from __future__ import annotations

from drills.game.design import Design
from drills.game.document.choices import Activity, GoalSize, NumbersKind, Place
from drills.game.document.content import Grid
from drills.game.document.drill import DrillDocument
from drills.game.format import Format
from drills.game.space import Edge
from drills.game.variations import played

YOUNGEST_UNDER = 10  # up to U10 every grid has its own adult (common practice, no source)
BALLS = "balls"
MARKERS = "marker cones"
MINI_GOALS = "mini goals"
BIG_GOALS = "moveable goals"

# Where everyone shares the little room there is, and where an area per player says nothing.
COUNTS_EVERYONE = frozenset({Activity.RONDO})
NO_AREA = frozenset(
    {Activity.FINISHING, Activity.PATTERN, Activity.TECHNIQUE, Activity.SET_PIECE, Activity.KEEPER}
)
_EDGES: dict[Place, tuple[Edge, ...]] = {
    Place.TOUCHLINE: ("top", "bottom"),
    Place.END_LINE: ("left", "right"),
}


def design_of(
    document: DrillDocument, variation_key: str = "", *, grid_key: str = "", under: int | None = None
) -> Design:
    """The design of a variation in one of its grids (the first when not said).

    `under` is the n of "under n" of tonight's players. Raises KeyError for an unknown variation or grid,
    CannotApply, and UnclearFormat.
    """
    doc = played(document, variation_key)
    fmt = Format.parse(doc.format)
    grid = grid_of(doc, grid_key)
    lowest = under or doc.under_from
    youngest = lowest is not None and lowest <= YOUNGEST_UNDER
    ranged = doc.numbers.kind is not NumbersKind.EXACT
    return Design(
        fmt,
        length_m=grid.length_m,
        width_m=grid.width_m,
        anyone_can_join=doc.numbers.kind is NumbersKind.ANYONE,
        min_players=doc.numbers.least if ranged else None,
        max_players=doc.numbers.most if ranged else None,
        planned_waiting=_planned_waiting(doc),
        waiting_kind="queue" if doc.queue else "rest",
        counts_everyone=doc.activity in COUNTS_EVERYONE,
        area_matters=doc.activity not in NO_AREA and doc.queue is None,
        kit=kit_of(doc),
        kit_per_player={BALLS: 1} if doc.balls.each else {},
        bibs=fmt.has_opponents,
        adults_needed=doc.adults,
        keepers_rotate=youngest and fmt.keepers > 0,
        keeper_goal=BIG_GOALS,
        under_from=lowest,
        under_to=doc.under_to,
        youngest=youngest,
        outside_sides=outside_edges(doc),
    )


def grid_of(document: DrillDocument, key: str = "") -> Grid:
    """The grid with this key, the first for an empty one. Raises KeyError."""
    if not key:
        return document.grids[0]
    for grid in document.grids:
        if grid.key == key:
            return grid
    raise KeyError(key)


def kit_of(document: DrillDocument) -> dict[str, int]:
    """Kit of one grid, bibs and a ball each left out: what stands on it, the balls, and what the document adds."""
    kit = {item.kind: item.count for item in document.kit}
    for goal in document.goals:
        kind = MINI_GOALS if goal.size in (GoalSize.MINI, GoalSize.SMALL) else BIG_GOALS
        kit[kind] = kit.get(kind, 0) + 1
    if document.gates and MARKERS not in kit:
        kit[MARKERS] = 2 * len(document.gates)
    balls = (0 if document.balls.each else document.balls.number) + document.balls.spare
    if balls:
        kit[BALLS] = max(kit.get(BALLS, 0), balls)
    return kit


def outside_edges(document: DrillDocument) -> tuple[Edge, ...] | None:
    """The edges that outside players stand on; None for all round, also when no group says."""
    edges: list[Edge] = []
    for group in document.groups:
        if group.place is Place.EVERY_SIDE:
            return None
        if group.place in _EDGES:
            named = tuple(e.value for e in group.edges if e.value != "free")
            edges += named or _EDGES[group.place]  # type: ignore[arg-type]
    return tuple(dict.fromkeys(edges)) or None


def _planned_waiting(document: DrillDocument) -> float:
    """The share of the players who wait by design: wait ÷ (work + wait)."""
    queue = document.queue
    return queue.wait_s / (queue.work_s + queue.wait_s) if queue else 0.0
