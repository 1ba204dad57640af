"""From draft to club standard and back, and out of the library. Every step raises the drill's version."""

from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.utils import timezone
from django.utils.translation import gettext as _

from club.actions import action
from club.actor import Actor
from club.errors import Refused
from drills import access
from drills.actions.write import locked
from drills.bridge import document_of
from drills.choices import DrillState
from drills.models import Drill
from drills.validators import check_note, check_ready_for_review


@action
def send_for_review(*, actor: Actor, public_id: UUID | str) -> Drill:
    """Show a draft to the whole staff. Raises Refused with what another coach would miss."""
    drill = _editable(actor, public_id)
    if drill.state != DrillState.DRAFT:
        raise Refused(_("Only a draft is sent for review."))
    assert drill.current_revision is not None
    check_ready_for_review(document_of(drill.current_revision))
    return _moved(drill, DrillState.FOR_REVIEW)


@action
def approve_drill(*, actor: Actor, public_id: UUID | str, note: str = "") -> Drill:
    """Make a drill the club's standard. The director's word."""
    drill = _directors(actor, public_id)
    if drill.state != DrillState.FOR_REVIEW:
        raise Refused(_("Only a drill that was sent for review can become the club's standard."))
    return _moved(drill, DrillState.CLUB_STANDARD, note)


@action
def return_to_draft(*, actor: Actor, public_id: UUID | str, note: str = "") -> Drill:
    """Give a drill back to its writer, with a word why. The director, or the writer who takes it back."""
    drill = _editable(actor, public_id)
    if drill.state == DrillState.DRAFT:
        raise Refused(_("This is a draft already."))
    return _moved(drill, DrillState.DRAFT, note)


@action
def retire_drill(*, actor: Actor, public_id: UUID | str) -> Drill:
    """Take a drill off the shelf. It stays in the sessions that used it, and can be put back."""
    seen = access.readable(actor, public_id)
    drill = locked(seen)
    if not access.may_retire(actor, seen if drill.retired_at else drill):
        raise PermissionDenied
    if drill.retired_at is not None:
        return drill
    drill.retired_at = timezone.now()
    drill.version += 1
    drill.save()
    return drill


@action
def unretire_drill(*, actor: Actor, public_id: UUID | str) -> Drill:
    """Put a retired drill back on the shelf."""
    drill = locked(access.readable(actor, public_id))
    if not (actor.is_director or drill.owner_id == actor.user_id):
        raise PermissionDenied
    if drill.retired_at is not None:
        drill.retired_at = None
        drill.version += 1
        drill.save()
    return drill


def _directors(actor: Actor, public_id: UUID | str) -> Drill:
    drill = access.readable(actor, public_id)
    if not actor.is_director:
        raise PermissionDenied
    return locked(drill)


def _editable(actor: Actor, public_id: UUID | str) -> Drill:
    """Asked again once the row is held: somebody may have retired it, or made it the club's standard."""
    drill = locked(access.editable(actor, public_id))
    if not access.may_edit(actor, drill):
        raise Http404
    return drill


def _moved(drill: Drill, state: DrillState, note: str = "") -> Drill:
    drill.state = state
    drill.state_note = check_note(note)
    drill.sent_at = timezone.now() if state == DrillState.FOR_REVIEW else None
    drill.version += 1
    drill.save()
    return drill
