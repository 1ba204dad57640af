"""Who is who of the players on a plan: the group of each, what it wears, and the home that the group keeps to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import cast

from drills.game.bibs.tonight import NO_BIB, RESTING, Wear
from drills.game.document.choices import GroupHome
from drills.game.document.content import Group
from drills.game.document.drill import DrillDocument
from drills.game.format import Format
from drills.game.groups import FormatSlot
from drills.game.roster import roster_of
from drills.game.scene import Edge

EVERY_EDGE: tuple[Edge, ...] = ("top", "bottom", "right", "left")
_EDGES: dict[GroupHome, tuple[Edge, ...]] = {
    GroupHome.TOUCHLINE: ("top", "bottom"),
    GroupHome.END_LINE: ("left", "right"),
    GroupHome.EVERY_SIDE: EVERY_EDGE,
}


@dataclass(frozen=True, slots=True)
class Seat:
    """One player of a group: `bib` "" for the side's own, `edges` where the group stands on edges, `zone` where it keeps to one."""

    group: str = ""
    bib: str = ""
    edges: tuple[Edge, ...] = ()
    zone: str | None = None
    role: str = ""


Seats = Mapping[FormatSlot, tuple[Seat, ...]]


def seats_of(document: DrillDocument, fmt: Format) -> dict[FormatSlot, tuple[Seat, ...]]:
    """The players of every slot in one grid that plays `fmt`, group by group as they are written. Raises UnclearFormat."""
    roster = roster_of(document)
    counts = roster.spread(fmt)
    groups = {each.key: each for each in document.groups}
    zones = {each.key for each in document.zones}
    return {
        slot: tuple(
            seat_of(groups[key], zones) for key in roster.keys(slot) for _ in range(counts.get(key, 0))
        )
        for slot in roster.members
    }


def waiting_seats(
    document: DrillDocument, fmt: Format, waiting: int, wear: Wear
) -> tuple[tuple[FormatSlot, Seat], ...]:
    """Those who wait beside one grid that plays `fmt`, as their groups share it; none where groups can't say who."""
    if RESTING in wear:
        return ((FormatSlot("A", "inside"), Seat(bib=wear[RESTING])),) * waiting
    roster = roster_of(document)
    counts = roster.off(fmt, waiting)
    groups = {each.key: each for each in document.groups}
    return tuple(
        (slot, Seat(key, groups[key].bib or NO_BIB))
        for slot in roster.members
        for key in roster.keys(slot)
        for _ in range(counts.get(key, 0))
    )


def seat_of(group: Group, zones: set[str]) -> Seat:
    """The seat of anybody in a group: its bib, and the edges or the zone (of `zones`, by key) that it keeps to."""
    keeps_to = group.place is GroupHome.ZONE and group.zone in zones
    return Seat(
        group=group.key,
        bib=group.bib or NO_BIB,
        edges=_edges(group),
        zone=group.zone if keeps_to else None,
        role=(group.role or "")[:40],
    )


def _edges(group: Group) -> tuple[Edge, ...]:
    if group.place not in _EDGES:
        return ()
    written = tuple(each.value for each in group.edges if each.value in EVERY_EDGE)
    return cast(tuple[Edge, ...], written) or _EDGES[group.place]
