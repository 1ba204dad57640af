"""A squad's week: a bar for each day in AU, and all of them in one line against the week's budget."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from drills.drawing import paper
from drills.drawing.paper import Element
from drills.game.wording.rendering import Translate, as_written
from sessions.pictures.section import EDGE, WARN
from sessions.planning.numbers import at_least
from sessions.planning.reasons import reason, spoken

Kind = Literal["training", "match", "tournament", "elsewhere"]
Size = Literal["large", "phone"]

PLAY, MATCH = "#d9e7ea", "#9fb9be"
MARKS: dict[Kind, str] = {"training": "T", "match": "M", "tournament": "C", "elsewhere": "E"}
KINDS: tuple[Kind, ...] = tuple(MARKS)


@dataclass(frozen=True, slots=True)
class DayEntry:
    """One thing on one day: its load in AU and minutes; estimated where nobody rated it.

    Raises ValueError naming the field.
    """

    kind: Kind
    load_au: float
    minutes: float = 0.0
    estimated: bool = False

    def __post_init__(self) -> None:
        at_least("load_au", self.load_au, 0)
        at_least("minutes", self.minutes, 0)
        if self.kind not in KINDS:
            raise ValueError(f"kind: {self.kind!r} is not known")


@dataclass(frozen=True, slots=True)
class WeekDay:
    """A day's label ("Tue 3 Mar") and what was on."""

    label: str
    entries: tuple[DayEntry, ...] = ()

    @property
    def load_au(self) -> float:
        """All of the day, in AU."""
        return sum(entry.load_au for entry in self.entries)

    @property
    def minutes(self) -> float:
        """All of the day, in minutes."""
        return sum(entry.minutes for entry in self.entries)

    @property
    def estimated(self) -> bool:
        """Whether any of it is estimated."""
        return any(entry.estimated for entry in self.entries)


@dataclass(frozen=True, slots=True)
class WeekTableRow:
    """A row of the table beside the picture."""

    label: str
    kinds: str
    minutes: float
    load_au: float
    estimated: bool


def rows(days: Sequence[WeekDay], translate: Translate = as_written) -> tuple[WeekTableRow, ...]:
    """The picture's data as a table, a row for each day."""
    found = []
    for day in days:
        kinds = ", ".join(reason(f"week_{each}").said(translate) for each in _kinds(day) or ("rest",))
        found.append(WeekTableRow(day.label, kinds, day.minutes, day.load_au, day.estimated))
    return tuple(found)


def _kinds(day: WeekDay) -> tuple[str, ...]:
    return tuple(entry.kind for entry in day.entries)


def week_picture(
    days: Sequence[WeekDay],
    *,
    budget_au: float | None = None,
    size: Size = "large",
    name: str = "",
    prefix: str = "",
    translate: Translate = as_written,
) -> str:
    """The week as an SVG picture, the same bytes for the same week, words as `translate` says them. ValueError without days."""
    if not days:
        raise ValueError("days: a week needs its days")
    width, height = (720.0, 256.0) if size == "large" else (340.0, 232.0)
    total_au = sum(day.load_au for day in days)
    children = [
        paper.el("rect", cls="paper", width=width, height=height, fill=paper.PAPER),
        *_bars(days, width, height - 96),
        *_line(days, width, height, budget_au, translate),
        _sum(width, total_au, budget_au, translate),
        _legend(days, width, translate),
    ]
    title, desc = text_alternative(days, budget_au=budget_au, name=name, translate=translate)
    return paper.write(
        paper.picture(
            width, height, *children, title=title, desc=desc, prefix=prefix, cls=f"week week-{size}"
        )
    )


def text_alternative(
    days: Sequence[WeekDay],
    *,
    budget_au: float | None = None,
    name: str = "",
    translate: Translate = as_written,
) -> tuple[str, str]:
    """Title and description in words: AU of the week, against `budget_au` where there is one, and what was on each day."""
    named = name or reason("week_name").said(translate)
    total = _said(sum(day.load_au for day in days))
    if budget_au is None:
        title = reason("week_title", name=named, load_au=total)
    else:
        title = reason("week_title_of", name=named, load_au=total, budget_au=_said(budget_au))
    return title.said(translate), ". ".join(_row_told(row, translate) for row in rows(days, translate)) + "."


def _row_told(row: WeekTableRow, translate: Translate) -> str:
    key = "week_day" + ("_load" if row.load_au else "") + ("_estimated" if row.estimated else "")
    return reason(key, day=row.label, kinds=row.kinds, load_au=_said(row.load_au)).said(translate)


def _said(value: float) -> str:
    return str(spoken(float(round(value))))


def _bars(days: Sequence[WeekDay], width: float, bottom: float) -> list[Element]:
    """A bar for each day, entries on top of each other; AU above, the day below, dashes where estimated."""
    top, step = 62.0, (width - 20) / len(days)
    per_au = (bottom - top) / max([day.load_au for day in days] + [1.0])
    bar = min(step * 0.62, 56.0)
    found: list[Element] = []
    for index, day in enumerate(days):
        middle, y = 10 + step * (index + 0.5), bottom
        for entry in day.entries:
            high = entry.load_au * per_au
            y -= high
            found.append(_entry(entry, middle - bar / 2, y, bar, high))
        load = _said(day.load_au) if day.load_au else "–"
        found.append(paper.words(middle, y - 9, load, size=12, cls="text", font_weight="700", fill=paper.INK))
        found.extend(_day_label(day.label, middle, bottom, step))
    line = f"M10 {paper.fmt(bottom)}H{paper.fmt(width - 10)}"
    return [*found, paper.path(line, cls="axis", width=1)]


