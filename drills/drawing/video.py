"""A film as a video file that chat groups play: H.264 in MP4 (ISO/IEC 14496-10, -14), made frame by frame.

4:2:0 colour and the index before the pictures, since phones play nothing else, or only when it is loaded whole.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any, NamedTuple

from drills.drawing.film import FPS, Film
from drills.drawing.paper import PAPER
from drills.drawing.png import drawn

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

MOST_BYTES = 1_000_000
IN_ONE = 12  # frames whose figures are drawn by one call, which reads the fonts anew
# x264's own means: constant quality, but never more than fills the bytes that there are.
QUALITY, EFFORT, FULL = "25", "veryfast", 0.85
MUXED = {"movflags": "+faststart"}
COARSE = 4  # a figure's reach is seen on a drawing so many times as coarse
WHOLE = 255
Watch = Callable[[int, int], bool]  # frames that are done, all frames → whether to go on


class Stopped(Exception):
    """Whoever watched wanted no more."""


def mp4(film: Film, watch: Watch = lambda done, every: True) -> bytes:
    """The film as the bytes of an MP4, at most MOST_BYTES. Raises Stopped, and ValueError for a film that needs more."""
    import av  # here, since only a video needs it

    width, height = film.size_px
    every = len(film.times_s)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "plan.mp4"  # a file, since the index is moved to its front at the end
        with av.open(str(path), "w", format="mp4", options=MUXED) as file:
            stream: Any = file.add_stream("libx264", rate=FPS)
            stream.width, stream.height, stream.pix_fmt = width, height, "yuv420p"
            stream.options = _quality(every / FPS)
            for done, dots in enumerate(pictures(film), start=1):
                file.mux(stream.encode(av.VideoFrame.from_ndarray(dots, format="rgb24")))
                if not watch(done, every):
                    raise Stopped
            file.mux(stream.encode())
        made = path.read_bytes()
    if len(made) > MOST_BYTES:
        raise ValueError(f"film: takes {len(made)} bytes, {MOST_BYTES} at most")
    return made


def _quality(lasts_s: float) -> dict[str, str]:
    most_bits_a_second = int(8 * MOST_BYTES * FULL / max(lasts_s, 1.0))
    rate = f"vbv-maxrate={most_bits_a_second // 1000}:vbv-bufsize={most_bits_a_second // 1000}"
    return {"crf": QUALITY, "preset": EFFORT, "tune": "animation", "x264-params": rate}


def pictures(film: Film) -> Iterator[npt.NDArray[np.uint8]]:
    """Each frame as dots: height × width × (red, green, blue) from 0 to 255.

    The ground is drawn once for each step and each figure by itself, where it stands to a part of a dot, in one call
    for several frames: a whole frame takes twenty times as long to draw.
    """
    left, top, _, _ = film.box
    cells = _cells(film)
    told, ground = "", None
    for first in range(0, len(film.times_s), IN_ONE):
        times_s = film.times_s[first : first + IN_ONE]
        spots = [[each.at(time_s) for each in film.figures] for time_s in times_s]
        stands = [
            _Stand(at, cell, (x - left) * film.scale, (y - top) * film.scale)
            for row in spots
            for at, (cell, (x, y)) in enumerate(zip(cells, row, strict=True))
        ]
        looks = _looks(film, stands)
        for n, time_s in enumerate(times_s):
            if (text := film.ground(time_s)) != told:
                told, ground = text, dots_of(text, PAPER, every_font=True)[:, :, :3]
            assert ground is not None
            frame = ground.copy()
            for each in stands[n * len(cells) : (n + 1) * len(cells)]:
                _lay(frame, looks[each], each)
            yield frame


class _Cell(NamedTuple):
    """How far a figure reaches from its place, in whole pixels: to the left and up (below 0), to the right and down."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def size(self) -> tuple[int, int]:
        return self.right - self.left, self.bottom - self.top


class _Stand(NamedTuple):
    """A figure at a place of the frame, in pixels."""

    figure: int
    cell: _Cell
    x: float
    y: float

    @property
    def corner(self) -> tuple[int, int]:
        """Column and row of its cell's first dot."""
        return math.floor(self.x) + self.cell.left, math.floor(self.y) + self.cell.top


def _cells(film: Film) -> list[_Cell]:
    """How far each figure reaches, seen on a coarse drawing, with room on all sides."""
    scale = film.scale / COARSE
    wide, tall = (2 * math.ceil(each * scale) for each in film.box[2:])
    middles = [(wide / 2, tall * at + tall / 2) for at in range(len(film.figures))]
    placed = zip(film.figures, middles, strict=True)
    dots = dots_of(film.drawn(placed, (wide, tall * len(middles)), scale)) if middles else None
    return [_reach(dots[tall * at : tall * (at + 1), :, 3]) for at in range(len(middles)) if dots is not None]


def _reach(seen: npt.NDArray[np.uint8]) -> _Cell:
    tall, wide = seen.shape
    rows, columns = seen.max(axis=1).nonzero()[0], seen.max(axis=0).nonzero()[0]
    if not rows.size:
        return _Cell(0, 0, 1, 1)  # nothing is seen of it
    return _Cell(
        (int(columns[0]) - wide // 2 - 1) * COARSE,
        (int(rows[0]) - tall // 2 - 1) * COARSE,
        (int(columns[-1]) - wide // 2 + 2) * COARSE,
        (int(rows[-1]) - tall // 2 + 2) * COARSE,
    )


def _looks(film: Film, stands: list[_Stand]) -> dict[_Stand, npt.NDArray[np.uint8]]:
    """Each figure as dots, drawn once for each place where it stands."""
    rows, top, placed = {}, 0, []
    for each in dict.fromkeys(stands):
        rows[each] = top
        x, y = each.x - math.floor(each.x) - each.cell.left, each.y - math.floor(each.y) - each.cell.top
        placed.append((film.figures[each.figure], (x, top + y)))
        top += each.cell.size[1]
    if not placed:
        return {}
    wide = max(each.cell.size[0] for each in rows)
    dots = dots_of(film.drawn(placed, (wide, top), film.scale))
    return {each: dots[at : at + each.cell.size[1], : each.cell.size[0]] for each, at in rows.items()}


def _lay(frame: npt.NDArray[np.uint8], look: npt.NDArray[np.uint8], stand: _Stand) -> None:
    """Lay a figure over a frame, cut off at its edges."""
    x, y = stand.corner
    tall, wide, _ = frame.shape
    look = look[max(0, -y) : max(0, tall - y), max(0, -x) : max(0, wide - x)]
    x, y = max(0, x), max(0, y)
    part = frame[y : y + look.shape[0], x : x + look.shape[1]]
    covers = look[:, :, 3:].astype("uint16")
    part[:] = (part * (WHOLE - covers) + look[:, :, :3] * covers + WHOLE // 2) // WHOLE


def dots_of(svg: str, background: str | None = None, *, every_font: bool = False) -> npt.NDArray[np.uint8]:
    """A picture as height × width × (red, green, blue, how much of it covers), each 0 to 255."""
    import av

    decoder: Any = av.CodecContext.create("png", "r")
    (frame,) = decoder.decode(av.Packet(drawn(svg, background=background, every_font=every_font)))
    dots: npt.NDArray[np.uint8] = frame.to_ndarray(format="rgba")
    return dots
