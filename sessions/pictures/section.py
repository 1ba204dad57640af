"""A session as plan and section: the plans of its parts stand on a tape of its minutes, and the section hangs below it.

Each plan is as wide as its part's minutes. Each cut of the section is as wide as its part's minutes and as deep as its
effort (CR10), so that its area is its load; play is hatched at 45°, the closer the harder, and rest is left blank, since a
part's CR10 counts its rests in. The budget is a dashed level at the depth at which the whole session's area is the budget.
No figure of load is written: those stand in the details of the page.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from drills.drawing import paper
from drills.drawing.paper import Element
from drills.game.wording.rendering import Plural, Translate, as_written
from sessions.pictures.section_plans import plan_on_tape
from sessions.pictures.section_sheet import (
    FULL_CR10,
    SectionCut,
    SectionSheet,
    Size,
    cuts_of,
    height_shown,
    sheet_of,
)
from sessions.planning.account import account
from sessions.planning.load import CHANGEOVER_CR10
from sessions.planning.plan import SessionPlan
from sessions.planning.reasons import reason
from sessions.planning.shares import share_words

WARN, EDGE = "#91310b", "#0b5566"
LABEL = 12.0  # type size of numbers and names
LEAST_HATCH, HATCH_PER_CR10 = 3.0, 1.0  # units between two strokes: 3 at CR10 10, one more for each step down


def plan_and_section(
    plan: SessionPlan,
    *,
    plans: Sequence[str] = (),
    links: Sequence[str] = (),
    budget_au: float | None = None,
    k: float = 1.0,
    hardest_cr10: float | None = None,
    size: Size = "large",
    minutes_shown: float | None = None,
    name: str = "",
    prefix: str = "",
    translate: Translate = as_written,
    plural: Plural | None = None,
) -> str:
    """The session as an SVG picture, the same bytes for the same values.

    `plans` are the parts' plans as SVG texts, empty where a part has none; without any the section hangs from the tape
    alone. `links` are addresses that number and plan of each part lead to. `budget_au` in AU, with the squad's factor `k`:
    the level lies at budget ÷ k ÷ minutes (CR10). What is harder than `hardest_cr10` is crossed in the colour of
    warnings. `minutes_shown` fixes the width of a minute, so that pictures beside each other share one scale. Words are
    said by `translate` and `plural`, as `text_of` takes them. Raises ValueError for k of 0 or less.
    """
    if k <= 0:
        raise ValueError(f"k: must be more than 0, not {k:g}")
    cuts = cuts_of(plan)
    level = budget_au / k / plan.minutes if budget_au is not None and plan.minutes > 0 else None
    sheet = sheet_of(plan, size, minutes_shown, level, with_plans=any(plans))
    small = size == "small"
    children: list[Element | None] = [
        *(
            [
                plan_on_tape(sheet, cut, each, links, prefix, translate)
                for cut, each in zip(cuts, plans, strict=False)
            ]
            if not small
            else []
        ),
        *[_changeover(sheet, cut) for cut in cuts],
        *[_cut(sheet, cut, hardest_cr10) for cut in cuts],
        _level(sheet, plan.minutes, level),
        _tape(sheet, plan, small=small),
        *([_number(sheet, cut) for cut in cuts] if not small else []),
    ]
    title, desc = in_words(plan, budget_au=budget_au, k=k, name=name, translate=translate, plural=plural)
    root = paper.picture(
        sheet.width,
        sheet.height if small else height_shown(sheet, cuts, level),
        *children,
        title=title,
        desc=desc,
        prefix=prefix,
        cls=f"section section-{size}",
    )
    text = paper.write(root)
    # A picture with links in it is no single image to whoever hears it.
    return text.replace('role="img"', 'role="group"', 1) if links else text


def in_words(
    plan: SessionPlan,
    *,
    budget_au: float | None = None,
    k: float = 1.0,
    name: str = "",
    translate: Translate = as_written,
    plural: Plural | None = None,
) -> tuple[str, str]:
    """Title and description: parts and minutes, each part with its effort, and how far over the budget in words."""
    named = name or reason("section_name").said(translate)
    title = reason("section_title", name=named, minutes=float(plan.minutes), parts=len(plan.parts))
    told = [
        reason(
            "section_part",
            number=number,
            title=part.name,
            minutes=float(part.minutes),
            effort=float(part.cr10),
        )
        for number, part in enumerate(plan.parts, start=1)
    ]
    if plan.changeover_minutes:
        told.append(reason("section_changeovers", minutes=float(plan.changeover_minutes)))
    over_au = account(plan).load_au * k - budget_au if budget_au else 0
    if budget_au and over_au > 0:
        told.append(reason("section_over", share=share_words(over_au, budget_au)))
    return title.said(translate, plural), " ".join(each.said(translate, plural) for each in told)


def _rect(
    sheet: SectionSheet, from_min: float, to_min: float, cr10: float, **given: str | float | None
) -> Element:
    cls = str(given.pop("cls", ""))
    x, depth = sheet.x(from_min), sheet.y(cr10) - sheet.ground
    return paper.el(
        "rect", cls=cls, x=x, y=sheet.ground, width=sheet.x(to_min) - x, height=max(0.0, depth), **given
    )


def _changeover(sheet: SectionSheet, cut: SectionCut) -> Element | None:
    minutes = cut.part.changeover_s / 60
    if not minutes:
        return None
    return _rect(
        sheet, cut.starts_min - minutes, cut.starts_min, CHANGEOVER_CR10,
        cls="changeover", fill="none", stroke=paper.SOFT_INK, stroke_width=0.7,
    )  # fmt: skip


def _cut(sheet: SectionSheet, cut: SectionCut, hardest_cr10: float | None) -> Element:
    """Hatched where there is play, blank where there is rest; the outline's area is the load."""
    part = cut.part
    step = LEAST_HATCH + HATCH_PER_CR10 * max(0.0, FULL_CR10 - part.cr10)
    drawn = "".join(
        _hatched((sheet.x(start), sheet.ground, sheet.x(end), sheet.y(part.cr10)), step)
        for start, end in _spells_of_play(cut)
    )
    children: list[Element | None] = [
        paper.path(drawn, cls="hatch", stroke=paper.SOFT_INK, width=0.7),
        _rect(
            sheet, cut.starts_min, cut.ends_min, part.cr10,
            cls="outline", fill="none", stroke=paper.INK, stroke_width=1.2, stroke_linejoin="round",
        ),
    ]  # fmt: skip
    hard = hardest_cr10 is not None and part.cr10 > hardest_cr10
    if hard and hardest_cr10 is not None:
        box = (sheet.x(cut.starts_min), sheet.y(hardest_cr10), sheet.x(cut.ends_min), sheet.y(part.cr10))
        children.append(paper.path(_hatched(box, 4, rising=False), cls="over", stroke=WARN, width=1.2))
    return paper.group(children, cls="part part-hard" if hard else "part")


