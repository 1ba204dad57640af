"""A plan as a picture of dots, for messages and slides that take no SVG.

The words stand in a font that comes along, so that they are there on a machine without any; what it has no letters
for is taken from the machine's own.
"""

from __future__ import annotations

from importlib.resources import files

from drills.drawing.paper import PAPER

LEAST_PX, MOST_PX, USUAL_PX = 120, 2400, 1080
FACES = ("Lato-Regular.ttf", "Lato-Bold.ttf")


def png(svg: str, width_px: int = USUAL_PX) -> bytes:
    """SVG text as the bytes of a PNG `width_px` pixels wide, on paper; what moves stands as at its start.

    Raises ValueError for a width that is not from LEAST_PX to MOST_PX, and for text that is no SVG.
    """
    if not LEAST_PX <= width_px <= MOST_PX:
        raise ValueError(f"width_px: must be {LEAST_PX} to {MOST_PX}")
    return drawn(svg, width_px=width_px, background=PAPER, every_font=True)


def drawn(
    svg: str, *, width_px: int | None = None, background: str | None = None, every_font: bool = False
) -> bytes:
    """SVG text as the bytes of a PNG, in its own size unless `width_px` says another; on nothing without a background.

    With `every_font` the machine's own are read too, which takes a while. Raises ValueError for text that is no SVG.
    """
    from resvg_py import svg_to_bytes  # here, since only a picture needs it

    folder = files("font_lato") / "files"
    made = svg_to_bytes(
        svg_string=svg,
        width=width_px,
        background=background,
        skip_system_fonts=not every_font,
        font_files=[str(folder / each) for each in FACES],
        sans_serif_family="Lato",
    )
    return bytes(made)
