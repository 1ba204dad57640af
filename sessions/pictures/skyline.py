"""The skyline of a session: a part's width is its minutes, its height its CR10, so its area is its load in AU.

Squared paper behind it makes that countable: one square is 5 min × CR10 1, so 5 AU. Rests are pale notches inside
the part's outline, since a part's CR10 counts its rests in. The budget is an outline of the same scale.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Literal

from drills.drawing import paper
from drills.drawing.paper import Element
from sessions.planning.account import account
from sessions.planning.load import CHANGEOVER_CR10
from sessions.planning.plan import PlannedPart, SessionPlan
from sessions.planning.reasons import spoken

Size = Literal["large", "phone", "small"]

PLAY, REST, WARN, EDGE = "#d9e7ea", "#ece7d9", "#96330c", "#0b5566"
FULL_CR10 = 10


@dataclass(frozen=True, slots=True)
class _Scale:
    """Where minutes and CR10 lie in the picture, in its units."""

    left: float
    top: float
    right: float
    bottom: float
    minutes: float
    cr10: float

    def x(self, minutes: float) -> float:
        return self.left + minutes * (self.right - self.left) / self.minutes

    def y(self, cr10: float) -> float:
        return self.bottom - cr10 * (self.bottom - self.top) / self.cr10


@dataclass(frozen=True, slots=True)
class _Block:
    """One part placed on the minutes."""

    number: int
    part: PlannedPart
    starts_min: float

    @property
    def ends_min(self) -> float:
        return self.starts_min + self.part.minutes


def skyline(
    plan: SessionPlan,
    *,
    budget_au: float | None = None,
    k: float = 1.0,
    hardest_cr10: float | None = None,
    size: Size = "large",
    minutes_shown: float | None = None,
    name: str = "Session",
    prefix: str = "",
) -> str:
    """The plan as an SVG picture, the same bytes for the same plan.

    `budget_au` is drawn as an outline as long as the session whose area is the budget; with the squad's factor
    `k` it is the planned load that fits, budget ÷ k. `minutes_shown` fixes the width of the minutes so that
    pictures beside each other share one scale. ValueError for k of 0 or less.
    """
    if k <= 0:
        raise ValueError(f"k: must be more than 0, not {k:g}")
    blocks = _blocks(plan)
    scale, width, height = _scale(plan, size, minutes_shown, budget_au, k)
    small = size == "small"
    children: list[Element | None] = [
        paper.el("rect", cls="paper", width=width, height=height, fill=paper.PAPER) if not small else None,
        None if small else _squares(scale),
        *[_changeover(scale, block) for block in blocks],
        *[_part(scale, block, hardest_cr10, small) for block in blocks],
        _budget(scale, plan.minutes, budget_au, k, small),
        _ground(scale),
    ]
    if not small:
        children += [_axes(scale, plan, size), *_labels(scale, blocks), _sum(scale, plan, budget_au, k)]
        children.append(_legend(scale, plan, budget_au, hardest_cr10))
    title, desc = text_alternative(plan, budget_au=budget_au, k=k, name=name)
    root = paper.picture(
        width, height, *children, title=title, desc=desc, prefix=prefix, cls=f"skyline skyline-{size}"
    )
    return paper.write(root)


def text_alternative(
    plan: SessionPlan, *, budget_au: float | None = None, k: float = 1.0, name: str = "Session"
) -> tuple[str, str]:
    """Title and description in words: the whole, then each part."""
    costs = account(plan)
    title = f"{name}: {_count(len(plan.parts), 'part')}, {_said(plan.minutes)} min, {_whole(costs.load_au)} AU planned"
    if budget_au is not None:
        title += f", {_whole(costs.load_au * k)} AU expected of {_whole(budget_au)} AU"
    lines = [
        f"{number} {part.name}: {_said(part.minutes)} min at CR10 {_said(part.cr10)}, {_whole(au)} AU"
        + (f", {part.bouts} bouts" if part.bouts > 1 else "")
        for number, (part, au) in enumerate(
            zip(plan.parts, [each.load_au for each in costs.parts], strict=True), start=1
        )
    ]
    if plan.changeover_minutes:
        lines.append(f"Changeovers: {_said(plan.changeover_minutes)} min, {_whole(costs.changeovers_au)} AU")
    return title + ".", ". ".join(lines) + "." if lines else ""


def _said(value: float) -> str:
    return str(spoken(float(value)))


def _whole(load_au: float) -> str:
    return f"{load_au:.0f}"


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def _blocks(plan: SessionPlan) -> list[_Block]:
    moment, found = 0.0, []
    for number, part in enumerate(plan.parts, start=1):
        moment += part.changeover_s / 60
        found.append(_Block(number, part, moment))
        moment += part.minutes
    return found


def _scale(
    plan: SessionPlan, size: Size, minutes_shown: float | None, budget_au: float | None, k: float
) -> tuple[_Scale, float, float]:
    used = plan.used_minutes - plan.clear_minutes
    minutes = max(plan.minutes, used, minutes_shown or 0, 1.0)
    # a budget may stand higher than CR10 10 where the session is short; the outline must still be seen whole
    outline = (budget_au or 0) / k / plan.minutes if plan.minutes else 0
    cr10 = max(FULL_CR10, min(outline * 1.05, 2 * FULL_CR10))
    if size == "small":
        width, height = 96.0, 40.0
        return _Scale(1, 2, width - 1, height - 2, minutes, cr10), width, height
    width, height = (720.0, 286.0) if size == "large" else (340.0, 262.0)
    return _Scale(30, 34, width - 10, height - 44, minutes, cr10), width, height


def _squares(scale: _Scale) -> Element:
    unit, rung = scale.x(5) - scale.left, scale.bottom - scale.y(1)
    box = (scale.left, scale.y(scale.cr10), scale.right, scale.bottom)
    origin = (scale.left, scale.bottom)
    fine = _lines(box, origin, unit, rung)
    strong = _lines(box, origin, unit * 3, rung * 5)
    return paper.group(
        [
            paper.path(fine, cls="square", stroke=paper.SQUARE, width=1),
            paper.path(strong, cls="square-5", stroke=paper.SQUARE_5, width=1),
        ],
        cls="squares",
    )


def _lines(
    box: tuple[float, float, float, float], origin: tuple[float, float], across: float, up: float
) -> str:
    left, top, right, bottom = box
    xs = [origin[0] + i * across for i in range(int((right - left) / across + 1e-6) + 1)]
    ys = [origin[1] - i * up for i in range(int((bottom - top) / up + 1e-6) + 1)]
    fmt = paper.fmt
    drawn = [f"M{fmt(x)} {fmt(top)}V{fmt(bottom)}" for x in xs]
    return "".join(drawn + [f"M{fmt(left)} {fmt(y)}H{fmt(right)}" for y in ys])


def _box(scale: _Scale, from_min: float, to_min: float, cr10: float, **given: str | float | None) -> Element:
    cls = str(given.pop("cls", ""))
    x, y = scale.x(from_min), scale.y(cr10)
    return paper.el(
        "rect", cls=cls, x=x, y=y, width=scale.x(to_min) - x, height=max(0.0, scale.bottom - y), **given
    )


def _changeover(scale: _Scale, block: _Block) -> Element | None:
    minutes = block.part.changeover_s / 60
    if not minutes:
        return None
    return _box(
        scale, block.starts_min - minutes, block.starts_min, CHANGEOVER_CR10,
        cls="changeover", fill=REST, stroke=paper.SOFT_INK, stroke_width=0.5,
    )  # fmt: skip


def _part(scale: _Scale, block: _Block, hardest_cr10: float | None, small: bool) -> Element:
    """Fill, rests as pale notches, outline: the outline's area is the load."""
    part = block.part
    hard = hardest_cr10 is not None and part.cr10 > hardest_cr10
    children = [_box(scale, block.starts_min, block.ends_min, part.cr10, cls="work", fill=PLAY)]
    children += [
        _box(scale, start, end, part.cr10, cls="rest", fill=paper.PAPER) for start, end in _rests(block)
    ]
    children.append(
        _box(
            scale, block.starts_min, block.ends_min, part.cr10,
            cls="outline", fill="none", stroke=paper.INK, stroke_width=1 if small else 1.5, stroke_linejoin="round",
        )
    )  # fmt: skip
    if hard and hardest_cr10 is not None:
        children.append(_too_hard(scale, block, hardest_cr10))
    return paper.group(children, cls="part part-hard" if hard else "part")


