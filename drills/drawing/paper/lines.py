"""What every builder's plan has: squared paper, arrowheads, dimension lines, hatches."""

from __future__ import annotations

import math
from functools import lru_cache

from drills.drawing.bibs import HATCHES
from drills.drawing.paper.elements import (
    SOFT_INK,
    Element,
    Markup,
    el,
    fmt,
    group,
    path,
    text_width,
    traced,
    words,
    write,
)


def squared(
    left: float,
    top: float,
    right: float,
    bottom: float,
    origin: tuple[float, float],
    step: float,
) -> str:
    """Path data of squared paper: lines every `step` units through `origin`, inside the given box."""
    above, below, first, last = fmt(top), fmt(bottom), fmt(left), fmt(right)
    xs, ys = _marks(left, right, origin[0], step), _marks(top, bottom, origin[1], step)
    return traced(f"M%.1f {above}V{below}" * len(xs) + f"M{first} %.1fH{last}" * len(ys), *xs, *ys)


def arrowhead(tip: tuple[float, float], towards: tuple[float, float], *, length: float, half: float) -> str:
    """Path data of a head at `tip`; `towards` is a unit vector in the direction in which it points."""
    ux, uy = towards
    bx, by = tip[0] - ux * length, tip[1] - uy * length
    return traced(
        "M%.1f %.1fL%.1f %.1fL%.1f %.1fZ",
        *tip,
        bx - uy * half,
        by + ux * half,
        bx + uy * half,
        by - ux * half,
    )


def dimension(
    start: tuple[float, float], end: tuple[float, float], label: str, *, offset: float, size: float = 12
) -> Element:
    """A dimension line as on a builder's plan, `offset` units to the right of the way from start to end.

    Thin extension lines leave the measured edge, arrowheads touch them, the figure stands in a gap of the line and is
    read from below or from the right.
    """
    length = math.dist(start, end)
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    nx, ny = -uy, ux
    (ax, ay), (bx, by) = (
        (start[0] + nx * offset, start[1] + ny * offset),
        (end[0] + nx * offset, end[1] + ny * offset),
    )
    over = math.copysign(3, offset)
    near = math.copysign(3, offset)
    # A short link has no room for heads beside its figure: its extension lines say where it ends.
    wide = text_width(label, size)
    short = length < wide + 16
    size = max(7.0, min(size, size * length / (wide + 4)))
    gap = min(text_width(label, size) / 2 + 4, length / 2)
    mx, my = (ax + bx) / 2, (ay + by) / 2
    lines = traced(
        "M%.1f %.1fL%.1f %.1f" * 2,
        *(start[0] + nx * near, start[1] + ny * near, ax + nx * over, ay + ny * over),
        *(end[0] + nx * near, end[1] + ny * near, bx + nx * over, by + ny * over),
    )
    if length / 2 - gap > 8:  # else the figure stands where the line would be
        lines += traced(
            "M%.1f %.1fL%.1f %.1f" * 2,
            *(ax, ay, mx - ux * gap, my - uy * gap),
            *(mx + ux * gap, my + uy * gap, bx, by),
        )
    heads = arrowhead((ax, ay), (-ux, -uy), length=6, half=1.8) + arrowhead(
        (bx, by), (ux, uy), length=6, half=1.8
    )
    turn = f"rotate(-90 {fmt(mx)} {fmt(my)})" if abs(uy) > abs(ux) else None
    return group(
        (
            path(lines, cls="measure", stroke=SOFT_INK, width=0.8),
            None if short else path(heads, cls="measure-head", stroke="none", width=None, fill=SOFT_INK),
            words(mx, my, label, size=size, transform=turn),
        ),
        cls="dimension",
    )


@lru_cache(maxsize=256)
def hatch(prefix: str, name: str) -> Markup:
    """A pattern for a bib colour on paper without colours; use it as `url(#<prefix>hatch-<name>)`."""
    width, height, marks = HATCHES[name.replace("-", " ")]
    pattern = el(
        "pattern",
        el("rect", width=width, height=height, fill="#fff"),
        path(marks, width=1, stroke="#000") if marks else None,
        id=f"{prefix}hatch-{name}",
        patternUnits="userSpaceOnUse",
        width=width,
        height=height,
    )
    return Markup(write(pattern))


def _marks(low: float, high: float, origin: float, step: float) -> list[float]:
    first = math.ceil((low - origin) / step - 1e-6)
    last = math.floor((high - origin) / step + 1e-6)
    return [origin + n * step for n in range(first, last + 1)]
