"""Notes of coaches after they ran a drill."""

from typing import ClassVar
from uuid import UUID

import msgspec
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import STAFF
from club.api_described import Described, answer
from club.api_tools import IDEMPOTENCY_KEY, idempotent
from drills import actions, queries
from drills.api.asked import body_as


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


class NotesView(APIView):
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
        given = body_as(request, NoteToWrite)
        players = "" if given.players is None else str(given.players)
        actions.note_after_use(
            actor=request.actor,
            public_id=public_id,
            text=given.text,
            players=players,
            worked="" if given.worked is None else "yes" if given.worked else "no",
        )
        return answer(_notes(request, public_id), 201)


class NoteView(APIView):
    who_may: ClassVar = {"DELETE": STAFF}

    @extend_schema(operation_id="drills_note_drop", responses={204: None})
    def delete(self, request: Request, public_id: UUID, note_id: UUID) -> Response:
        """Take a note away: who wrote it, or the director."""
        actions.delete_note(actor=request.actor, public_id=public_id, note_id=note_id)
        return Response(status=204)


def _notes(request: Request, public_id: UUID) -> Notes:
    found = queries.document_for(request.actor, public_id).drill
    kept = queries.annotations(request.actor, found, may_share=False)
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
