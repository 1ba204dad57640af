"""Beside a drill: kept close, notes after use, and links that show it without an account."""

from typing import Any, ClassVar
from uuid import UUID

import msgspec
from django.urls import reverse
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import status
from rest_framework.exceptions import ParseError
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import COACHES, STAFF
from club.api_described import Described, answer
from club.api_tools import idempotent
from drills import access, actions, queries

IDEMPOTENCY_KEY = OpenApiParameter("Idempotency-Key", str, OpenApiParameter.HEADER)


class Note(msgspec.Struct, frozen=True, kw_only=True):
    """A word from somebody who ran the drill. No names, no health."""

    id: str
    at: str
    author: str
    players: int | None
    worked: bool | None
    text: str
    may_drop: bool


class Notes(msgspec.Struct, frozen=True, kw_only=True):
    """The latest notes, newest first."""

    count: int
    results: list[Note]


class NoteToWrite(msgspec.Struct, frozen=True, kw_only=True):
    text: str
    players: int | None = None
    worked: bool | None = None


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


class Close(APIView):
    """Whether the drill is among those that you want at hand."""

    who_may: ClassVar = {"PUT": STAFF, "DELETE": STAFF}

    @extend_schema(operation_id="drills_keep_close", request=None, responses={204: None})
    def put(self, request: Request, public_id: UUID) -> Response:
        """Keep it close."""
        actions.keep_close(actor=request.actor, public_id=public_id, close=True)
        return Response(status=204)

    @extend_schema(operation_id="drills_let_go", responses={204: None})
    def delete(self, request: Request, public_id: UUID) -> Response:
        """Keep it close no longer."""
        actions.keep_close(actor=request.actor, public_id=public_id, close=False)
        return Response(status=204)


class AfterUse(APIView):
    """Notes after use."""

    who_may: ClassVar = {"GET": STAFF, "POST": STAFF}

    @extend_schema(operation_id="drills_notes", responses=Described(Notes))
    def get(self, request: Request, public_id: UUID) -> Response:
        """What others noted after they ran it."""
        return answer(_notes(request, public_id))

    @extend_schema(
        operation_id="drills_note",
        parameters=[IDEMPOTENCY_KEY],
        request=Described(NoteToWrite),
        responses={201: Described(Notes)},
    )
    @idempotent
    def post(self, request: Request, public_id: UUID) -> Response:
        """Note what happened. No names, no health."""
        given = _body(request, NoteToWrite)
        players = "" if given.players is None else str(given.players)
        actions.note_after_use(
            actor=request.actor,
            public_id=public_id,
            text=given.text,
            players=players,
            worked="" if given.worked is None else "yes" if given.worked else "no",
        )
        return answer(_notes(request, public_id), status.HTTP_201_CREATED)


class OneNote(APIView):
    who_may: ClassVar = {"DELETE": STAFF}

    @extend_schema(operation_id="drills_note_drop", responses={204: None})
    def delete(self, request: Request, public_id: UUID, note_id: UUID) -> Response:
        """Take a note away: who wrote it, or the director."""
        actions.drop_note(actor=request.actor, public_id=public_id, note_id=note_id)
        return Response(status=204)


class ShareLinks(APIView):
    """Links that show the drill to people without an account."""

    who_may: ClassVar = {"GET": COACHES, "POST": COACHES}

    @extend_schema(operation_id="drills_links", responses=Described(Links))
    def get(self, request: Request, public_id: UUID) -> Response:
        """Links that are open, to whoever may make them; nobody else hears of any."""
        found = queries.document_for(request.actor, public_id).drill
        kept = queries.keeping(request.actor, found, may_share=access.may_share(request.actor, found))
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
        given = _body(request, LinkToMake)
        secret = actions.share_drill(actor=request.actor, public_id=public_id, days=str(given.days))
        address = request.build_absolute_uri(reverse("drills:shared", args=[secret]))
        return answer(LinkMade(address=address, days=given.days), status.HTTP_201_CREATED)


class OneLink(APIView):
    who_may: ClassVar = {"DELETE": COACHES}

    @extend_schema(operation_id="drills_link_end", responses={204: None})
    def delete(self, request: Request, public_id: UUID, link_id: UUID) -> Response:
        """Take a link back: from now on it opens nothing."""
        actions.take_back_link(actor=request.actor, public_id=public_id, link_id=link_id)
        return Response(status=204)


def _body(request: Request, shape: type[Any]) -> Any:
    """The body as its shape. Raises ParseError."""
    try:
        return msgspec.convert(request.data, shape)
    except msgspec.ValidationError as error:
        raise ParseError(str(error)) from error


def _notes(request: Request, public_id: UUID) -> Notes:
    found = queries.document_for(request.actor, public_id).drill
    kept = queries.keeping(request.actor, found, may_share=False)
    notes = [
        Note(
            id=str(each.public_id),
            at=each.at.isoformat(),
            author=each.author,
            players=each.players,
            worked=each.worked,
            text=each.text,
            may_drop=each.may_drop,
        )
        for each in kept.notes
    ]
    return Notes(count=len(notes), results=notes)
