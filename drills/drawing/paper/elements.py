"""Elements and words, and how they are written down as text."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

Value = str | float | int | None
WORD = 24  # characters: what is longer is not met again
SVG_NAMESPACE = "http://www.w3.org/2000/svg"
FONT = "system-ui, -apple-system, 'Segoe UI', Roboto, sans-serif"

INK = "#1d1b16"
SOFT_INK = "#575246"
PAPER = "#fffdf8"
SQUARE = "#e8e4d8"
SQUARE_5 = "#cfc9b8"
BASELINE = 0.355  # of a type size: how far below the middle the baseline of digits and capitals lies
_NARROW, _WIDE = frozenset("il.,:;'|!()I1 "), frozenset("mwMW@%×—")
_MARKS = re.compile('[&<>"\r\n\t]').search
_MINUS_ZERO, _POINT_ZERO = re.compile(r"-0\.0(?!\d)").sub, re.compile(r"\.0(?!\d)").sub
_IN_TEXT = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;"})
_IN_VALUES = _IN_TEXT | str.maketrans({'"': "&quot;", "\r": "&#13;", "\n": "&#10;", "\t": "&#09;"})


class Markup(str):
    """Elements that are text already, for marks that come by the dozen. Never made from words that people wrote."""

    __slots__ = ()


class Element:
    """A piece of a picture. `given` are its attributes and `inside` its text, both as they will be written.

    Written down as soon as they are known: a tree of the standard library's would be walked and escaped once more.
    """

    __slots__ = ("given", "inside", "tag")

    def __init__(self, tag: str, given: str = "") -> None:
        self.tag = tag
        self.given = given
        self.inside: list[Element | str] = []

    def set(self, name: str, value: str) -> None:
        """One more attribute, by the name that it has in the picture."""
        self.given += f' {name}="{_value(value)}"'

    def stand(self, at: tuple[float, float], key: str) -> None:
        """At a point, in units of what it stands in, and known by a key."""
        self.given += f' transform="translate({fmt(at[0])} {fmt(at[1])})" data-key="{_value(key)}"'

    def append(self, child: Element | str | None) -> None:
        """One more piece or text inside; None is left out."""
        if isinstance(child, _PIECES):
            self.inside.append(child)
        elif child:
            self.inside.append(escaped(child))

    def __bool__(self) -> bool:
        return True


_PIECES = (Element, Markup)
_DIGITS = tuple(f"%.{digits}f" for digits in range(6))


class _Names(dict[str, str]):
    """The name of an attribute as the picture writes it."""

    def __missing__(self, name: str) -> str:
        self[name] = made = name.rstrip("_").replace("_", "-")
        return made


_NAMED = _Names()


def fmt(number: float, digits: int = 1) -> str:
    """A number of any unit, as short as it can be: no trailing zeros, no minus zero. Raises ValueError unless it is finite."""
    if digits == 1:  # the quicker way: thousands of them in a page
        text = "%.1f" % number  # noqa: UP031
        if text[-1] == "0":
            text = text[:-2]
    else:
        text = _DIGITS[digits] % number
        if text[-1] == "0" and digits:
            text = text.rstrip("0").rstrip(".")
    if text[-1] > "9":  # nan, inf
        raise ValueError(f"number: {number} can't be drawn")
    return "0" if text == "-0" else text


def el(tag: str, *children: Element | str | None, cls: str = "", **attributes: Value) -> Element:
    """An element; `stroke_width=2` becomes `stroke-width="2"`, None is left out, text is escaped."""
    given = _attributes(attributes)
    made = Element(tag, f' class="{_value(cls)}"{given}' if cls else given)
    for child in children:
        made.append(child)
    return made


def _attributes(named: dict[str, Value]) -> str:
    return "".join(
        [
            f' {_NAMED[name]}="{_value(value) if isinstance(value, str) else short(value)}"'
            for name, value in named.items()
            if value is not None
        ]
    )


def traced(template: str, *numbers: float) -> str:
    """A template of path data with its numbers, each as `fmt` writes it: `traced("M%.1f %.1f", 3, 0.25)`.

    Many at a time, since paths hold most of a picture's numbers. Raises ValueError when one is not finite.
    """
    text = template % numbers
    if "n" in text:  # nan, inf
        raise ValueError("number: one of a path can't be drawn")
    if "-0.0" in text:
        text = _MINUS_ZERO("0", text)
    return _POINT_ZERO("", text)


def _value(text: str) -> str:
    return _word(text) if len(text) < WORD else _escaped_value(text)


@lru_cache(maxsize=1024)
def _word(text: str) -> str:
    """Colours, classes and the like: the same few again and again."""
    return _escaped_value(text)


def _escaped_value(text: str) -> str:
    text = sayable(text)
    return text.translate(_IN_VALUES) if _MARKS(text) else text


def sayable(text: str) -> str:
    """Text without the characters that no XML document may hold (control characters, halves of pairs)."""
    if text.isprintable():
        return text
    return "".join(
        each
        for each in text
        if each in "\t\n\r" or " " <= each < "\ud800" or (each >= "\ue000" and each not in "\ufffe\uffff")
    )


def group(children: Iterable[Element | Markup | None], *, cls: str = "", **attributes: Value) -> Element:
    """Several pieces as one, with attributes as `el` takes them; None is left out."""
    given = f' class="{_value(cls)}"' if cls else ""
    made = Element("g", given + _attributes(attributes) if attributes else given)
    made.inside = [each for each in children if each is not None]
    return made


def on_paper(texts: Iterable[Element | None], *, cls: str = "") -> Element:
    """Words with paper behind them, as wide as they are, so that they are read over lines and squares."""
    cls = f"{cls} papered" if cls else "papered"
    return group(texts, cls=cls, stroke=PAPER, stroke_width=3, stroke_linejoin="round", paint_order="stroke")


def picture(
    width: float,
    height: float,
    *children: Element | None,
    title: str,
    desc: str,
    prefix: str = "",
    cls: str = "",
) -> Element:
    """The root of a picture with its text alternative. `prefix` keeps ids unique when several share a page."""
    names = f"{prefix}title {prefix}desc" if desc else f"{prefix}title"
    root = el("svg", cls=cls, xmlns=SVG_NAMESPACE, viewBox=f"0 0 {fmt(width)} {fmt(height)}", role="img")
    root.set("aria-labelledby", names)
    for name, value in (("font-family", FONT), ("text-anchor", "middle"), ("fill", INK)):
        root.set(name, value)  # once here rather than on every text
    root.append(el("title", title, id=f"{prefix}title"))
    root.append(el("desc", desc, id=f"{prefix}desc") if desc else None)
    for child in children:
        root.append(child)
    return root


def write(root: Element) -> str:
    """The element as text, in one line; all text and every value of an attribute escaped."""
    parts: list[str] = []
    _write(parts, root)
    return "".join(parts)


def _write(parts: list[str], element: Element) -> None:
    if not element.inside:
        parts.append(f"<{element.tag}{element.given}/>")
        return
    parts.append(f"<{element.tag}{element.given}>")
    for child in element.inside:
        if isinstance(child, str):
            parts.append(child)
        else:
            _write(parts, child)
    parts.append(f"</{element.tag}>")


def escaped(text: str) -> str:
    """Text of people as it is written inside an element."""
    text = sayable(text)
    return text.translate(_IN_TEXT) if _MARKS(text) else text


def words(
    x: float,
    y: float,
    text: str,
    *,
    size: float = 12,
    anchor: str = "middle",
    cls: str = "",
    **attributes: Value,
) -> Element:
    """Text at (x, y) in units of the picture, as is `size`, that of the type.

    Its middle stands at y, not its baseline, so that it sits in a disc at any size.
    """
    given = f' class="{_value(cls)}"' if cls else ""
    if x:
        given += f' x="{short(x)}"'
    given += f' y="{short(y + size * BASELINE)}" font-size="{short(size)}"'
    if anchor != "middle":
        given += f' text-anchor="{anchor}"'
    made = Element("text", given + _attributes(attributes) if attributes else given)
    made.append(text)
    return made


@lru_cache(maxsize=1024)
def text_width(text: str, size: float) -> float:
    """How wide a text is, in the unit of its type size: a guess that errs on the wide side, as fonts are not known here."""
    narrow, wide = sum(map(_NARROW.__contains__, text)), sum(map(_WIDE.__contains__, text))
    return size * (0.58 * (len(text) - narrow - wide) + 0.36 * narrow + 0.85 * wide)


def path(
    d: str,
    *,
    cls: str = "",
    fill: str = "none",
    stroke: str | None = INK,
    width: float | None = 1,
    **attributes: Value,
) -> Element:
    """A path; `width` of its stroke in units of the picture. Its data are numbers, so they are written as they are."""
    given = (
        f' class="{_value(cls)}" d="{d}" fill="{_value(fill)}"' if cls else f' d="{d}" fill="{_value(fill)}"'
    )
    if stroke is not None:
        given += f' stroke="{_value(stroke)}"'
    if width is not None:
        given += f' stroke-width="{short(width)}"'
    return Element("path", given + _attributes(attributes) if attributes else given)


def short(number: float) -> str:
    """A number of any unit as the value of an attribute: to a tenth, below 1 to a hundredth."""
    if number >= 1:
        text = "%.1f" % number  # noqa: UP031
        if text[-1] == "0":
            return text[:-2]
        if text[-1] <= "9":
            return text
    if number.__class__ is int:
        return str(number)
    # A tenth of a unit can't be seen, but the shares below 1 (opacities, hairlines) need their second digit.
    return fmt(number, 1 if number >= 1 or number <= -1 else 2)
