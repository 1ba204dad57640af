"""Where the grids of a session go, over the API."""

from typing import Annotated
from uuid import UUID

import msgspec
from drf_spectacular.utils import extend_schema
from msgspec import Meta
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import STAFF
from club.api_described import Described, answer, shaped
from sessions import access, pages, queries
from sessions.api.reasons import ReasonOut, reasons
from sessions.pages.ground import GridOnGround, PartOnGround, SessionGround


class GridOut(msgspec.Struct, frozen=True, kw_only=True):
    """A grid in its place: metres from the lower-left corner of its space, paces from the named corner."""

    name: Annotated[
        str, Meta(description="The part's number, with a letter or a number for each of several.")
    ]
    title: str
    space: str
    x_m: float
    y_m: float
    length_m: float
    width_m: float
    turned: Annotated[int, Meta(description="Quarter turns to the left.")]
    corner: str
    paces_along: int
    paces_in: int


class PartOnGroundShape(msgspec.Struct, frozen=True, kw_only=True):
    number: int
    title: str
    grids: list[GridOut]
    laying: Annotated[
        str, Meta(description="What is set up already, and what is laid when; empty for nothing.")
    ]
    run_off_m: Annotated[
        float,
        Meta(description="Kept from fences, walls and fixed goals, the least along and across the space."),
    ]
    reasons: list[ReasonOut]


class SpaceOut(msgspec.Struct, frozen=True, kw_only=True):
    name: str
    length_m: float
    width_m: float


class GroundOut(msgspec.Struct, frozen=True, kw_only=True):
    """The grids of a session on what is booked; `pace` are sentences, in the order in which one walks."""

    pace_m: float
    spaces: list[SpaceOut]
    parts: list[PartOnGroundShape]
    pace: list[str]
    reasons: list[ReasonOut]


class SessionGroundView(APIView):
    """The grids of a session on what is booked."""

    who_may = STAFF

    @extend_schema(operation_id="sessions_ground", responses=Described(GroundOut))
    def get(self, request: Request, public_id: UUID) -> Response:
        """Which grid goes where, where to pace from, what is laid when; or what does not fit, and why."""
        session = access.session_for_reading(request.actor, public_id)
        found = pages.session_ground(queries.session_view(session, k=1.0, judged=False))
        return answer(_ground(found))


def _ground(found: SessionGround | None) -> GroundOut:
    """Where there is nothing to lay, nothing of it."""
    if found is None:
        return GroundOut(pace_m=0.0, spaces=[], parts=[], pace=[], reasons=[])
    return GroundOut(
        pace_m=found.pace_m,
        spaces=[shaped(SpaceOut, each.space, name=each.space.key) for each in found.plans],
        parts=[_part(each) for each in found.parts],
        pace=found.pace,
        reasons=reasons(found.reasons),
    )


def _part(part: PartOnGround) -> PartOnGroundShape:
    return shaped(
        PartOnGroundShape,
        part,
        grids=[_grid(each) for each in part.grids],
        run_off_m=part.kept.layout.margins.least_m,
        reasons=reasons(part.reasons),
    )


def _grid(grid: GridOnGround) -> GridOut:
    placed = grid.placed
    return shaped(
        GridOut,
        placed.grid,
        name=grid.label,
        title=grid.title,
        space=placed.space,
        turned=placed.turned,
        corner=placed.corner,
        paces_along=grid.paces[0],
        paces_in=grid.paces[1],
    )
