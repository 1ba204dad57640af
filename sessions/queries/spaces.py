"""Booked zones as the ground that they make: one rule for all that is fitted and laid out."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sessions.models import TrainingSession
from sessions.queries.rows import zones_of


@dataclass(frozen=True)
class Booked:
    """Ground in one piece, in metres; `zones` is how many zones it is made of."""

    name: str
    length_m: float
    width_m: float
    zones: int


def spaces_of(zones: Iterable[Any]) -> list[Booked]:
    """Zones of one pitch with the same length are taken as one, side by side; the others stand alone.

    `zones` are rows, or plain ones as a session has them. In the order of the first zone of each.
    """
    found: dict[tuple[str, float], list[tuple[str, float]]] = {}
    for each in zones:
        pitch, zone, length, width = _plain(each)
        found.setdefault((pitch, length), []).append((zone, width))
    return [
        Booked(
            f"{pitch}: {', '.join(name for name, _width in parts)}",
            length,
            sum(width for _name, width in parts),
            len(parts),
        )
        for (pitch, length), parts in found.items()
    ]


def largest_space(session: TrainingSession) -> tuple[float, float] | None:
    """Length and width in metres of the largest piece of ground that a session has; None where nothing is booked.

    It is what "tonight's space" means wherever a drill is fitted without saying where.
    """
    pieces = [(each.length_m, each.width_m) for each in spaces_of(zones_of(session))]
    return max(pieces, key=lambda sides: sides[0] * sides[1], default=None)


def _plain(zone: Any) -> tuple[str, str, float, float]:
    if isinstance(zone, dict):
        return zone["pitch"], zone["zone"], float(zone["length_m"]), float(zone["width_m"])
    return zone.pitch.name, zone.name, float(zone.length_m), float(zone.width_m)
