"""Notes of coaches after running a drill."""

from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import Http404

from club.actions import action
from club.actor import Actor
from drills import access
from drills.models import UseNote
from drills.validators import check_after_use


@action
def note_after_use(
    *, actor: Actor, public_id: UUID | str, text: str, players: str = "", worked: str = ""
) -> UseNote:
    """Keep a word from somebody who ran the drill; `worked` is yes, no or not said. Raises Refused."""
    drill = access.readable(actor, public_id)
    said, count, went = check_after_use(text, players, worked)
    return UseNote.objects.create(drill=drill, author_id=actor.user_id, text=said, players=count, worked=went)


@action
def delete_note(*, actor: Actor, public_id: UUID | str, note_id: UUID | str) -> None:
    """Delete a note: who wrote it, or the director."""
    drill = access.readable(actor, public_id)
    note = drill.use_notes.filter(public_id=note_id).first()
    if note is None:
        raise Http404
    if not actor.is_director and note.author_id != actor.user_id:
        raise PermissionDenied
    note.delete()
