"""What staff keep beside a drill: close at hand, and a word after running it. And its past, put back."""

from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.utils.translation import gettext as _

from club.actions import action
from club.actor import Actor
from drills import access
from drills.actions.write import revise_drill
from drills.bridge import document_of
from drills.models import AfterUse, Drill, KeptClose
from drills.validators import check_after_use


@action
def keep_close(*, actor: Actor, public_id: UUID | str, close: bool) -> Drill:
    """Put a drill among those that this person wants at hand, or take it away from there."""
    drill = access.readable(actor, public_id)
    mine = KeptClose.objects.filter(user_id=actor.user_id, drill=drill)
    if close:
        KeptClose.objects.get_or_create(user_id=actor.user_id, drill=drill)
    else:
        mine.delete()
    return drill


@action
def note_after_use(
    *, actor: Actor, public_id: UUID | str, text: str, players: str = "", worked: str = ""
) -> AfterUse:
    """Keep a word from somebody who ran the drill; `worked` is yes, no or not said. Raises Refused."""
    drill = access.readable(actor, public_id)
    said, count, went = check_after_use(text, players, worked)
    return AfterUse.objects.create(
        drill=drill, author_id=actor.user_id, text=said, players=count, worked=went
    )


@action
def drop_note(*, actor: Actor, public_id: UUID | str, note_id: UUID | str) -> None:
    """Take a note away: who wrote it, or the director."""
    drill = access.readable(actor, public_id)
    note = drill.after_use.filter(public_id=note_id).first()
    if note is None:
        raise Http404
    if not actor.is_director and note.author_id != actor.user_id:
        raise PermissionDenied
    note.delete()


@action
def restore_revision(*, actor: Actor, public_id: UUID | str, version: int, number: int) -> Drill:
    """Say again what an older revision said, as a new one. Raises Http404, Refused, or Stale."""
    drill = access.editable(actor, public_id)
    revision = drill.revisions.filter(number=number).first()
    if revision is None:
        raise Http404
    return revise_drill(
        actor=actor,
        public_id=public_id,
        version=version,
        document=document_of(revision),
        note=_("Revision {number} again.").format(number=number),
    )
