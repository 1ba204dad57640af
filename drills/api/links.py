"""Links that show a drill without an account."""

from typing import ClassVar
from uuid import UUID

import msgspec
from django.urls import reverse
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import COACHES
from club.api_described import Described, answer
from drills import access, actions, queries
from drills.api.asked import body_as


class Link(msgspec.Struct, frozen=True, kw_only=True):
    """A link that is open; its address was told once, when it was made."""

    id: str
    made_at: str
    expires_at: str
    made_by: str


class Links(msgspec.Struct, frozen=True, kw_only=True):
    count: int
    results: list[Link]


class LinkToMake(msgspec.Struct, frozen=True, kw_only=True):
    days: int


class LinkMade(msgspec.Struct, frozen=True, kw_only=True):
    """The address is the secret: it is kept nowhere and told this once."""

    address: str
    days: int


class ShareLinksView(APIView):
    """Links that show the drill to people without an account."""

    who_may: ClassVar = {"GET": COACHES, "POST": COACHES}

    @extend_schema(operation_id="drills_links", responses=Described(Links))
    def get(self, request: Request, public_id: UUID) -> Response:
        """Links that are open, to whoever may make them; nobody else hears of any."""
        found = queries.document_for(request.actor, public_id).drill
        kept = queries.annotations(request.actor, found, may_share=access.may_share(request.actor, found))
        links = [
            Link(
                id=str(each.public_id),
                made_at=each.made_at.isoformat(),
                expires_at=each.expires_at.isoformat(),
                made_by=each.made_by,
            )
            for each in kept.links
        ]
        return answer(Links(count=len(links), results=links))

    @extend_schema(
        operation_id="drills_link", request=Described(LinkToMake), responses={201: Described(LinkMade)}
    )
    def post(self, request: Request, public_id: UUID) -> Response:
        """Make a link. A repeated request makes another: the address cannot be told twice."""
        given = body_as(request, LinkToMake)
        secret = actions.share_drill(actor=request.actor, public_id=public_id, days=str(given.days))
        address = request.build_absolute_uri(reverse("drills:shared", args=[secret]))
        return answer(LinkMade(address=address, days=given.days), 201)


class ShareLinkView(APIView):
    who_may: ClassVar = {"DELETE": COACHES}

    @extend_schema(operation_id="drills_link_end", responses={204: None})
    def delete(self, request: Request, public_id: UUID, link_id: UUID) -> Response:
        """Take a link back: from now on it opens nothing."""
        actions.take_back_link(actor=request.actor, public_id=public_id, link_id=link_id)
        return Response(status=204)
