"""Who may do what with which drill: the object, or a 404 that says nothing about it."""

from uuid import UUID

from django.http import Http404

from club.actor import Actor
from drills.models import Drill, Video
from drills.queries.found import readable
from drills.queries.videos import video_of

__all__ = [
    "editable",
    "may_edit",
    "may_retire",
    "may_share",
    "may_write",
    "readable",
    "video_of",
    "video_to_stop",
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
