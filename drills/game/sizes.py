"""What the size of a grid is for, and the room in it. Pages, API and sheets ask here, so a grid reads the same everywhere.

A drill says in its own words what each of its grids is for. Where it does, no second word for the size stands beside
it: "five can keep it" and "tight" would contradict each other. What stands beside it is the figure.
"""

from __future__ import annotations

from dataclasses import dataclass

from drills.game.design import players_counted
from drills.game.document.content import Grid
from drills.game.document.drill import DrillDocument
from drills.game.format import Format
from drills.game.playable import COUNTS_EVERYONE, NO_AREA
from drills.game.space import Counted, area_per_player


@dataclass(frozen=True, slots=True)
class Room:
    """Area per player in m², and which players are counted."""

    m2: float
    counted: Counted


@dataclass(frozen=True, slots=True)
class Size:
    """A grid in metres with the drill's own words for it, empty where the drill has none for this size.

    `room` is None where an area per player says nothing (queues, patterns, finishing).
    """

    length_m: float
    width_m: float
    purpose: str
    room: Room | None


def size_of(base: DrillDocument, played: DrillDocument, grid: Grid, fmt: Format) -> Size:
    """The size of a grid of `played`, which is `base` in one of its variations, with the numbers of `fmt`."""
    return Size(
        grid.length_m,
        grid.width_m,
        purpose_of(base, grid),
        room_of(played, fmt, grid.length_m, grid.width_m),
    )


def purpose_of(base: DrillDocument, grid: Grid) -> str:
    """The drill's words for a grid as large as this one; empty for a size that it does not describe.

    A variation changes the first grid's size and leaves its key and purpose: those words are about another size then.
    """
    as_large = [each for each in base.grids if _sides(each) == _sides(grid)]
    own = next((each for each in as_large if each.key == grid.key), None)
    found = own or next(iter(as_large), None)
    return found.purpose if found else ""


def _sides(grid: Grid) -> tuple[float, float]:
    return grid.length_m, grid.width_m


def counted_in(document: DrillDocument, fmt: Format) -> Counted:
    """Which players share the area: everyone in a rondo and where nobody stands inside, else those inside."""
    everyone = document.activity in COUNTS_EVERYONE or not fmt.players_inside
    return "everyone" if everyone else "inside"


def room_of(document: DrillDocument, fmt: Format, length_m: float, width_m: float) -> Room | None:
    """The room that each player of these numbers has on a grid in metres; None where that says nothing.

    It says nothing in queues, patterns and finishing.
    """
    if document.activity in NO_AREA or document.queue is not None:
        return None
    players = players_counted(fmt, everyone=document.activity in COUNTS_EVERYONE)
    return Room(area_per_player(length_m, width_m, players), counted_in(document, fmt))