def _rests(block: _Block) -> list[tuple[float, float]]:
    """From–to of the rests, in minutes; what runs past the part's end is cut off."""
    part, found = block.part, []
    bout, rest = part.bout_length_s / 60, part.rest_s / 60
    for number in range(1, part.bouts):
        start = block.starts_min + number * bout + (number - 1) * rest
        if rest and start < block.ends_min:
            found.append((start, min(start + rest, block.ends_min)))
    return found


def _too_hard(scale: _Scale, block: _Block, limit: float) -> Element:
    """The slice above the limit, hatched, so that it shows in grey as well."""
    left, right = scale.x(block.starts_min), scale.x(block.ends_min)
    top, bottom = scale.y(block.part.cr10), scale.y(limit)
    drawn, x = [], left - (bottom - top)
    while x < right:
        a, b = max(x, left), min(x + bottom - top, right)
        if a < b:
            drawn.append(
                f"M{paper.fmt(a)} {paper.fmt(bottom - (a - x))}L{paper.fmt(b)} {paper.fmt(bottom - (b - x))}"
            )
        x += 5
    return paper.path("".join(drawn), cls="over", stroke=WARN, width=1)


def _budget(scale: _Scale, minutes: float, budget_au: float | None, k: float, small: bool) -> Element | None:
    if budget_au is None or minutes <= 0:
        return None
    cr10 = min(budget_au / k / minutes, scale.cr10)
    return _box(
        scale, 0, minutes, cr10, cls="budget", fill="none", stroke=EDGE,
        stroke_width=1 if small else 2, stroke_dasharray="3 2" if small else "7 4",
    )  # fmt: skip


