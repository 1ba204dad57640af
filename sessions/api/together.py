"""Sessions put together on purpose, and apart again."""

from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import COACHES
from club.api_described import Described
from club.api_tools import wanted_version
from sessions import access, actions
from sessions.api import inputs, shapes
from sessions.api.sessions import IF_MATCH, checked, whole


class TogetherView(APIView):
    """Two teams in one session: one coach over two, a pitch shared. Who plans for both age groups, or the director."""

    who_may = COACHES

    @extend_schema(
        operation_id="sessions_put_together",
        parameters=[IF_MATCH],
        request=inputs.TogetherIn,
        responses=Described(shapes.SessionOut),
    )
    def post(self, request: Request, public_id: UUID) -> Response:
        session = access.session_for_planning(request.actor, public_id)
        version, data = wanted_version(request), checked(inputs.TogetherIn, request)
        other = access.session_for_planning(request.actor, data.pop("other"))
        actions.put_together(actor=request.actor, session=session, version=version, other=other, **data)
        return whole(request, public_id)

    @extend_schema(
        operation_id="sessions_take_apart", parameters=[IF_MATCH], responses=Described(shapes.SessionOut)
    )
    def delete(self, request: Request, public_id: UUID) -> Response:
        session = access.session_for_planning(request.actor, public_id)
        actions.take_apart(session=session, version=wanted_version(request))
        return whole(request, public_id)
