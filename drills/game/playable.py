"""What Fit has to know of a drill, read from its document: numbers, grid, waiting, kit, ages."""

from __future__ import annotations

from typing import Literal

from drills.game.design import Design
from drills.game.document.choices import Activity, GoalSize, GroupHome, NumbersKind, PlaysFor
from drills.game.document.content import Grid
from drills.game.document.drill import DrillDocument
from drills.game.format import Format
from drills.game.groups import SIDES, group_bounds, slots_of, total
from drills.game.space import ALL_EDGES, Edge
from drills.game.variations import played

BALLS = "balls"
MARKERS = "marker cones"
MINI_GOALS = "mini goals"
BIG_GOALS = "moveable goals"

# Where everyone shares the little room there is, and where an area per player says nothing.
COUNTS_EVERYONE = frozenset({Activity.RONDO})
NO_AREA = frozenset(
    {Activity.FINISHING, Activity.PATTERN, Activity.TECHNIQUE, Activity.SET_PIECE, Activity.KEEPER}
)
# Games between sides, which are no larger than in a match of the age group; tag, rondos and patterns have no such bound.
GAMES = frozenset(
    {
        *(Activity.ARRIVAL, Activity.WARM_UP, Activity.POSSESSION, Activity.DIRECTIONAL, Activity.WAVES),
        *(Activity.FINISHING, Activity.SET_PIECE, Activity.MATCH),
    }
)
MORE_IN_A_RONDO = 2  # common practice, no source
# Where a helper has a place of its own: one more would have none.
OWN_PLACES = frozenset({GroupHome.END_LINE, GroupHome.TOUCHLINE, GroupHome.ZONE, GroupHome.GOAL})
_EDGES: dict[GroupHome, tuple[Edge, ...]] = {
    GroupHome.TOUCHLINE: ("top", "bottom"),
    GroupHome.END_LINE: ("left", "right"),
}


def design_of(document: DrillDocument, variation_key: str = "", *, grid_key: str = "") -> Design:
    """The design of a variation in one of its grids (the first when not said).

    Raises KeyError for an unknown variation or grid, CannotApply, and UnclearFormat.
    """
    doc = played(document, variation_key)
    fmt = Format.parse(doc.format)
    grid = grid_of(doc, grid_key)
    ranged = doc.numbers.kind is not NumbersKind.EXACT
    return Design(
        fmt,
        length_m=grid.length_m,
        width_m=grid.width_m,
        anyone_can_join=doc.numbers.kind is NumbersKind.ANYONE,
        min_players=doc.numbers.least if ranged else None,
        max_players=_most_players(doc, fmt),
        planned_waiting=_planned_waiting(doc),
        waiting_kind="queue" if doc.queue else "rest",
        counts_everyone=doc.activity in COUNTS_EVERYONE,
        area_matters=doc.activity not in NO_AREA and doc.queue is None,
        kit=kit_of(doc),
        kit_per_player={BALLS: 1} if doc.balls.each else {},
        bibs=fmt.has_opponents,
        adults_needed=doc.adults,
        keeper_goal=BIG_GOALS,
        under_from=doc.under_from,
        under_to=doc.under_to,
        work_s=doc.queue.work_s if doc.queue else None,
        sides_by_age=fmt.has_opponents and doc.activity in GAMES,
        sides_fixed=doc.activity is Activity.DUEL or _has_places(doc),
        neutrals_fixed=doc.activity is Activity.DUEL or _is_fixed(document, doc, PlaysFor.BALL),
        outside_fixed=_is_fixed(document, doc, None),
        shot_at=tuple((goal.edge.value, goal.size) for goal in doc.goals if goal.edge.value in ALL_EDGES),
        slots=_slots(doc, fmt),
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
        if group.place is GroupHome.EVERY_SIDE:
            return None
        if group.place in _EDGES:
            named = tuple(e.value for e in group.edges if e.value != "free")
            edges += named or _EDGES[group.place]  # type: ignore[arg-type]
    return tuple(dict.fromkeys(edges)) or None


def _slots(doc: DrillDocument, fmt: Format) -> tuple[tuple[int, Literal["inside", "outside"], int, int], ...]:
    """The ranges that the author wrote, by slot; who waits in a queue is counted in them, so a drill with one has none."""
    if doc.queue is not None or not fmt.has_opponents:
        return ()
    slots, bounds = slots_of(doc), group_bounds(doc)
    ranged = {each.key for each in doc.groups if each.most is not None}
    found = []
    for slot in dict.fromkeys(slots.values()):
        keys = [key for key, each in slots.items() if each == slot]
        if slot is None or slot.where == "keeper" or not ranged.issuperset(keys):
            continue
        least, most = total(bounds[key] for key in keys)
        side = -1 if slot.side == "neutral" else SIDES.index(slot.side)
        found.append((side, slot.where, least, most or least))
    return tuple(found)


def _most_players(doc: DrillDocument, fmt: Format) -> int | None:
    """In one grid. A rondo with more than two beyond its own is split, so that everybody is on the ball."""
    if doc.numbers.kind is not NumbersKind.EXACT:
        return doc.numbers.most
    return fmt.players + MORE_IN_A_RONDO if doc.activity is Activity.RONDO else None


def _has_places(doc: DrillDocument) -> bool:
    """A pattern for exactly so many: each has a place, and who is more doubles one."""
    return doc.activity is Activity.PATTERN and doc.numbers.kind is NumbersKind.EXACT


def _is_fixed(base: DrillDocument, doc: DrillDocument, plays_for: PlaysFor | None) -> bool:
    """Whether the helpers keep their number: neutrals for `BALL`, a side's own players outside for None.

    They do where their role has places of its own, and where the rung changed how many there are.
    """
    helpers = [
        group
        for group in doc.groups
        if group.role and group.most is None and group.place in OWN_PLACES
        if (group.plays_for is PlaysFor.BALL) == (plays_for is PlaysFor.BALL)
    ]
    if plays_for is None:
        helpers = [group for group in helpers if group.place in _EDGES]
    return bool(helpers) or _helpers(base, plays_for) != _helpers(doc, plays_for)


def _helpers(doc: DrillDocument, plays_for: PlaysFor | None) -> int:
    fmt = Format.parse(doc.format)
    return fmt.neutrals if plays_for is PlaysFor.BALL else sum(side.outside for side in fmt.sides)


def _planned_waiting(document: DrillDocument) -> float:
    """The share of the players who wait by design: wait ÷ (work + wait)."""
    queue = document.queue
    return queue.wait_s / (queue.work_s + queue.wait_s) if queue else 0.0
