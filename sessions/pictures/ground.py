"""The booked ground to scale, with the grids of one part or of a whole evening and where they are paced from.

Classes: `ground` on the root, `paper`, `square`, `square-5`, `space`, `layer layer-1` … on a grid's outline, `body` for
ground that players take outside it, `clear` for ground behind a goal, `start` for the corner. Parts differ by their
line and their number, so that grey paper shows them too.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from drills.drawing import paper
from drills.drawing.paper import Element
from drills.game.evening import Piece
from sessions.planning.layout import Placed, Rectangle

WIDTH, TALLEST = 360.0, 300.0  # units; near CSS pixels on a phone
MARGIN, STRIP = 8.0, 24.0
LINES = (None, "7 3", "1.5 2.5", "9 3 1.5 3", "3 3", "12 4")
CONE = "#c2571a"
GROUND = "#f3f6ec"
BODY = "#e3e9d6"


@dataclass(frozen=True)
class Layer:
    """Grids that stand at the same time. `label` is what stands in their corner, one for each grid."""

    number: int
    grids: tuple[tuple[str, Placed], ...]


@dataclass(frozen=True)
class _Scale:
    unit: float
    left: float
    top: float
    space: Piece

    def box(self, of: Rectangle) -> tuple[float, float, float, float]:
        """Left, top, width, height on the paper; metres grow to the right and upwards."""
        top = self.top + (self.space.width_m - of.y_m - of.width_m) * self.unit
        return self.left + of.x_m * self.unit, top, of.length_m * self.unit, of.width_m * self.unit

    @property
    def right(self) -> float:
        return self.left + self.space.length_m * self.unit

    @property
    def bottom(self) -> float:
        return self.top + self.space.width_m * self.unit


def ground_plan(
    space: Piece,
    layers: Sequence[Layer],
    *,
    title: str,
    desc: str = "",
    prefix: str = "",
    length: Callable[[float], str] = lambda metres: f"{paper.fmt(metres)} m",
) -> str:
    """The space with its grids as SVG text; the same values give the same bytes. `length` says metres in words."""
    room = WIDTH - MARGIN - STRIP
    unit = min(room / space.length_m, TALLEST / space.width_m)
    scale = _Scale(unit, STRIP + (room - space.length_m * unit) / 2, MARGIN, space)
    children: list[Element | None] = [
        paper.el("rect", cls="paper", width=WIDTH, height=scale.bottom + STRIP, fill=paper.PAPER),
        _field(scale),
        *_squares(scale),
        *[each for layer in layers for each in _taken(scale, layer)],
        *[each for layer in layers for each in _outlines(scale, layer)],
        *_cones(scale, layers),
        *_labels(scale, layers),
        *_starts(scale, layers),
        paper.dimension(
            (scale.left, scale.bottom),
            (scale.right, scale.bottom),
            length(space.length_m),
            offset=14,
            size=11,
        ),
        paper.dimension(
            (scale.left, scale.top), (scale.left, scale.bottom), length(space.width_m), offset=14, size=11
        ),
    ]
    return paper.write(
        paper.picture(
            WIDTH, scale.bottom + STRIP, *children, title=title, desc=desc, prefix=prefix, cls="ground"
        )
    )


def _field(scale: _Scale) -> Element:
    whole = Rectangle(0, 0, scale.space.length_m, scale.space.width_m)
    return _rect(scale, whole, cls="space", fill=GROUND, stroke=paper.INK, stroke_width=1.6)


def _squares(scale: _Scale) -> list[Element]:
    box = (scale.left, scale.top, scale.right, scale.bottom)
    found = []
    for step, cls, ink, width in ((1.0, "square", paper.SQUARE, 0.4), (5.0, "square-5", paper.SQUARE_5, 0.7)):
        if scale.unit * step > 2.5:
            lines = paper.squared(*box, (scale.left, scale.bottom), step * scale.unit)
            found.append(paper.path(lines, cls=cls, stroke=ink, width=width))
    return found


def _taken(scale: _Scale, layer: Layer) -> list[Element]:
    """Ground beside a grid that somebody stands on, and behind goals."""
    found = []
    for _, each in layer.grids:
        beside = [each.body] if each.body != each.grid else []
        for ground in (*beside, *each.lines):
            found.append(_rect(scale, ground, cls="body", fill=BODY, fill_opacity=0.8))
        for clear in each.clear:
            cut = _within(clear, scale.space)
            if cut is not None:
                found.append(
                    _rect(
                        scale,
                        cut,
                        cls="clear",
                        fill="none",
                        stroke=CONE,
                        stroke_width=0.8,
                        stroke_dasharray="2 3",
                    )
                )
    return found


def _within(of: Rectangle, space: Piece) -> Rectangle | None:
    x, y = max(0.0, of.x_m), max(0.0, of.y_m)
    right, top = min(space.length_m, of.x_m + of.length_m), min(space.width_m, of.y_m + of.width_m)
    return Rectangle(x, y, right - x, top - y) if right - x > 0.05 and top - y > 0.05 else None


def _outlines(scale: _Scale, layer: Layer) -> list[Element]:
    return [
        _rect(
            scale,
            each.grid,
            cls=f"layer layer-{layer.number}",
            fill="none",
            stroke=paper.INK,
            stroke_width=1.5,
            stroke_dasharray=LINES[(layer.number - 1) % len(LINES)],
        )
        for _, each in layer.grids
    ]


def _cones(scale: _Scale, layers: Sequence[Layer]) -> list[Element]:
    """A cone on every corner, once, however many parts use it."""
    spots = {
        (round(x, 1), round(y, 1))
        for layer in layers
        for _, each in layer.grids
        for left, top, wide, tall in [scale.box(each.grid)]
        for x in (left, left + wide)
        for y in (top, top + tall)
    }
    return [
        paper.path(
            f"M{paper.fmt(x)} {paper.fmt(y - 4)}L{paper.fmt(x + 3.4)} {paper.fmt(y + 2.4)}H{paper.fmt(x - 3.4)}Z",
            cls="cone",
            stroke=paper.PAPER,
            width=0.6,
            fill=CONE,
        )
        for x, y in sorted(spots)
    ]


def _labels(scale: _Scale, layers: Sequence[Layer]) -> list[Element]:
    """The label in the upper right corner of each grid, moved on where another one stands there already."""
    taken: list[tuple[float, float]] = []
    found = []
    for layer in layers:
        for label, each in layer.grids:
            left, top, wide, _ = scale.box(each.grid)
            x, y = left + wide - 11, top + 12
            while any(abs(x - ox) < 19 and abs(y - oy) < 19 for ox, oy in taken):
                x -= 20
            taken.append((x, y))
            found.append(
                paper.group(
                    (
                        paper.el("circle", cx=x, cy=y, r=8.5, fill=paper.INK),
                        paper.words(
                            x, y, label, size=10 if len(label) < 3 else 8, fill=paper.PAPER, font_weight="700"
                        ),
                    ),
                    cls="label",
                )
            )
    return found


def _starts(scale: _Scale, layers: Sequence[Layer]) -> list[Element]:
    """The corners of the space that grids are paced from."""
    corners = {each.corner for layer in layers for _, each in layer.grids}
    found = []
    for name in sorted(corners):
        x = scale.right if "right" in name else scale.left
        y = scale.top if "upper" in name else scale.bottom
        found.append(
            paper.el(
                "circle", cls="start", cx=x, cy=y, r=5, fill=paper.PAPER, stroke=paper.INK, stroke_width=2
            )
        )
    return found


def _rect(scale: _Scale, of: Rectangle, *, cls: str, **how: paper.Value) -> Element:
    left, top, wide, tall = scale.box(of)
    return paper.el("rect", cls=cls, x=left, y=top, width=wide, height=tall, **how)
