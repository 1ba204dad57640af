"""Headers that a drill plans for each player: one reading of its two fields."""

from __future__ import annotations

from drills.game.document.choices import Heading
from drills.game.document.drill import DrillDocument


def headers_each(document: DrillDocument) -> int:
    """Headers of one player in a drill as it is played (a variation applied); 0 unless heading is planned."""
    return document.headers_per_player if document.heading is Heading.PLANNED else 0
