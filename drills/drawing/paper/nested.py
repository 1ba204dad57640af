"""A picture that stands inside another."""

from __future__ import annotations

import re

from drills.drawing.paper.elements import Markup, fmt

_VIEW_BOX = re.compile(r'viewBox="0 0 ([\d.]{1,9}) ([\d.]{1,9})"')


def size_of(svg: str) -> tuple[float, float] | None:
    """Width and height of a picture's view box, in its units; None for a text that is no picture of ours."""
    box = _VIEW_BOX.search(svg)
    return None if box is None else (float(box[1]), float(box[2]))


def placed(svg: str, box: tuple[float, float, float, float], prefix: str) -> Markup:
    """A picture inside another, at `box` (x, y, width, height) in units of the other.

    It has ids of its own, with `prefix`, and no title or description, which the whole has.
    """
    x, y, width, height = box
    at = f'<svg x="{fmt(x)}" y="{fmt(y)}" width="{fmt(width)}" height="{fmt(height)}" '
    root = svg.index(">")
    head = _without(_without(svg[:root], ' role="', '"'), ' aria-labelledby="', '"')
    inside = _without(_without(svg[root:], "<title", "</title>"), "<desc", "</desc>")
    text = at + head[len("<svg ") :] + inside
    return Markup(text.replace(' id="', f' id="{prefix}').replace("url(#", f"url(#{prefix}"))


def _without(text: str, start: str, end: str) -> str:
    """The text without the first stretch from `start` to the next `end`, both included."""
    first = text.find(start)
    if first < 0:
        return text
    last = text.find(end, first + len(start))
    return text if last < 0 else text[:first] + text[last + len(end) :]
