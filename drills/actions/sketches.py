"""Photos of a board beside a drill: add, approve, remove. What is saved is our own re-encoded picture, never what was sent."""

import hashlib
from typing import Any
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.core.files.base import File
from django.utils.translation import gettext as _

from club.actions import action, lock_name
from club.actor import Actor
from club.errors import Refused
from drills import access
from drills.actions.write import locked
from drills.choices import MOST_SKETCHES, SketchState
from drills.models import Attachment, Drill, DrillSketch
from drills.photos import Photo
from drills.validators import check_caption, check_photo


def add_sketch(
    *, actor: Actor, public_id: UUID | str, sent: "File[Any] | None", caption: str = ""
) -> DrillSketch:
    """Put a photo beside a drill; it waits for the director, whose own does not. Raises Refused.

    It is read before the transaction begins: that takes up to seconds, and locks nothing.
    """
    _may_add(actor, access.with_sketches(actor, public_id))
    said = check_caption(caption)
    return _added(actor=actor, public_id=public_id, photo=check_photo(sent), caption=said)


@action
def _added(*, actor: Actor, public_id: UUID | str, photo: Photo, caption: str) -> DrillSketch:
    drill = locked(access.with_sketches(actor, public_id))  # photos are counted and added by one at a time
    _may_add(actor, drill)
    there = set(drill.sketches.values_list("position", flat=True))
    free = [place for place in range(MOST_SKETCHES) if place not in there]
    if not free:
        text = _("There are {n} photos already. Remove one first.").format(n=MOST_SKETCHES)
        raise Refused(text, "photo")
    attachment = _attachment(photo)
    if drill.sketches.filter(attachment=attachment).exists():
        raise Refused(_("This photo is beside the drill already."), "photo")
    return DrillSketch.objects.create(
        drill=drill,
        attachment=attachment,
        state=SketchState.APPROVED if actor.is_director else SketchState.WAITING,
        position=free[0],
        caption=caption,
        added_by_id=actor.user_id,
    )


@action
def approve_sketch(*, actor: Actor, public_id: UUID | str, sketch_id: UUID | str) -> DrillSketch:
    """Show a photo to everybody who reads the drill. The director's word; twice changes nothing."""
    drill = access.with_sketches(actor, public_id)
    if not actor.is_director:
        raise PermissionDenied
    locked(drill)
    sketch = access.sketch(actor, drill, sketch_id)
    sketch.state = SketchState.APPROVED
    sketch.save(update_fields=["state"])
    return sketch


@action
def remove_sketch(*, actor: Actor, public_id: UUID | str, sketch_id: UUID | str) -> None:
    """Delete a photo for good, its bytes too where no other drill has them: who added it, or the director."""
    drill = access.with_sketches(actor, public_id)
    locked(drill)
    sketch = access.sketch(actor, drill, sketch_id)
    if not (actor.is_director or sketch.added_by_id == actor.user_id):
        raise PermissionDenied
    picture = Attachment.objects.only("sha256").get(pk=sketch.attachment_id)
    _lock_picture(picture.sha256)
    sketch.delete()
    Attachment.objects.filter(pk=picture.pk, sketches=None).delete()


def _may_add(actor: Actor, drill: Drill) -> None:
    if not access.may_add_sketch(actor, drill):
        raise PermissionDenied


def _attachment(photo: Photo) -> Attachment:
    """The row of these bytes; it can't be deleted until the transaction ends."""
    sha256 = hashlib.sha256(photo.data).hexdigest()
    _lock_picture(sha256)
    values = {"data": photo.data, "width_px": photo.width_px, "height_px": photo.height_px}
    return Attachment.objects.get_or_create(sha256=sha256, defaults=values)[0]


def _lock_picture(sha256: str) -> None:
    """One at a time adds or removes the last use of the same picture, beside whichever drill."""
    lock_name(f"attachment {sha256}")
