"""Drills that a person wants at hand."""

from uuid import UUID

from club.actions import action
from club.actor import Actor
from drills import access
from drills.models import Drill, Favourite


@action
def set_favourite(*, actor: Actor, public_id: UUID | str, favourite: bool) -> Drill:
    """Put a drill among those that this person wants at hand, or take it away from there."""
    drill = access.readable(actor, public_id)
    mine = Favourite.objects.filter(user_id=actor.user_id, drill=drill)
    if favourite:
        Favourite.objects.get_or_create(user_id=actor.user_id, drill=drill)
    else:
        mine.delete()
    return drill
