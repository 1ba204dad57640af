"""What stands on the ground for a station: every cone and goal in its place, and how long laying it takes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate, pairwise

from drills.game.document import DrillDocument
from drills.game.document.content import Goal
from drills.game.margins import BETWEEN_M
from drills.game.playable import BALLS, BIG_GOALS, MARKERS, MINI_GOALS, kit_of
from drills.game.space import ALL_EDGES
from sessions.planning.layout.ground import Box, Placed, Rectangle, whole_decimetres
from sessions.planning.numbers import at_least

# Seconds in which one adult carries a piece of kit from beside the grid and lays it, the pacing between included (common
# practice, no source). A goal that two carry counts for both of them.
SECONDS: Mapping[str, int] = {
    MARKERS: 8,
    "flat markers": 8,
    "tall cones": 8,
    "hoops": 8,
    "poles": 15,
    "ladders": 20,
    "mannequins": 30,
    MINI_GOALS: 30,
    BIG_GOALS: 90,
}
USUAL_S = 15  # a kind that is not in the table (common practice, no source)
HANDED_OUT = frozenset({BALLS, "bibs"})  # worn or kicked, not laid
FRAMES = frozenset({MINI_GOALS, BIG_GOALS, "mannequins", "poles"})  # somebody can run into them
MOST_ALONE = 30  # pieces of a station without a spot of their own; of more, some are taken as one
ALL_OF_IT = ""  # the kind of a drill that takes minutes and names nothing to lay


@dataclass(frozen=True, slots=True)
class GridAt:
    """A grid in its place, in whole decimetres from the lower-left corner of `space`; `turned` counts quarter turns left.

    `body` is all that its players take: its strips and waiting lines lie in it.
    """

    space: str
    grid: Box
    body: Box
    turned: int = 0

    @classmethod
    def of(cls, placed: Placed) -> GridAt:
        """A grid of a lay-out, from metres to decimetres."""
        return cls(placed.space, _box(placed.grid), _box(placed.body), placed.turned)


@dataclass(frozen=True, slots=True)
class PlacedKit:
    """A piece of kit in its place. Two are the same, and stay, where kind and place are equal.

    `area` is a spot (no length, no width) or, where only its grid is known, that grid; `mark` then tells the pieces of
    one drill apart, and `count` says how many are taken as one. `seconds` is for one adult.
    """

    kind: str
    space: str
    area: Box
    mark: str = ""
    seconds: int = field(default=0, compare=False)
    count: int = 1

    @property
    def clearance(self) -> int:
        """Decimetres that have to be between it and a game that doesn't need it: none for what lies flat."""
        return 10 * BETWEEN_M if self.kind in FRAMES else 0


def things_of(
    document: DrillDocument,
    kit: Mapping[str, int],
    grids: Sequence[GridAt],
    *,
    drill: str,
    first: bool = False,
) -> tuple[PlacedKit, ...]:
    """All that is laid for a station. `document` is the drill as it is played, `kit` what tonight's grids take together.

    Four cones stand on the corners of each grid, goals on their edges; the rest lies somewhere in its grid, known by
    `drill` and a number. What comes `first` takes the drill's own minutes to set up, shared out over its kit by `SECONDS`
    (more where tonight's is more): they begin at an empty pitch. Later the kit is there, and each thing takes what the
    table says, or its share of the drill's minutes where that is less. ValueError for negative counts.
    """
    left = {
        kind: count
        for kind, count in sorted(kit.items())
        if at_least(f"kit {kind}", count, 0) and kind not in HANDED_OUT
    }
    found: list[PlacedKit] = []
    for grid in grids:
        found += _in_place(document, grid, left, set(found))
    handful = max(1, math.ceil(sum(left.values()) / MOST_ALONE))
    for kind, count in left.items():
        for number, first_of in enumerate(range(0, count, handful)):
            grid = grids[number % len(grids)] if grids else GridAt("", (0, 0, 0, 0), (0, 0, 0, 0))
            together = min(handful, count - first_of)
            found.append(PlacedKit(kind, grid.space, grid.grid, f"{drill} {number}", count=together))
    return _timed(document, found, grids, drill, first=first)


def _in_place(
    document: DrillDocument, at: GridAt, left: dict[str, int], laid: set[PlacedKit]
) -> Iterator[PlacedKit]:
    """The things of a grid whose spot is known; takes them off what is `left`."""
    x, y, length, width = at.grid
    corners = [(x, y), (x + length, y), (x, y + width), (x + length, y + width)]
    wanted = [((MARKERS, "flat markers"), spot) for spot in corners]
    for goal in document.goals:
        if goal.edge.value in ALL_EDGES:
            small = goal.size.value in ("mini", "small")
            kinds = (MINI_GOALS, BIG_GOALS) if small else (BIG_GOALS, MINI_GOALS)
            wanted.append((kinds, _spot_of(goal, at)))
    for kinds, (across, up) in wanted:
        kind = next((each for each in kinds if left.get(each)), None)
        thing = PlacedKit(kind, at.space, (across, up, 0, 0)) if kind else None
        if thing is not None and thing not in laid:
            laid.add(thing)
            left[thing.kind] -= 1
            yield thing


def _spot_of(goal: Goal, at: GridAt) -> tuple[int, int]:
    """The middle of a goal on the ground: its place in the drill's own frame, turned with the grid."""
    x, y, length, width = at.grid
    across, up = {
        "left": (0.0, goal.along),
        "right": (1.0, goal.along),
        "bottom": (goal.along, 0.0),
        "top": (goal.along, 1.0),
    }[goal.edge.value]
    for _ in range(at.turned % 4):
        across, up = 1 - up, across
    return x + round(across * length), y + round(up * width)


def _timed(
    document: DrillDocument, things: Sequence[PlacedKit], grids: Sequence[GridAt], drill: str, *, first: bool
) -> tuple[PlacedKit, ...]:
    """The same with seconds: the author's minutes by what the drill's own kit takes in the table."""
    whole_s = 60 * document.setup_minutes
    own_s = sum(_table_s(kind) * count for kind, count in kit_of(document).items() if kind not in HANDED_OUT)
    if not things or not own_s:
        space, area = (grids[0].space, grids[0].grid) if grids else ("", (0, 0, 0, 0))
        return (PlacedKit(ALL_OF_IT, space, area, drill, whole_s),) if whole_s else ()
    scale = whole_s / own_s if first else min(1.0, whole_s / own_s)
    # Rounded so that they add up to what they are all together, rounded once.
    ends = [round(each) for each in accumulate(_table_s(each.kind) * each.count * scale for each in things)]
    return tuple(
        replace(each, seconds=end - start)
        for each, (start, end) in zip(things, pairwise([0, *ends]), strict=True)
    )


def laying_s(kit: Mapping[str, int], minutes: float) -> int:
    """Seconds in which one adult lays kit that is there already; never more than the minutes that its author gives it.

    By the table `SECONDS` (common practice, no source).
    """
    table_s = sum(_table_s(kind) * count for kind, count in kit.items() if kind not in HANDED_OUT)
    return min(table_s, round(60 * minutes))


def _table_s(kind: str) -> int:
    return SECONDS.get(kind, USUAL_S)


def _box(each: Rectangle) -> Box:
    x, y = whole_decimetres(each.x_m), whole_decimetres(each.y_m)
    return x, y, whole_decimetres(each.length_m), whole_decimetres(each.width_m)
