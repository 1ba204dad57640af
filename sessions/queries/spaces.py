"""Booked zones as the ground that they make: one rule for laying out and for taking a session along."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any


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


def _plain(zone: Any) -> tuple[str, str, float, float]:
    if isinstance(zone, dict):
        return zone["pitch"], zone["zone"], float(zone["length_m"]), float(zone["width_m"])
    return zone.pitch.name, zone.name, float(zone.length_m), float(zone.width_m)
