"""The plan of a drill as a file: SVG, still or moving, and PNG."""

import hashlib
from collections.abc import Callable
from uuid import UUID

from django.http import HttpResponse
from django.utils.translation import gettext as _
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.negotiation import DefaultContentNegotiation
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.views import APIView

from club import reading
from club.access import STAFF
from club.api_tools import FileRenderer, file_answer
from club.errors import Refused
from drills import pages, queries
from drills.api.asked import FIT, TONIGHT_PARAMETERS, as_asked, rung, whole, yes
from drills.drawing.png import LEAST_PX, MOST_PX, USUAL_PX, png

SVG, PNG = "image/svg+xml", "image/png"
# A drawing needs nothing from anywhere; opened by itself it can run and load nothing.
POLICY = "default-src 'none'; sandbox"
PARAMETERS = [
    *TONIGHT_PARAMETERS,
    OpenApiParameter("step", int, description="0 is the set-up; without one, the whole."),
    OpenApiParameter("grid", str),
    OpenApiParameter("turn", int, enum=pages.TURNS, description="Clockwise, in degrees."),
    OpenApiParameter("lanes", bool, description="The passes that are on, at the step or at each step."),
    FIT,
]
MOVING = OpenApiParameter("moving", bool, description="With its timeline in seconds; goes without a step.")
WIDTH = OpenApiParameter(
    "width_px",
    int,
    description=f"{LEAST_PX} to {MOST_PX}; {USUAL_PX} unless said. Without `fit`, `width` says the same.",
)


class SvgRenderer(FileRenderer):
    media_type = SVG
    format = "svg"


class PngRenderer(FileRenderer):
    media_type = PNG
    format = "png"


class DrawingView(APIView):
    """The plan of a drill, to scale."""

    who_may = STAFF
    renderer_classes = [SvgRenderer, JSONRenderer]
    content_negotiation_class = DefaultContentNegotiation

    @extend_schema(
        operation_id="drills_drawing",
        parameters=[*PARAMETERS, MOVING],
        responses={(200, SVG): OpenApiTypes.STR},
    )
    def get(self, request: Request, public_id: UUID) -> HttpResponse:
        """As written, in a variation, at a step, or with one of tonight's set-ups."""
        svg = _drawn(
            request, public_id, moving=yes(reading.text(request.query_params.get("moving")), "moving")
        )
        return _file(request, svg, f"{SVG}; charset=utf-8", svg.encode)


class PictureView(APIView):
    """The plan of a drill as a picture of dots."""

    who_may = STAFF
    renderer_classes = [PngRenderer, JSONRenderer]
    content_negotiation_class = DefaultContentNegotiation

    @extend_schema(
        operation_id="drills_drawing_png",
        parameters=[*PARAMETERS, WIDTH],
        responses={(200, PNG): OpenApiTypes.BINARY},
    )
    def get(self, request: Request, public_id: UUID) -> HttpResponse:
        """The same picture as the SVG, for messages and slides."""
        width_px = _width_px(request)
        svg = _drawn(request, public_id)
        return _file(request, f"{width_px} {svg}", PNG, lambda: png(svg, width_px))


def _width_px(request: Request) -> int:
    """`width` may say it too where it is not tonight's ground that is meant."""
    names = ["width_px"] if "fit" in request.query_params else ["width_px", "width"]
    asked = {name: reading.text(request.query_params.get(name)) for name in names}
    name = next((each for each in names if asked[each]), "width_px")
    width_px = whole(asked[name] or str(USUAL_PX), name)
    if not LEAST_PX <= width_px <= MOST_PX:
        raise Refused(
            _("A picture is {least_px} to {most_px} pixels wide.").format(least_px=LEAST_PX, most_px=MOST_PX),
            name,
        )
    return width_px


def _file(request: Request, told: str, kind: str, make: Callable[[], bytes]) -> HttpResponse:
    """The tag comes from the text alone, so that a picture that is still right need not be made to say so."""
    tag = hashlib.sha256(told.encode()).hexdigest()[:32]
    # No person stands in a drawing: a browser may keep it and ask whether it is still right.
    return file_answer(
        request, tag, kind, make, Content_Security_Policy=POLICY, Cache_Control="private, no-cache"
    )


def _drawn(request: Request, public_id: UUID, *, moving: bool = False) -> str:
    params = {name: reading.text(each) for name, each in request.query_params.items()}
    found = queries.document_for(request.actor, public_id)
    key = rung(request, found)
    step = whole(params["step"], "step") if params.get("step") else None
    if moving and step is not None:
        raise Refused(_("What moves shows every step: ask for one or the other."), "moving")
    turn, lanes = _turn(params.get("turn", "0")), yes(params.get("lanes", ""), "lanes")
    tonight = as_asked(request, found, key)
    try:
        return pages.drawing(tonight, step=step, turn=turn, moving=moving, lanes=lanes)
    except ValueError as error:
        raise Refused(_("The drawing has no such step."), "step") from error


def _turn(text: str) -> pages.Turn:
    found = next((each for each in pages.TURNS if str(each) == text), None)
    if found is None:
        raise Refused(_("A plan is turned by 0, 90, 180 or 270 degrees."), "turn")
    return found
