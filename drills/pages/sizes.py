"""How the size of a grid is said, on pages, sheets and in the API: the drill's own words, and the area beside them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drills.game.document import DrillDocument, Grid
from drills.game.format import Format
from drills.game.sentences import say_grid
from drills.game.sizes import Room, counted_in, room_of, size_of
from drills.game.space import Counted

_COUNTED: Mapping[Counted, Any] = {
    "inside": gettext_lazy("inside players"),
    "outfield": gettext_lazy("outfield players"),
    "everyone": gettext_lazy("everyone counted"),
}


@dataclass(frozen=True)
class Area:
    """Area per player in m², and which players were counted."""

    m2: float
    counted: str

    @property
    def figure(self) -> str:
        """`62.5`; one decimal at most, since a metre more or less shows in a rondo."""
        return f"{round(self.m2, 1):g}"

    @property
    def words(self) -> str:
        """`62.5 m² per player, inside players`."""
        return _("{area} m² per player, {counted}").format(area=self.figure, counted=self.counted)


@dataclass(frozen=True)
class SizeShown:
    """A grid as it is shown; `purpose` is empty for a size that the drill has no words for."""

    key: str
    size: str
    purpose: str
    area: Area | None

    @property
    def words(self) -> str:
        """Purpose and area in one line, empty where there is neither."""
        return " · ".join(each for each in (self.purpose, self.area.words if self.area else "") if each)


def area_of(document: DrillDocument) -> Area | None:
    """m² per player of the first grid, denominator named; None where it says nothing (queues, patterns)."""
    grid = document.grids[0]
    room = room_of(document, Format.parse(document.format), grid.length_m, grid.width_m)
    return _shown(room) if room else None


def area_of_answer(document: DrillDocument, text: str, m2: float | None) -> Area | None:
    """The area of an answer of Fit with these numbers, said as the drill's own is; None where it has none."""
    if m2 is None:
        return None
    return _shown(Room(m2, counted_in(document, Format.parse(text))))


def size_shown(base: DrillDocument, played: DrillDocument, grid: Grid) -> SizeShown:
    """A grid of a drill as played in a variation, with the drill's own words for it and the area beside them."""
    found = size_of(base, played, grid, Format.parse(played.format))
    return SizeShown(grid.key, say_grid(grid), found.purpose, _shown(found.room) if found.room else None)


def _shown(room: Room) -> Area:
    return Area(room.m2, str(_COUNTED[room.counted]))
