"""Pitches as their page lists them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from club.choices import EDGES
from club.pages.ground import ground_line
from club.pages.safeguarding import FIELD_NAMES, unsaid_words

if TYPE_CHECKING:
    from club.models import Pitch, Zone


@dataclass(frozen=True)
class ZoneShown:
    """A zone and what is around it, in one line."""

    row: Zone
    line: str


@dataclass(frozen=True)
class PitchShown:
    row: Pitch
    zones: list[ZoneShown]

    @property
    def unsaid(self) -> str:
        """What somebody would miss in an emergency."""
        return unsaid_words(name for name in FIELD_NAMES if not getattr(self.row, name))


def edges_of(zone: Zone) -> dict[str, str]:
    """What stands at each edge of a zone."""
    return {edge: getattr(zone, f"edge_{edge}") for edge in EDGES}


def pitches_shown(rows: Iterable[Pitch]) -> list[PitchShown]:
    """Pitches read with their zones."""
    return [PitchShown(row, [ZoneShown(each, _line(each)) for each in row.zones.all()]) for row in rows]


def _line(zone: Zone) -> str:
    return ground_line(edges_of(zone), [(goal["edge"], goal["size"]) for goal in zone.fixed_goals])
