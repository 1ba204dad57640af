"""Show one drill to somebody without an account: a secret link that expires and can be taken back."""

import secrets
from datetime import timedelta
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.db.models import Q
from django.http import Http404
from django.utils import timezone
from django.utils.translation import gettext as _

from club import queries as club
from club.actions import action, lock_rows
from club.actor import Actor
from club.errors import Refused
from drills import access
from drills.actions.write import locked
from drills.models import ShareLink
from drills.validators import check_days

MOST_LINKS = 20  # that are open at the same time, per drill


@action
def share_drill(*, actor: Actor, public_id: UUID | str, days: str) -> str:
    """Make a link and return its secret, which is kept nowhere. Its writer or the director, not for a retired drill."""
    drill = locked(access.readable(actor, public_id))  # links are counted and made by one at a time
    if not access.may_share(actor, drill):
        raise PermissionDenied
    lasts = timedelta(days=check_days(days))
    if drill.share_links.filter(revoked_at=None, expires_at__gt=timezone.now()).count() >= MOST_LINKS:
        raise Refused(_("There are {n} links already. Delete one first.").format(n=MOST_LINKS))
    secret = secrets.token_urlsafe(32)
    ShareLink.objects.create(
        drill=drill,
        secret_hash=club.hash_secret(secret),
        made_by_id=actor.user_id,
        expires_at=timezone.now() + lasts,
    )
    return secret


@action
def take_back_link(*, actor: Actor, public_id: UUID | str, link_id: UUID | str) -> ShareLink:
    """End a link now. Taking it back twice changes nothing."""
    drill = access.readable(actor, public_id)
    if not (actor.is_director or drill.owner_id == actor.user_id):
        raise PermissionDenied
    link = next(iter(lock_rows(drill.share_links.filter(public_id=link_id))), None)
    if link is None:
        raise Http404
    if link.revoked_at is None:
        link.revoked_at = timezone.now()
        link.save()
    return link


def forget_links() -> int:
    """Delete links that open nothing any more. The number deleted."""
    over = Q(expires_at__lt=timezone.now()) | Q(revoked_at__isnull=False)
    return ShareLink.objects.filter(over).delete()[0]
