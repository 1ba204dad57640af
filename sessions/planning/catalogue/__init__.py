"""Every wording in which planning gives its reasons, one module for each area: to say something otherwise, change it there."""

from __future__ import annotations

from collections.abc import Mapping

from drills.game.wording.shapes import Wording, merged
from sessions.planning.catalogue import (
    children,
    happened,
    headers,
    layout,
    load,
    minutes,
    people_and_kit,
    pictures,
    reuse,
    suggested,
    turns,
    weather,
    week,
)

CATALOGUE: Mapping[str, Wording] = merged(
    children.ENTRIES,
    happened.ENTRIES,
    headers.ENTRIES,
    layout.ENTRIES,
    load.ENTRIES,
    minutes.ENTRIES,
    people_and_kit.ENTRIES,
    pictures.ENTRIES,
    reuse.ENTRIES,
    suggested.ENTRIES,
    turns.ENTRIES,
    weather.ENTRIES,
    week.ENTRIES,
)
