"""The plan as dots: read back from the file itself, by a decoder of our own."""

import struct
import zlib
from functools import partial

import pytest
import resvg_py

from drills.drawing.paper import FONT, SVG_NAMESPACE
from drills.drawing.png import LEAST_PX, MOST_PX, png
from drills.drawing.svg import render
from tests.drills.drawing.scenes import four_a_side


def dots(file: bytes) -> tuple[int, int, list[bytes]]:
    """Width, height and rows of an 8-bit RGBA picture, by the PNG specification (third edition, clauses 5 and 9)."""
    assert file[:8] == b"\x89PNG\r\n\x1a\n"
    place, data, head = 8, b"", b""
    while place < len(file):
        length, kind = struct.unpack(">I4s", file[place : place + 8])
        body = file[place + 8 : place + 8 + length]
        head, data = (body if kind == b"IHDR" else head), (data + body if kind == b"IDAT" else data)
        place += length + 12
    width, height, depth, colour, _, _, interlaced = struct.unpack(">IIBBBBB", head)
    assert (depth, colour, interlaced) == (8, 6, 0)
    raw, stride = zlib.decompress(data), width * 4
    rows = [bytes(stride)]
    for y in range(height):
        line = bytearray(raw[y * (stride + 1) + 1 : (y + 1) * (stride + 1)])
        _unfiltered(line, rows[-1], raw[y * (stride + 1)])
        rows.append(bytes(line))
    return width, height, rows[1:]


def _unfiltered(line: bytearray, above: bytes, kind: int) -> None:
    for n in range(len(line)):
        a, b, c = (line[n - 4], above[n], above[n - 4]) if n >= 4 else (0, above[n], 0)
        p = a + b - c
        nearest = min((abs(p - a), 0, a), (abs(p - b), 1, b), (abs(p - c), 2, c))[2]
        line[n] = (line[n] + (0, a, b, (a + b) // 2, nearest)[kind]) & 255


def test_the_picture_is_as_wide_as_asked_and_shows_bibs_where_the_players_stand() -> None:
    scene = four_a_side()
    width, height, rows = dots(png(render(scene), 360))
    assert (width, height) == (360, len(rows))
    colours = {rows[y][x * 4 : x * 4 + 3] for y in range(height) for x in range(width)}
    assert {b"\xc8\x20\x2f", b"\x1f\x5f\xbf", b"\xff\xfd\xf8"} <= colours  # red, blue and paper
    assert {row[3::4] for row in rows} == {b"\xff" * width}  # nothing shines through


def test_words_stand_without_a_font_of_the_machines_own(monkeypatch: pytest.MonkeyPatch) -> None:
    svg = f'<svg xmlns="{SVG_NAMESPACE}" viewBox="0 0 120 20" font-family="{FONT}">{{}}</svg>'
    without_fonts = partial(resvg_py.svg_to_bytes, skip_system_fonts=True)
    monkeypatch.setattr(resvg_py, "svg_to_bytes", without_fonts)
    blank = png(svg.format(""), 120)
    for text in ("4v4 × 20 m", "−", "été"):
        assert png(svg.format(f'<text y="15">{text}</text>'), 120) != blank


@pytest.mark.parametrize("width_px", [0, -1, LEAST_PX - 1, MOST_PX + 1])
def test_a_width_that_nobody_can_use_is_refused(width_px: int) -> None:
    with pytest.raises(ValueError, match="width_px"):
        png("<svg/>", width_px)
    with pytest.raises(ValueError, match="root node"):
        png("<svg", 120)
