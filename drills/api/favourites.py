"""Drills that you want at hand."""

from typing import ClassVar
from uuid import UUID

from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import STAFF
from drills import actions

IDEMPOTENCY_KEY = OpenApiParameter("Idempotency-Key", str, OpenApiParameter.HEADER)


class FavouriteView(APIView):
    """Whether the drill is among those that you want at hand."""

    who_may: ClassVar = {"PUT": STAFF, "DELETE": STAFF}

    @extend_schema(operation_id="drills_favourite", request=None, responses={204: None})
    def put(self, request: Request, public_id: UUID) -> Response:
        """Save it."""
        actions.set_favourite(actor=request.actor, public_id=public_id, favourite=True)
        return Response(status=204)

    @extend_schema(operation_id="drills_favourite_remove", responses={204: None})
    def delete(self, request: Request, public_id: UUID) -> Response:
        """Remove it from your saved drills."""
        actions.set_favourite(actor=request.actor, public_id=public_id, favourite=False)
        return Response(status=204)
