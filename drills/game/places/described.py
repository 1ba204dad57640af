"""What the start layout of a drill is made from: its text, and tonight's numbers and grid where there are some."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol, cast

from drills.game.document.choices import Edge as DocumentEdge
from drills.game.document.choices import GoalSize, Place, PlaysFor
from drills.game.document.content import Goal
from drills.game.document.drill import DrillDocument
from drills.game.format import Format
from drills.game.groups import Slot, Where, roster_of
from drills.game.places.start import Layout
from drills.game.playable import grid_of, outside_edges
from drills.game.scene import Edge, SceneGate, SceneGoal, SceneZone, Side

# Widths of goals in metres. Full size: Laws of the Game, Law 1. The others: common practice, no source.
GOAL_WIDTHS_M = {GoalSize.MINI: 1.5, GoalSize.SMALL: 3.0, GoalSize.AGE_GROUP: 4.88, GoalSize.FULL: 7.32}
GOAL_MOST_OF_EDGE = 0.8
OUTFIELD: tuple[Where, ...] = ("inside", "outside")
_SIDES = {PlaysFor.A: "A", PlaysFor.B: "B", PlaysFor.C: "C", PlaysFor.D: "D", PlaysFor.BALL: "neutral"}


class Tonights(Protocol):
    """What a picture needs of a fit's set-up: the numbers and the size of its first grid, in metres."""

    @property
    def format(self) -> Format: ...
    @property
    def length_m(self) -> float: ...
    @property
    def width_m(self) -> float: ...
    @property
    def waiting(self) -> int: ...
    @property
    def grids(self) -> int: ...


def layout_of(
    doc: DrillDocument,
    *,
    setup: Tonights | None = None,
    bibs: Mapping[str, str] | None = None,
    grid_key: str = "",
) -> Layout:
    """What the start layout of a played document is made from."""
    grid = grid_of(doc, grid_key)
    length_m, width_m = (setup.length_m, setup.width_m) if setup else (grid.length_m, grid.width_m)
    waiting = setup.waiting // setup.grids if setup else 0
    fmt = setup.format if setup else Format.parse(doc.format)
    return Layout(
        activity=doc.activity.value,
        format=fmt,
        length_m=length_m,
        width_m=width_m,
        title=doc.title,
        goals=tuple(_goal(each, length_m, width_m) for each in doc.goals),
        zones=_zones(doc, length_m, width_m),
        gates=_gates(doc, length_m, width_m),
        bibs={**bib_words(doc), **(bibs or {})},
        worn=worn_bibs(doc, fmt, bibs or {}),
        edges=cast(tuple[Edge, ...], outside_edges(doc) or ()),
        waiting=waiting,
        ball_each=True if doc.balls.each else None,
        spare_balls=doc.balls.spare,
    )


_SPEAKS_AFTER = {Place.INSIDE: 0, Place.GOAL: 2}  # keepers wear a colour of their own


def bib_words(doc: DrillDocument) -> dict[str, str]:
    """The bib colour of each side, as the groups say: the players inside speak first, the keepers last."""
    words: dict[str, str] = {}
    for group in sorted(doc.groups, key=lambda each: _SPEAKS_AFTER.get(each.place, 1)):
        side = _SIDES.get(group.plays_for)
        if side and group.bib:
            words.setdefault(side, group.bib)
    return words


NO_BIB = "no bib"


def worn_bibs(doc: DrillDocument, fmt: Format, tonight: Mapping[str, str]) -> dict[Side, tuple[str, ...]]:
    """What each outfield player of a side wears, those inside first, for sides whose groups wear different bibs.

    `tonight` maps sides to the colours that take the place of their own; a group that wore tonight's colour gets the
    side's own for it.
    """
    roster, own = roster_of(doc), bib_words(doc)
    counts = roster.spread(fmt)
    groups = {each.key: each for each in doc.groups}
    found: dict[Side, tuple[str, ...]] = {}
    for side in dict.fromkeys(slot.side for slot in roster.members):
        keys = [key for slot in OUTFIELD for key in roster.keys(Slot(side, slot))]
        if len({groups[key].bib for key in keys}) < 2:
            continue
        home = own.get(side, NO_BIB)
        away = tonight.get(side, home)
        colours = {home: away, away: home}
        bibs = [groups[key].bib or NO_BIB for key in keys for _ in range(counts[key])]
        found[side] = tuple(colours.get(each, each) for each in bibs)
    return found


def _goal(goal: Goal, length_m: float, width_m: float) -> SceneGoal:
    edge_m = width_m if goal.edge in (DocumentEdge.LEFT, DocumentEdge.RIGHT) else length_m
    wide = min(goal.width_m or GOAL_WIDTHS_M[goal.size], GOAL_MOST_OF_EDGE * edge_m)
    free = goal.edge is DocumentEdge.FREE
    return SceneGoal(
        key=goal.key,
        edge=cast(Edge, goal.edge.value),
        along_m=0.0 if free else round(goal.along * edge_m, 2),
        width_m=round(wide, 2),
        small=goal.size in (GoalSize.MINI, GoalSize.SMALL),
        open=goal.open_at_start,
        x_m=round(goal.along * length_m, 2) if free else 0.0,
        y_m=round(width_m / 2, 2) if free else 0.0,
    )


def _zones(doc: DrillDocument, length_m: float, width_m: float) -> tuple[SceneZone, ...]:
    return tuple(
        SceneZone(
            key=each.key,
            x_m=round(each.left * length_m, 2),
            y_m=round(each.bottom * width_m, 2),
            length_m=round((each.right - each.left) * length_m, 2),
            width_m=round((each.top - each.bottom) * width_m, 2),
            title=each.name[:40],
        )
        for each in doc.zones
    )


def _gates(doc: DrillDocument, length_m: float, width_m: float) -> tuple[SceneGate, ...]:
    return tuple(
        SceneGate(
            key=each.key,
            x_m=round(each.x * length_m, 2),
            y_m=round(each.y * width_m, 2),
            width_m=each.width_m,
            across=each.across,
        )
        for each in doc.gates
    )