def _day_label(label: str, middle: float, bottom: float, step: float) -> list[Element]:
    """The day in one line where there is room, else its first word above the rest."""
    first, _, rest = label.partition(" ")
    lines = [label] if paper.text_width(label, 11) <= step - 2 else [first, rest]
    return [
        paper.words(middle, bottom + 13 + 13 * i, line, size=11, cls="text-2", fill=paper.SOFT_INK)
        for i, line in enumerate(lines)
    ]


def _entry(entry: DayEntry, x: float, y: float, width: float, height: float) -> Element:
    game = entry.kind in ("match", "tournament")
    rect = paper.el(
        "rect", cls=f"{'match' if game else 'work'}{' estimated' if entry.estimated else ''}",
        x=x, y=y, width=width, height=height, fill=MATCH if game else PLAY, stroke=paper.INK, stroke_width=1.25,
        stroke_dasharray="3 2" if entry.estimated else None,
    )  # fmt: skip
    letter = None
    if height >= 16:
        mark = MARKS[entry.kind]
        cls = "text-on-match" if game else "text"
        letter = paper.words(x + width / 2, y + height / 2, mark, size=11, cls=cls, fill=paper.INK)
    return paper.group([rect, letter], cls=f"entry entry-{entry.kind}")


def _line(
    days: Sequence[WeekDay], width: float, height: float, budget_au: float | None, translate: Translate
) -> list[Element]:
    """All days end to end, as long as their AU, under the budget's outline; what is over is hatched."""
    total_au = sum(day.load_au for day in days)
    longest = max(total_au, budget_au or 0.0, 1.0)
    left, y, high = 10.0, height - 44.0, 18.0
    per_au = (width - 2 * left) / longest
    found, x = [], left
    for day in days:
        if day.load_au:
            wide = day.load_au * per_au
            found.append(_piece(day, x, y, wide, high))
            x += wide
    if budget_au is not None:
        words = reason("week_budget", budget_au=_said(budget_au)).said(translate)
        found += _budget(left, y, high, budget_au * per_au, (total_au - budget_au) * per_au, words, width)
    return found


def _piece(day: WeekDay, x: float, y: float, width: float, height: float) -> Element:
    first = day.label.split(" ")[0]
    fits = paper.text_width(first, 11) <= width - 4
    rect = paper.el(
        "rect", cls="work", x=x, y=y, width=width, height=height, fill=PLAY, stroke=paper.INK, stroke_width=1
    )
    words = (
        paper.words(x + width / 2, y + height / 2, first, size=11, cls="text", fill=paper.INK)
        if fits
        else None
    )
    return paper.group([rect, words], cls="piece")


def _budget(
    left: float, y: float, high: float, long: float, over: float, words: str, width: float
) -> list[Element]:
    found = []
    if over > 0:
        fmt = paper.fmt
        start = left + long
        lines = [
            f"M{fmt(start + i)} {fmt(y + high)}L{fmt(min(start + i + high, start + over))} "
            f"{fmt(y + high - min(high, over - i))}"
            for i in range(0, max(1, int(over)), 5)
        ]
        found.append(paper.path("".join(lines), cls="over", stroke=WARN, width=1))
    found.append(
        paper.el(
            "rect", cls="budget", x=left, y=y - 4, width=long, height=high + 8, fill="none", stroke=EDGE,
            stroke_width=2, stroke_dasharray="7 4",
        )
    )  # fmt: skip
    end = max(min(left + long, width - 10), left + paper.text_width(words, 11))
    found.append(
        paper.words(end, y + high + 16, words, size=11, anchor="end", cls="text-2", fill=paper.SOFT_INK)
    )
    return found


def _sum(width: float, total_au: float, budget_au: float | None, translate: Translate) -> Element:
    over = budget_au is not None and total_au > budget_au
    if budget_au is None:
        said = reason("week_sum", load_au=_said(total_au))
    else:
        key, apart = "week_sum_over" if over else "week_sum_spare", abs(budget_au - total_au)
        said = reason(key, load_au=_said(total_au), budget_au=_said(budget_au), apart_au=_said(apart))
    return paper.words(
        width - 10, 16, said.said(translate), size=13, anchor="end", font_weight="700",
        cls="text text-warn" if over else "text", fill=WARN if over else paper.INK,
    )  # fmt: skip


def _legend(days: Sequence[WeekDay], width: float, translate: Translate) -> Element:
    """The letters that occur, and the dashes of what nobody rated."""
    there = {entry.kind for day in days for entry in day.entries}
    items = [
        f"{mark} {reason(f'week_{kind}').said(translate)}" for kind, mark in MARKS.items() if kind in there
    ]
    if any(day.estimated for day in days):
        items.append(reason("week_dashed").said(translate))
    return _legend_line(items or [reason("week_no_load").said(translate)], 10, 34, width - 20)


def _legend_line(items: Sequence[str], x: float, y: float, room: float) -> Element:
    """Items in one line from the left, the last ones left out where there is no room."""
    text = " · ".join(items)
    while len(items) > 1 and paper.text_width(text, 11) > room:
        items = items[:-1]
        text = " · ".join(items)
    return paper.words(x, y, text, size=11, anchor="start", cls="text-2 legend", fill=paper.SOFT_INK)
