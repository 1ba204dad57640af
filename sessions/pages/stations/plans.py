"""The plans of a station as it is played tonight, small or large, drawn once and remembered."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from club.caches import MIB, remembered
from drills.drawing.checks.reason import Finding as DrawingReason
from drills.drawing.picture import laid
from drills.drawing.svg import DrawingOptions, render
from drills.pages.plan import reason_words
from drills.pages.tonight import grid_words
from sessions.queries.station import StationView


@dataclass(frozen=True)
class GridShown:
    """A grid as it is drawn; `words` says which where there are several, and how many look the same."""

    picture: SafeString
    words: str = ""


@dataclass(frozen=True)
class StationPlans:
    """A station's plans, one for each grid that differs, and what of the drawing by hand has no place on them."""

    grids: list[GridShown]
    missing: list[str]

    @property
    def picture(self) -> SafeString:
        """The plan of the first grid."""
        return self.grids[0].picture


def _drawn_key(station: StationView, prefix: str, thumbnail: bool, every: bool) -> tuple[Any, ...]:
    """What a picture depends on: the content of an immutable revision, the rung, the set-up and the bibs, whose goals."""
    revision = station.row.revision
    kept = json.dumps(station.row.setup, sort_keys=True)
    key = station.row.variation_key
    return revision and revision.sha256, key, kept, station.ages, prefix, thumbnail, every, get_language()


@remembered(most_bytes=6 * MIB, key=_drawn_key)
def _draw(
    station: StationView, prefix: str, thumbnail: bool, every: bool
) -> tuple[tuple[str, ...], tuple[DrawingReason, ...]]:
    """Drawn once and remembered: the same evening is looked at again and again."""
    assert station.tonight is not None
    grids = station.tonight.pictures if every else station.tonight.pictures[:1]
    found = [laid(station.tonight, grid) for grid, _times in grids]
    pictures = (
        render(
            each.scene,
            options=DrawingOptions(
                prefix=f"{prefix}{number or ''}",
                thumbnail=thumbnail,
                legend=not thumbnail,
                hatched="in print",
                translate=_,
            ),
        )
        for number, each in enumerate(found)
    )
    return tuple(pictures), tuple(dict.fromkeys(reason for each in found for reason in each.missing))


def station_drawing(
    station: StationView, prefix: str, *, thumbnail: bool = True, every: bool = False
) -> StationPlans | None:
    """The plans of a station as it is played, small or large: of the first grid, or of `every` grid that differs."""
    if station.tonight is None:
        return None
    pictures, missing = _draw(station, prefix, thumbnail, every)
    words = grid_words(station.tonight)
    grids = [GridShown(mark_safe(svg), text) for svg, text in zip(pictures, words, strict=False)]
    return StationPlans(grids, [reason_words(each) for each in missing])


def station_plan(station: StationView) -> str | None:
    """The large plan of the first grid by itself, as SVG text; None where no drill is chosen."""
    drawn = station_drawing(station, "", thumbnail=False)
    return str(drawn.picture) if drawn else None