def _spells_of_play(cut: SectionCut) -> list[tuple[float, float]]:
    """From–to of the rounds, in minutes of the session; what runs past the part's end is cut off."""
    part, found = cut.part, []
    bout, rest = part.bout_length_s / 60, part.rest_s / 60
    if part.bouts == 1 or not rest:
        return [(cut.starts_min, cut.ends_min)]
    for number in range(part.bouts):
        start = cut.starts_min + number * (bout + rest)
        if start < cut.ends_min:
            found.append((start, min(start + bout, cut.ends_min)))
    return found


def _hatched(box: tuple[float, float, float, float], step: float, *, rising: bool = True) -> str:
    """Path data of strokes at 45° inside a box (left, top, right, bottom), `step` units apart along its edges."""
    left, top, right, bottom = box
    drawn, deep = [], bottom - top
    at = left - deep + step / 2
    while at < right:
        a, b = max(at, left), min(at + deep, right)
        if b - a > 0.5:
            ya, yb = (bottom - (a - at), bottom - (b - at)) if rising else (top + (a - at), top + (b - at))
            drawn.append(f"M{paper.fmt(a)} {paper.fmt(ya)}L{paper.fmt(b)} {paper.fmt(yb)}")
        at += step
    return "".join(drawn)


def _level(sheet: SectionSheet, minutes: float, level: float | None) -> Element | None:
    """The budget: a dashed level over the session's minutes."""
    if level is None:
        return None
    y = paper.fmt(sheet.y(min(level, sheet.cr10)))
    small = sheet.width < 100
    return paper.path(
        f"M{paper.fmt(sheet.x(0))} {y}H{paper.fmt(sheet.x(minutes))}",
        cls="level", stroke=EDGE, width=1 if small else 1.6, stroke_dasharray="3 2" if small else "8 4",
    )  # fmt: skip


def _tape(sheet: SectionSheet, plan: SessionPlan, *, small: bool) -> Element:
    """The tape of minutes between plan and section: a tick every 5 minutes, a longer one with the time every 15."""
    top, bottom = (sheet.top, sheet.ground) if small else (sheet.tape, sheet.ground)
    band = paper.el(
        "rect", cls="tape", x=sheet.left, y=top, width=sheet.right - sheet.left, height=bottom - top,
        fill=paper.PAPER, stroke=paper.INK, stroke_width=0.8 if small else 1.2,
    )  # fmt: skip
    ticks = "".join(
        f"M{paper.fmt(sheet.x(minute))} {paper.fmt(top)}v{paper.fmt((bottom - top) * (0.5 if minute % 15 == 0 else 0.25))}"
        for minute in range(5, int(sheet.minutes) + 1, 5)
        if sheet.x(minute) < sheet.right - 1
    )
    marks = paper.path(ticks, cls="tick", width=0.8)
    if small:
        return paper.group([band, marks], cls="tape-of-minutes")
    return paper.group([band, marks, *_times(sheet, plan)], cls="tape-of-minutes")


def _times(sheet: SectionSheet, plan: SessionPlan) -> list[Element]:
    """Clock times (minutes where nobody has said when it starts) on the tape, as many as have room."""
    step = 15 if (sheet.right - sheet.left) * 15 / sheet.minutes >= 44 else 30
    found = []
    for minute in range(0, int(sheet.minutes) + 1, step):
        at = sheet.x(minute)
        text = (
            str(minute) if plan.starts_at is None else f"{plan.starts_at + timedelta(minutes=minute):%H:%M}"
        )
        anchor = "start" if minute == 0 else "end" if at > sheet.right - 20 else "middle"
        shift = 3 if anchor == "start" else -3 if anchor == "end" else 0
        found.append(
            paper.words(
                at + shift, sheet.ground - 5, text, size=11, anchor=anchor, cls="text-2", fill=paper.SOFT_INK
            )
        )
    return found


def _number(sheet: SectionSheet, cut: SectionCut) -> Element:
    """The part's number in its cut, on paper."""
    middle = (sheet.x(cut.starts_min) + sheet.x(cut.ends_min)) / 2
    y = sheet.ground + min(15.0, (sheet.y(cut.part.cr10) - sheet.ground) / 2)
    disc = paper.el("circle", cls="paper", cx=middle, cy=y, r=9, fill=paper.PAPER)
    digits = paper.words(
        middle, y + LABEL * paper.BASELINE, str(cut.number), size=LABEL, cls="text", font_weight="700", fill=paper.INK
    )  # fmt: skip
    return paper.group([disc, digits], cls="number")