def _ground(scale: _Scale) -> Element:
    drawn = f"M{paper.fmt(scale.left)} {paper.fmt(scale.bottom)}H{paper.fmt(scale.right)}"
    return paper.path(drawn, cls="axis", width=1)


def _axes(scale: _Scale, plan: SessionPlan, size: Size) -> Element:
    """CR10 on the left, minutes (or clock times) below, every quarter of an hour."""
    step = 15 if size == "large" or scale.minutes <= 90 else 30
    marks: list[Element | None] = [
        paper.words(
            scale.left - 7, scale.y(cr10), str(cr10), size=11, anchor="end", cls="text-2", fill=paper.SOFT_INK
        )
        for cr10 in range(0, FULL_CR10 + 1, 2)
    ]
    marks.append(
        paper.words(2, scale.top - 20, "CR10", size=11, anchor="start", cls="text-2", fill=paper.SOFT_INK)
    )
    for minute in range(0, int(scale.minutes) + 1, step):
        at = scale.x(minute)
        text = str(minute)
        if plan.starts_at is not None:
            text = f"{plan.starts_at + timedelta(minutes=minute):%H:%M}"
        anchor = "start" if minute == 0 else "end" if at > scale.right - 14 else "middle"
        marks.append(
            paper.words(
                at, scale.bottom + 14, text, size=11, anchor=anchor, cls="text-2", fill=paper.SOFT_INK
            )
        )
    return paper.group(marks, cls="marks")


def _labels(scale: _Scale, blocks: Sequence[_Block]) -> list[Element]:
    """Number in the block, above it the title (or the minutes) where there is room."""
    found = []
    for block in blocks:
        room = scale.x(block.ends_min) - scale.x(block.starts_min)
        middle = scale.x(block.starts_min) + room / 2
        top = scale.y(block.part.cr10)
        # a low or short part has no room inside: its number goes above the outline, its name above that
        inside = scale.bottom - top >= 18 and room >= 14
        found.append(
            _halo(middle, scale.bottom - 11 if inside else top - 9, str(block.number), 13, "text", "700")
        )
        base = top - 9 if inside else top - 24
        lines = [block.part.name, f"{_said(block.part.minutes)} min"]
        fitting = [line for line in lines if paper.text_width(line, 11) <= room + 6]
        for row, line in enumerate(reversed(fitting)):
            clear = max(middle, scale.left + paper.text_width(line, 11) / 2 + 3)  # of the figures on the left
            found.append(
                _halo(clear, base - 13 * row, line, 11, "text-2" if line != block.part.name else "text")
            )
    return found


def _halo(x: float, y: float, text: str, size: float, cls: str, weight: str | None = None) -> Element:
    """Words with a rim of paper, so that no line of the squares or the budget runs through them."""
    return paper.words(
        x, y, text, size=size, cls=cls, font_weight=weight, fill=paper.INK if cls == "text" else paper.SOFT_INK,
        stroke=None if weight else paper.PAPER, stroke_width=None if weight else 4, paint_order=None if weight else "stroke",
    )  # fmt: skip


def _sum(scale: _Scale, plan: SessionPlan, budget_au: float | None, k: float) -> Element:
    """The load against the budget, top right, with the amount by which it is over."""
    total_au = account(plan).load_au
    if budget_au is None:
        text, over = f"{_whole(total_au)} AU planned", False
    else:
        load_au = total_au * k
        over = load_au > budget_au
        state = f"{_whole(load_au - budget_au)} over" if over else f"{_whole(budget_au - load_au)} to spare"
        text = f"{_whole(load_au)} of {_whole(budget_au)} AU, {state}"
    return paper.words(
        scale.right, scale.top - 20, text, size=13, anchor="end", font_weight="700",
        cls="text text-warn" if over else "text", fill=WARN if over else paper.INK,
    )  # fmt: skip


def _legend(scale: _Scale, plan: SessionPlan, budget_au: float | None, hardest_cr10: float | None) -> Element:
    """What stands for what, of the things that are drawn; as much of it as fits in one line."""
    items = []
    if any(part.rest_s and part.bouts > 1 for part in plan.parts):
        items.append("pale: rest")
    if budget_au is not None:
        items.append("dashed: budget")
    if hardest_cr10 is not None and any(part.cr10 > hardest_cr10 for part in plan.parts):
        items.append(f"hatched: over CR10 {_said(hardest_cr10)}")
    items.append("a square: 5 AU")
    return legend_line(items, scale.left, scale.bottom + 33, scale.right - scale.left)


def legend_line(items: Sequence[str], x: float, y: float, room: float) -> Element:
    """Items in one line from the left, the last ones left out where there is no room."""
    text = " · ".join(items)
    while len(items) > 1 and paper.text_width(text, 11) > room:
        items = items[:-1]
        text = " · ".join(items)
    return paper.words(x, y, text, size=11, anchor="start", cls="text-2 legend", fill=paper.SOFT_INK)
