"""The upper half of plan and section: each part's plan on the tape, as wide as its minutes, under its name."""

from __future__ import annotations

from collections.abc import Sequence

from drills.drawing import paper
from drills.drawing.paper import Element
from drills.game.wording.rendering import Translate
from sessions.pictures.section_sheet import SectionCut, SectionSheet
from sessions.planning.reasons import reason


def plan_on_tape(
    sheet: SectionSheet, cut: SectionCut, svg: str, links: Sequence[str], prefix: str, translate: Translate
) -> Element | None:
    """A part's plan, standing on the tape as wide as its minutes, under its name where that has room."""
    left, right = sheet.x(cut.starts_min), sheet.x(cut.ends_min)
    inside: list[Element | None] = [
        _standing(sheet, left, right, svg, f"{prefix}{cut.number}"),
        *_name(sheet, cut),
    ]
    link = links[cut.number - 1] if cut.number <= len(links) else ""
    if not link:
        return paper.group(inside, cls="stand")
    named = reason("section_link", number=cut.number, title=cut.part.name).said(translate)
    anchor = paper.el("a", cls="stand", href=link, aria_label=named)
    for each in inside:
        anchor.append(each)
    return anchor


def _standing(sheet: SectionSheet, left: float, right: float, svg: str, prefix: str) -> Element | None:
    """The plan's own picture inside this one, scaled to its place; its feet on the tape."""
    size = paper.size_of(svg)
    if size is None:
        return None
    wide, high = size
    room_x, room_y = max(1.0, right - left - 4), max(1.0, sheet.tape - sheet.top - 4)
    scale = min(room_x / wide, room_y / high)
    x, y = (left + right) / 2 - wide * scale / 2, sheet.tape - high * scale - 1
    holder = paper.el("g", cls="standing")
    holder.append(paper.placed(svg, (x, y, wide * scale, high * scale), prefix))
    return holder


def _name(sheet: SectionSheet, cut: SectionCut) -> list[Element]:
    """The part's name above its plan, in one line or two; none where it has no room, since the number stands below."""
    room = sheet.x(cut.ends_min) - sheet.x(cut.starts_min) - 4
    middle = (sheet.x(cut.starts_min) + sheet.x(cut.ends_min)) / 2
    lines = _in_lines(cut.part.name, room)
    last = sheet.top - 6
    return [
        paper.words(middle, last - 12 * (len(lines) - 1 - row), line, size=11, cls="text", fill=paper.INK)
        for row, line in enumerate(lines)
    ]


def _in_lines(text: str, room: float) -> list[str]:
    """The text in at most two lines that fit; empty where it takes more."""
    if paper.text_width(text, 11) <= room:
        return [text]
    words = text.split()
    for at in range(1, len(words)):
        both = [" ".join(words[:at]), " ".join(words[at:])]
        if all(paper.text_width(each, 11) <= room for each in both):
            return both
    return []
