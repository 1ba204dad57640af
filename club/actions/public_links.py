"""Links that show one thing to people without an account: made, ended, and deleted once they open nothing."""

import secrets
from collections.abc import Mapping, Sequence
from datetime import timedelta
from typing import Any, TypeVar
from uuid import UUID

from django.db.models import Q, QuerySet
from django.http import Http404
from django.utils import timezone
from django.utils.translation import gettext as _

from club import reading
from club.actions.conflicts import action, lock_rows
from club.actor import Actor
from club.errors import Refused
from club.models.base import PublicLink
from club.queries.people import hash_secret
from club.queries.public_links import still_open

MOST_LINKS = 20  # that are open at the same time, to one thing

Link = TypeVar("Link", bound=PublicLink)


@action
def open_link(
    *, actor: Actor, links: QuerySet[Link], shows: Mapping[str, Any], days: str, offered: Sequence[int]
) -> str:
    """Make one more of the links and return its secret, which is kept nowhere.

    `links` are those of the thing that `shows` names by its field, with whatever else is set of the link; the caller has locked that row, since they are counted.
    Raises Refused for other days than are offered, and where too many are open.
    """
    lasts = reading.whole(days)
    if lasts is None or lasts not in offered:
        raise Refused(_("Choose one of the list."), "days")
    if still_open(links).count() >= MOST_LINKS:
        raise Refused(_("There are {n} links already. Delete one first.").format(n=MOST_LINKS))
    secret = secrets.token_urlsafe(32)
    links.create(
        **shows,
        secret_hash=hash_secret(secret),
        made_by_id=actor.user_id,
        expires_at=timezone.now() + timedelta(days=lasts),
    )
    return secret


@action
def close_link(*, links: QuerySet[Link], link_id: UUID | str) -> Link:
    """End a link of these now. Doing it twice changes nothing. Raises Http404."""
    link = next(iter(lock_rows(links.filter(public_id=link_id))), None)
    if link is None:
        raise Http404
    if link.revoked_at is None:
        link.revoked_at = timezone.now()
        link.save(update_fields=["revoked_at"])
    return link


def delete_closed(links: QuerySet[Link]) -> int:
    """Delete those of the links that open nothing any more. The number deleted."""
    over = Q(expires_at__lt=timezone.now()) | Q(revoked_at__isnull=False)
    return links.filter(over).delete()[0]
