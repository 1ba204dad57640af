"""Photos of a board beside a drill. They are no part of its document, so no file of drills holds them."""

from typing import Annotated, ClassVar
from uuid import UUID

import msgspec
from django.http import HttpRequest, HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.negotiation import DefaultContentNegotiation
from rest_framework.parsers import MultiPartParser
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.reverse import reverse
from rest_framework.views import APIView

from club.access import COACHES, DIRECTOR, STAFF
from club.api_described import Described, Moment, answer, one_of
from club.api_tools import FileRenderer, file_answer
from drills import access, actions, queries
from drills.api.drawing import POLICY
from drills.choices import LONGEST_CAPTION, SketchState
from drills.photos import MB, MOST_BYTES_SENT

JPEG = "image/jpeg"
# The address names the bytes, so they never change; a week only, since a photo may be removed.
KEPT = "private, max-age=604800, immutable"
# A form with a file, as OpenAPI 3.1 describes one.
PHOTO = {
    "type": "object",
    "required": ["photo"],
    "properties": {
        "photo": {
            "type": "string",
            "contentMediaType": "image/*",
            "description": f"JPEG, PNG or WebP, at most {MOST_BYTES_SENT // MB} MB. No people, no names on the board.",
        },
        "caption": {"type": "string", "maxLength": LONGEST_CAPTION, "description": "What it shows."},
    },
}


class SketchOut(msgspec.Struct, frozen=True, kw_only=True):
    """A photo of a board or a paper, re-encoded here: nothing of the sent file but its dots."""

    id: str
    state: Annotated[str, one_of(SketchState.values)]
    caption: str
    width_px: int
    height_px: int
    bytes: int
    sha256: str
    picture: str
    added_at: Moment
    added_by: str
    may_approve: bool
    may_remove: bool


class SketchesOut(msgspec.Struct, frozen=True, kw_only=True):
    """Those that you may see: approved ones, and your own; the director all. `free`: how many more there may be."""

    count: int
    free: int
    results: list[SketchOut]


class JpegRenderer(FileRenderer):
    media_type = JPEG
    format = "jpg"


class SketchesView(APIView):
    """Photos of a board beside the drill; 404 where the club has switched them off."""

    who_may: ClassVar = {"GET": STAFF, "POST": COACHES}
    parser_classes = [MultiPartParser]

    @extend_schema(operation_id="drills_sketches", responses=Described(SketchesOut))
    def get(self, request: Request, public_id: UUID) -> Response:
        """The photos beside a drill."""
        return answer(_sketches(request, public_id))

    @extend_schema(
        operation_id="drills_sketch",
        request={"multipart/form-data": PHOTO},
        responses={201: Described(SketchesOut)},
    )
    def post(self, request: Request, public_id: UUID) -> Response:
        """Add a photo; it waits for the director, whose own does not. The same photo twice is refused."""
        access.with_sketches(request.actor, public_id)  # before the body is read
        caption, sent = str(request.data.get("caption", "")), request.FILES.get("photo")
        actions.add_sketch(actor=request.actor, public_id=public_id, sent=sent, caption=caption)
        return answer(_sketches(request, public_id), 201)


class SketchView(APIView):
    who_may: ClassVar = {"DELETE": COACHES}

    @extend_schema(operation_id="drills_sketch_remove", responses={204: None})
    def delete(self, request: Request, public_id: UUID, sketch_id: UUID) -> Response:
        """Delete a photo for good: who added it, or the director."""
        actions.remove_sketch(actor=request.actor, public_id=public_id, sketch_id=sketch_id)
        return Response(status=204)


class SketchApprovalView(APIView):
    who_may: ClassVar = {"PUT": DIRECTOR}

    @extend_schema(
        operation_id="drills_sketch_approve", request=None, responses={200: Described(SketchesOut)}
    )
    def put(self, request: Request, public_id: UUID, sketch_id: UUID) -> Response:
        """Show a photo to everybody who reads the drill."""
        actions.approve_sketch(actor=request.actor, public_id=public_id, sketch_id=sketch_id)
        return answer(_sketches(request, public_id))


class SketchPictureView(APIView):
    """The picture itself, by its SHA-256."""

    who_may = STAFF
    renderer_classes = [JpegRenderer, JSONRenderer]
    content_negotiation_class = DefaultContentNegotiation

    @extend_schema(operation_id="drills_sketch_picture", responses={(200, JPEG): OpenApiTypes.BINARY})
    def get(self, request: Request, public_id: UUID, sha256: str) -> HttpResponse:
        """A JPEG of at most 400 kB and 1600 pixels."""
        return picture_answer(request, public_id, sha256)


def picture_answer(request: HttpRequest | Request, public_id: UUID, sha256: str) -> HttpResponse:
    """The JPEG, for whoever sees it beside the drill. Opened by itself it can do nothing. Raises Http404."""
    sketch = access.sketch_with_picture(request.actor, public_id, sha256)
    headers = {"Content_Disposition": "inline", "Content_Security_Policy": POLICY, "Cache_Control": KEPT}
    return file_answer(request, sha256, JPEG, lambda: queries.picture_of(sketch), **headers)


def _sketches(request: Request, public_id: UUID) -> SketchesOut:
    found = queries.sketches_beside(request.actor, access.with_sketches(request.actor, public_id))
    rows = [
        SketchOut(
            id=str(each.public_id),
            state=SketchState.WAITING if each.is_waiting else SketchState.APPROVED,
            caption=each.caption,
            width_px=each.width_px,
            height_px=each.height_px,
            bytes=each.length,
            sha256=each.sha256,
            picture=reverse("api-drill-sketch-picture", [public_id, each.sha256], request=request),
            added_at=each.added_at,
            added_by=each.added_by,
            may_approve=each.may_approve,
            may_remove=each.may_remove,
        )
        for each in found.rows
    ]
    return SketchesOut(count=len(rows), free=found.free, results=rows)
