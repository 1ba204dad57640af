"""Show a session's parts to somebody without an account: a secret link that expires and can be deleted."""

from uuid import UUID

from django.utils.translation import gettext as _

from club import actions as club
from club.actions import action, lock_row
from club.actor import Actor
from club.errors import Refused
from sessions.models import SessionLink, TrainingSession

SHARED_FOR_DAYS = (7, 30)


@action
def share_session(*, actor: Actor, session: TrainingSession, days: str) -> str:
    """Make a link and return its secret, which is kept nowhere. Raises Refused where there is nothing to show."""
    row = lock_row(TrainingSession, session.pk)  # links are counted and made by one at a time
    if not row.parts.exists():
        raise Refused(_("There are no parts yet. Add one first, then share it."))
    shows = {"session": row}
    return club.open_link(
        actor=actor, links=row.share_links.all(), shows=shows, days=days, offered=SHARED_FOR_DAYS
    )


@action
def end_session_link(*, session: TrainingSession, link_id: UUID | str) -> SessionLink:
    """Delete a link to this session: from now on it opens nothing. Raises Http404."""
    return club.close_link(links=session.share_links.all(), link_id=link_id)


def forget_session_links() -> int:
    """Delete links that open nothing any more. The number deleted."""
    return club.delete_closed(SessionLink.objects.all())
