"""A piece of ground in one line and as a small drawing: what stands at its edges, and its fixed goals."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club.choices import EDGES, AtEdge, FixedGoalKind

AT = {
    "left": gettext_lazy("the left end"),
    "right": gettext_lazy("the right end"),
    "bottom": gettext_lazy("the near side"),
    "top": gettext_lazy("the far side"),
}

# Paper of the sketch and its margin, in units near CSS pixels, and how far a goal stands out. Goals are as wide as in a
# drill's drawing, only wider where nobody would see them.
WIDE, TALL, MARGIN, DEEP, LEAST_GOAL = 280.0, 220.0, 22.0, 7.0, 12.0
GOALS_M = {
    FixedGoalKind.MINI: 1.5,
    FixedGoalKind.SMALL: 3.0,
    FixedGoalKind.AGE_GROUP: 4.88,
    FixedGoalKind.FULL: 7.32,
}

Goal = tuple[str, float, str]  # edge, share along it, size


def ground_line(edges: Mapping[str, str], goals: Iterable[tuple[str, str]] = ()) -> str:
    """What stands at the edges, and the goals (edge, size) that stand there: fence at three sides, mini goal at the left end."""
    where = {stands: [edge for edge in EDGES if edges[edge] == stands] for stands in AtEdge.values}
    fences, groups, free = (where[stands] for stands in (AtEdge.FENCE, AtEdge.GROUP, AtEdge.OPEN))
    parts = []
    if len(free) == len(EDGES):
        parts.append(_("open all round"))
    if fences:
        parts.append(_("fence {where}").format(where=_fenced(fences)))
    if groups:
        parts.append(_("another group beyond {where}").format(where=_listed(groups)))
    if len(fences) == 3 and free:
        parts.append(_("open at {where}").format(where=_listed(free)))
    parts += [
        _("{goal} at {where}").format(goal=FixedGoalKind(size).label, where=AT[edge]) for edge, size in goals
    ]
    return ", ".join(parts)


def _fenced(edges: list[str]) -> str:
    if len(edges) == 4:
        return _("all round")
    return _("at three sides") if len(edges) == 3 else _("at {where}").format(where=_listed(edges))


def _listed(edges: list[str]) -> str:
    names = [str(AT[edge]) for edge in edges]
    if len(names) == 1:
        return names[0]
    return _("{most} and {last}").format(most=", ".join(names[:-1]), last=names[-1])


@dataclass(frozen=True)
class Sketch:
    """A zone to scale for a template, in units of its drawing; all numbers are texts that no language changes."""

    wide: str
    tall: str
    edges: tuple[tuple[str, str], ...]  # what stands there, path
    goals: tuple[str, ...]  # paths
    names: tuple[tuple[str, str, str, str], ...]  # x, y, turn, words
    words: str


def sketch(length_m: float, width_m: float, edges: Mapping[str, str], goals: Iterable[Goal]) -> Sketch:
    """The zone from above, its near side at the bottom of the paper."""
    unit = min((WIDE - 2 * MARGIN) / length_m, (TALL - 2 * MARGIN) / width_m)
    right, bottom = MARGIN + length_m * unit, MARGIN + width_m * unit
    corners = {
        "left": (MARGIN, bottom, MARGIN, MARGIN),
        "right": (right, bottom, right, MARGIN),
        "bottom": (MARGIN, bottom, right, bottom),
        "top": (MARGIN, MARGIN, right, MARGIN),
    }
    standing = list(goals)
    return Sketch(
        wide=_n(right + MARGIN),
        tall=_n(bottom + MARGIN),
        edges=tuple((edges[edge], _line(*corners[edge])) for edge in EDGES),
        goals=tuple(_goal(corners[edge], along, size, unit) for edge, along, size in standing),
        names=tuple(_name(edge, corners[edge]) for edge in EDGES),
        words=ground_line(edges, [(edge, size) for edge, _along, size in standing]),
    )


def _n(value: float) -> str:
    return f"{value:.1f}"


def _line(x: float, y: float, to_x: float, to_y: float) -> str:
    return f"M{_n(x)} {_n(y)}L{_n(to_x)} {_n(to_y)}"


def _goal(corners: tuple[float, float, float, float], along: float, size: str, unit: float) -> str:
    """Two posts and the line between them, inside the zone."""
    x, y, to_x, to_y = corners
    half = max(GOALS_M[FixedGoalKind(size)] * unit, LEAST_GOAL) / 2
    at_x, at_y = x + (to_x - x) * along, y + (to_y - y) * along
    if x == to_x:
        inward = DEEP if x == MARGIN else -DEEP
        return f"M{_n(x)} {_n(at_y - half)}h{_n(inward)}v{_n(2 * half)}h{_n(-inward)}"
    inward = DEEP if y == MARGIN else -DEEP
    return f"M{_n(at_x - half)} {_n(y)}v{_n(inward)}h{_n(2 * half)}v{_n(-inward)}"


def _name(edge: str, corners: tuple[float, float, float, float]) -> tuple[str, str, str, str]:
    """Where an edge's name stands: outside it, along it."""
    x, y, to_x, to_y = corners
    middle_x, middle_y = (x + to_x) / 2, (y + to_y) / 2
    names = {"left": _("left end"), "right": _("right end"), "bottom": _("near side"), "top": _("far side")}
    move = {"left": (-9, 0, -90), "right": (9, 0, 90), "bottom": (0, 14, 0), "top": (0, -8, 0)}[edge]
    return _n(middle_x + move[0]), _n(middle_y + move[1]), str(move[2]), names[edge]
