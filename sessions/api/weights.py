"""How much each wish counts for the club, over the API."""

from typing import ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers as s
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import COACHES, DIRECTOR
from club.api_tools import etag, wanted_version
from sessions import actions
from sessions.api.sessions import IF_MATCH, checked
from sessions.choices import HowMuch
from sessions.queries.proposing import proposal_weights


class WeightsIn(s.Serializer):
    """How much each counts: not at all, half (a little), as usual, double (a lot). What is left out stays."""

    theme = s.ChoiceField(choices=HowMuch.choices, required=False)
    playing = s.ChoiceField(choices=HowMuch.choices, required=False, help_text="Minutes in play.")
    moves = s.ChoiceField(choices=HowMuch.choices, required=False, help_text="Cones laid once.")
    last_week = s.ChoiceField(
        choices=HowMuch.choices, required=False, help_text="Last week's drill, one rung up."
    )
    rating = s.ChoiceField(choices=HowMuch.choices, required=False, help_text="Drills noted to have worked.")
    effort = s.ChoiceField(
        choices=HowMuch.choices, required=False, help_text="Effort that rises, then falls."
    )


class WeightsOut(WeightsIn):
    version = s.IntegerField()


class ProposalWeights(APIView):
    """What counts when a session is put together, for the whole club."""

    who_may: ClassVar = {"GET": COACHES, "PATCH": DIRECTOR}

    @extend_schema(operation_id="proposal_weights_retrieve", responses=WeightsOut)
    def get(self, request: Request) -> Response:
        return self._answer()

    @extend_schema(
        operation_id="proposal_weights_update", parameters=[IF_MATCH], request=WeightsIn, responses=WeightsOut
    )
    def patch(self, request: Request) -> Response:
        """It holds for proposals asked for from now on."""
        version = wanted_version(request)
        actions.weigh_proposals(version=version, **checked(WeightsIn, request))
        return self._answer()

    def _answer(self) -> Response:
        row = proposal_weights()
        return Response(WeightsOut(row).data, headers={"ETag": etag(row.version)})
