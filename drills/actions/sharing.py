"""Show one drill to somebody without an account: a secret link that expires and can be taken back."""

from uuid import UUID

from django.core.exceptions import PermissionDenied

from club import actions as club
from club.actions import action
from club.actor import Actor
from drills import access
from drills.actions.write import locked
from drills.models import ShareLink
from drills.validators import SHARED_FOR_DAYS


@action
def share_drill(*, actor: Actor, public_id: UUID | str, days: str) -> str:
    """Make a link and return its secret, which is kept nowhere. Its writer or the director, not for a retired drill."""
    drill = locked(access.readable(actor, public_id))  # links are counted and made by one at a time
    if not access.may_share(actor, drill):
        raise PermissionDenied
    shows = {"drill": drill}
    return club.open_link(
        actor=actor, links=drill.share_links.all(), shows=shows, days=days, offered=SHARED_FOR_DAYS
    )


@action
def take_back_link(*, actor: Actor, public_id: UUID | str, link_id: UUID | str) -> ShareLink:
    """End a link now. Taking it back twice changes nothing."""
    drill = access.readable(actor, public_id)
    if not (actor.is_director or drill.owner_id == actor.user_id):
        raise PermissionDenied
    return club.close_link(links=drill.share_links.all(), link_id=link_id)


def forget_links() -> int:
    """Delete links that open nothing any more. The number deleted."""
    return club.delete_closed(ShareLink.objects.all())
