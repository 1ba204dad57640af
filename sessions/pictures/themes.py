"""Minutes on a theme, drawn to scale: done filled, planned hatched, and a tick where the target stands.

Classes: `theme-bar` on the root, `done`, `planned`, `meant`. Without colours of its own, so that grey paper shows it too.
"""

from __future__ import annotations

from drills.drawing.paper import el, write
from sessions.planning.taught import OnTheme

WIDTH, HEIGHT = 180.0, 6.0  # units; stretched to the room there is
TICK = 2.0


def theme_bar(minutes: OnTheme, most: float) -> str:
    """An SVG whose whole width is `most` minutes; what goes past it is cut there. Empty where there is no scale."""
    if most <= 0:
        return ""
    unit = (WIDTH - TICK) / most
    done = min(WIDTH, minutes.done * unit)
    planned = min(WIDTH - done, minutes.planned * unit)
    at = min(WIDTH - TICK, (minutes.meant or 0.0) * unit)
    return write(
        el(
            "svg",
            el("rect", cls="done", width=done, height=HEIGHT) if done else None,
            el("rect", cls="planned", x=done, y=0.5, width=planned, height=HEIGHT - 1) if planned else None,
            el("rect", cls="meant", x=at, width=TICK, height=HEIGHT) if minutes.meant else None,
            cls="theme-bar",
            preserveAspectRatio="none",
            viewBox=f"0 0 {WIDTH:g} {HEIGHT:g}",
            aria_hidden="true",
            focusable="false",
        )
    )
