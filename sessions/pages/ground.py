"""Where the grids of a session go on what is booked, where to pace from, and what stands already."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from drills.game.evening import Piece
from sessions.pages.edges import note_of
from sessions.pages.laying import part_laying
from sessions.pictures.ground import Layer, ground_plan
from sessions.planning.layout import KeptLayout, Placed
from sessions.planning.reasons import PlanningReason, reason
from sessions.queries.laying import evening_to_lay, laid_out, station_name
from sessions.queries.plan import PartView, SessionView
from sessions.queries.rows import zones_of
from sessions.queries.spaces import Booked, spaces_of
from sessions.queries.station import to_lay

CORNERS = {
    "lower left": gettext_lazy("the lower left corner"),
    "lower right": gettext_lazy("the lower right corner"),
    "upper left": gettext_lazy("the upper left corner"),
    "upper right": gettext_lazy("the upper right corner"),
}


@dataclass(frozen=True)
class GridOnGround:
    """One grid in its place; `paces` are (along, in) from the corner, `size_paces` its own sides."""

    label: str
    title: str
    placed: Placed
    paces: tuple[int, int]
    size_paces: tuple[int, int]

    @property
    def size(self) -> str:
        return f"{self.placed.grid.length_m:g} × {self.placed.grid.width_m:g} m"


@dataclass(frozen=True)
class PartOnGround:
    """A part's grids, what is laid when, and why it does not fit where it doesn't."""

    number: int
    title: str
    grids: list[GridOnGround]
    kept: KeptLayout
    reasons: list[PlanningReason]
    picture: SafeString | None
    laying: str = ""  # in words: what stands already, and what is laid when

    @property
    def fits(self) -> bool:
        return bool(self.grids) or not self.reasons


@dataclass(frozen=True)
class SpacePlan:
    """One booked space with everything that is laid on it."""

    space: Piece
    picture: SafeString
    note: str


@dataclass(frozen=True)
class SessionGround:
    """The evening on the ground. `pace` are sentences, in the order in which one walks."""

    plans: list[SpacePlan]
    parts: list[PartOnGround]
    reasons: list[PlanningReason]
    pace: list[str]
    pace_m: float
    joined: bool  # zones of one pitch were taken as lying side by side


def session_ground(view: SessionView) -> SessionGround | None:
    """Lay a session out; None where there is nothing to lay. No query beyond the club's settings."""
    stations = [to_lay(part.stations) for part in view.parts]
    if not any(each is not None for part in stations for each in part):
        return None
    booked, evening = spaces_of(zones_of(view.row)), evening_to_lay(view.row)
    pieces, joined, pace_m = evening.pieces, any(each.zones > 1 for each in booked), evening.pace_m
    if not pieces:
        return SessionGround([], [], [reason("layout_no_place")], [], pace_m, joined)
    kept = laid_out(evening, stations)
    laying = part_laying(view)
    parts = [
        replace(_part(part, each, pace_m, pieces), laying=laying[index])
        for index, (part, each) in enumerate(zip(view.parts, kept, strict=True))
    ]
    return SessionGround(
        plans=[_plan(parts, each) for each in booked],
        parts=parts,
        reasons=[],
        pace=_pace(parts, pieces),
        pace_m=pace_m,
        joined=joined,
    )


def _part(part: PartView, kept: KeptLayout, pace_m: float, pieces: Sequence[Piece]) -> PartOnGround:
    titles = _titles(part)
    grids = [
        GridOnGround(
            label=each.key,
            title=titles.get(each.key.partition(".")[0], part.title),
            placed=each,
            paces=each.paces,
            size_paces=(_paces(each.grid.length_m, pace_m), _paces(each.grid.width_m, pace_m)),
        )
        for each in kept.layout.placed
    ]
    picture = _alone(part, grids, pieces) if len(grids) > 1 else None
    return PartOnGround(part.number, part.title, grids, kept, list(kept.layout.reasons), picture)


def _titles(part: PartView) -> dict[str, str]:
    stations = part.stations
    return {station_name(part.number, n, len(stations)): each.title for n, each in enumerate(stations)}


def _paces(metres: float, pace_m: float) -> int:
    return int(metres / pace_m + 0.5)


def _alone(part: PartView, grids: list[GridOnGround], pieces: Sequence[Piece]) -> SafeString | None:
    """The plan of one part whose grids stand side by side; of the space that holds most of them."""
    held = {piece.key: [each for each in grids if each.placed.space == piece.key] for piece in pieces}
    space = max(pieces, key=lambda each: len(held[each.key]))
    layer = Layer(1, tuple((each.label, each.placed) for each in held[space.key]))
    title = _("Part {n} on {space}").format(n=part.number, space=space.key)
    return mark_safe(ground_plan(space, [layer], title=title, prefix=f"g{part.number}-"))


def _plan(parts: list[PartOnGround], booked: Booked) -> SpacePlan:
    space = booked.piece
    layers = [
        Layer(
            part.number,
            tuple((each.label, each.placed) for each in part.grids if each.placed.space == space.key),
        )
        for part in parts
    ]
    desc = " ".join(_pace(parts, [space]))
    title = _("{space}: where the grids stand").format(space=space.key)
    drawn = ground_plan(space, [each for each in layers if each.grids], title=title, desc=desc, prefix="g-")
    return SpacePlan(space, mark_safe(drawn), note_of(booked))


def _pace(parts: list[PartOnGround], pieces: Sequence[Piece]) -> list[str]:
    """Sentences to pace by; grids that begin at the same spot share the way to it."""
    starts: dict[tuple[str, str, tuple[int, int]], list[GridOnGround]] = {}
    keys = {each.key for each in pieces}
    for part in parts:
        for each in part.grids:
            if each.placed.space in keys:
                starts.setdefault((each.placed.space, each.placed.corner, each.paces), []).append(each)
    found = []
    for (space, corner, (along, across)), grids in starts.items():
        way = _("From {corner} of {space}, {along} along and {across} in:").format(
            corner=CORNERS[corner], space=space, along=_in_paces(along), across=across
        )
        sizes = ", ".join(
            _("part {label} is {long} × {wide} paces").format(
                label=each.label, long=_sides(each)[0], wide=_sides(each)[1]
            )
            for each in grids
        )
        found.append(f"{way} {sizes}.")
    return found


def _in_paces(count: int) -> str:
    return ngettext("{n} pace", "{n} paces", count).format(n=count)


def _sides(grid: GridOnGround) -> tuple[int, int]:
    return grid.size_paces
