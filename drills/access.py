"""Who may do what with which drill: the object, or a 404 that says nothing about it."""

from uuid import UUID

from django.http import Http404

from club.actor import Actor
from drills.models import Drill, DrillSketch, Video
from drills.queries.found import readable
from drills.queries.sketches import sketches_allowed, sketches_seen
from drills.queries.videos import video_of

__all__ = [
    "editable",
    "may_add_sketch",
    "may_edit",
    "may_retire",
    "may_share",
    "may_write",
    "readable",
    "sketch",
    "sketch_with_picture",
    "video_of",
    "video_to_stop",
    "with_sketches",
]


def editable(actor: Actor, public_id: UUID | str) -> Drill:
    """A drill that this person may change. Raises Http404, also where it may be read only."""
    drill = readable(actor, public_id)
    if not may_edit(actor, drill):
        raise Http404
    return drill


def may_write(actor: Actor) -> bool:
    """Coaches and directors write and adapt drills."""
    return actor.is_director or actor.is_coach


def may_edit(actor: Actor, drill: Drill) -> bool:
    """The director always; its owner until the club has made it its standard. Nobody what is retired."""
    return drill.may_be_edited_by(actor)


def may_retire(actor: Actor, drill: Drill) -> bool:
    """Whoever may edit it; the director also takes retired ones back."""
    return actor.is_director or may_edit(actor, drill)


def may_share(actor: Actor, drill: Drill) -> bool:
    """Its writer or the director show a drill to people without an account; nobody a retired one."""
    owns = actor.is_coach and drill.owner_id is not None and drill.owner_id == actor.user_id
    return drill.retired_at is None and (actor.is_director or owns)


def video_to_stop(actor: Actor, drill: Drill, public_id: UUID | str) -> Video:
    """A video of a drill that this person asked for. Raises Http404."""
    row = video_of(drill, public_id)
    if row.asked_by_id != actor.user_id:
        raise Http404
    return row


def with_sketches(actor: Actor, public_id: UUID | str) -> Drill:
    """A drill beside which this person may see photos. Raises Http404, also where the club has switched them off."""
    if not sketches_allowed():
        raise Http404
    return readable(actor, public_id)


def may_add_sketch(actor: Actor, drill: Drill) -> bool:
    """Coaches and directors, beside any drill that they may read; nobody beside a retired one."""
    return drill.retired_at is None and may_write(actor)


def sketch(actor: Actor, drill: Drill, sketch_id: UUID | str) -> DrillSketch:
    """A photo that this person sees beside a drill. Raises Http404."""
    found = sketches_seen(actor, drill).filter(public_id=sketch_id).first()
    if found is None:
        raise Http404
    return found


def sketch_with_picture(actor: Actor, public_id: UUID | str, sha256: str) -> DrillSketch:
    """The same by the picture's own name, with its bytes. Raises Http404."""
    drill = with_sketches(actor, public_id)
    found = sketches_seen(actor, drill).select_related("attachment").filter(attachment__sha256=sha256).first()
    if found is None:
        raise Http404
    return found
