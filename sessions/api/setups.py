"""All parts of a session set up for tonight, over the API."""

from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import COACHES
from club.api_described import Described, answer
from club.api_tools import etag, wanted_version
from sessions import access, actions, pages
from sessions.api import answers, inputs, shapes
from sessions.api.sessions import IF_MATCH, checked


class AllSetUpView(APIView):
    """Every part of a session that has not begun, set up for so many players."""

    who_may = COACHES

    @extend_schema(
        operation_id="sessions_set_up_all",
        parameters=[IF_MATCH],
        request=inputs.EverybodyIn,
        responses=Described(shapes.AllSetUpOut),
    )
    def post(self, request: Request, public_id: UUID) -> Response:
        """Each station with a drill gets the set-up that is nearest to the drill; answers what became of each."""
        session = access.session_for_planning(request.actor, public_id)
        version, data = wanted_version(request), checked(inputs.EverybodyIn, request)
        changed = actions.set_up_all(
            actor=request.actor,
            session=session,
            version=version,
            players=data.get("players"),
            anew=data["anew"],
        )
        fresh = access.session_for_planning(request.actor, public_id)
        found = pages.all_set_up(fresh, data.get("players"), changed=changed)
        return answer(answers.all_set_up(found, fresh.version), headers={"ETag": etag(fresh.version)})
