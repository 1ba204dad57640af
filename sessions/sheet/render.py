"""From a sheet's values to PDF: a fixed template reads them as data, so that no title can become markup."""

from __future__ import annotations

import hashlib
import io
import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, Literal

from club.letters import isolated
from drills.drawing.paper import FONT
from sessions.sheet.content import Sheet
from sessions.sheet.typeset import Order, typeset

Size = Literal["a4", "pocket"]
SIZES: tuple[Size, ...] = ("a4", "pocket")
_TEMPLATES = ("page.typ", "a4.typ", "pocket.typ")
# Comes along as a package, so that a sheet looks the same on every machine; letters that it has not are taken from the
# typesetter's own and the machine's fonts.
_FONT_ON_PAPER = "Lato"
POCKET_HATCH = b"1.7"
_UNITS = re.compile(r"(?<=\d) (?=(?:m|min|s|yd|AU)\b)")


def digest(sheet: Sheet, size: Size) -> str:
    """A hash of everything that the bytes of a sheet depend on."""
    return digest_of(_files(sheet), size)


def digest_of(given: Mapping[str, bytes], beside: str = "") -> str:
    """A hash of the files that the typesetter reads, and of what else is said to it."""
    found = hashlib.sha256(beside.encode())
    for name, content in sorted(given.items()):
        found.update(name.encode() + content)
    return found.hexdigest()


def pdf(sheet: Sheet, size: Size = "a4") -> bytes:
    """The sheet as PDF/UA-1: A4, two pages at most, or A6, a page for the start and one for each station.

    Raises ValueError for a size that is none, NotTypeset where it can't be set.
    """
    return set_as_pdf(f"{size}.typ", _files_in(sheet, size), sheet.stamp)


def png(sheet: Sheet, size: Size = "a4", *, ppi: float = 110) -> list[bytes]:
    """The same pages as PNG, to be looked at, with `ppi` pixels an inch. ValueError for a size that is none; NotTypeset."""
    return set_as_png(f"{size}.typ", _files_in(sheet, size), ppi)


def set_as_pdf(main: str, given: Mapping[str, bytes], stamp: int) -> bytes:
    """The file `main` of these, with those it opens, as PDF/UA-1. `stamp`: seconds since 1970 that stand in it as its time.
    Raises NotTypeset."""
    return typeset(Order(main, dict(given), "pdf", stamp=stamp))[0]


def set_as_png(main: str, given: Mapping[str, bytes], ppi: float) -> list[bytes]:
    """The same as PNG, one for each page, with `ppi` pixels an inch. Raises NotTypeset."""
    return typeset(Order(main, dict(given), "png", ppi=ppi))


def _files_in(sheet: Sheet, size: Size) -> dict[str, bytes]:
    """Raises ValueError for a size that is none."""
    if size not in SIZES:
        raise ValueError(f"size: must be one of {', '.join(SIZES)}")
    given = _files(sheet)
    if size == "a4":
        return given
    return {name: _coarser(each) if name.endswith(".svg") else each for name, each in given.items()}


def _coarser(picture: bytes) -> bytes:
    """Hatches with their lines wider apart: a player is 3 mm high in the pocket, where the usual ones run into grey."""
    return picture.replace(b"<pattern ", b'<pattern patternTransform="scale(%s)" ' % POCKET_HATCH)


def _files(sheet: Sheet) -> dict[str, bytes]:
    """Everything the typesetter may open: templates, the values, the pictures."""
    pictures: dict[str, bytes] = {"code.svg": code(sheet.link).encode()}
    return {**as_files(asdict(sheet), _TEMPLATES, pictures), **pictures}


def as_files(
    values: Any, templates: Iterable[str], pictures: dict[str, bytes] | None = None
) -> dict[str, bytes]:
    """Templates, and what they read as data. Pictures among the values are put into `pictures`."""
    plain = _without_pictures(values, {} if pictures is None else pictures)
    return {
        **{name: _template(name) for name in templates},
        "sheet.json": json.dumps(plain, ensure_ascii=False, sort_keys=True).encode(),
    }


def _without_pictures(value: Any, pictures: dict[str, bytes]) -> Any:
    """The same values with each picture put into a file of its own and named instead; texts can stand beside others."""
    if isinstance(value, str):
        return isolated(value)
    if isinstance(value, dict):
        if value.keys() == {"svg", "alt", "caption"}:
            name = f"picture-{len(pictures)}.svg"
            pictures[name] = value["svg"].replace(FONT, _FONT_ON_PAPER).encode()
            return {"file": name, "alt": value["alt"], "caption": isolated(value["caption"])}
        return {name: _without_pictures(each, pictures) for name, each in value.items()}
    if isinstance(value, list | tuple):
        return [_without_pictures(each, pictures) for each in value]
    return _unbroken(value) if isinstance(value, str) else value


def _unbroken(text: str) -> str:
    """Figures stay with their unit when a line ends."""
    return _UNITS.sub("\u00a0", text.replace(" × ", "\u00a0×\u00a0"))


@lru_cache(maxsize=64)
def code(link: str) -> str:
    """The QR code of an address, as SVG without a border."""
    import segno

    out = io.BytesIO()
    segno.make_qr(link, error="m").save(
        out, kind="svg", border=0, xmldecl=False, svgclass=None, lineclass=None, dark="#000"
    )
    return out.getvalue().decode()


@cache
def _template(name: str) -> bytes:
    """A template of this package, which never changes while it runs."""
    return (Path(__file__).parent / name).read_bytes()
