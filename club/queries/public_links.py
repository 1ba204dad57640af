"""Links that show one thing to people without an account: which are open, and how often one was opened."""

from dataclasses import dataclass
from datetime import datetime
from typing import TypeVar
from uuid import UUID

from django.core.cache import cache
from django.db.models import QuerySet
from django.utils import timezone

from club.models.base import PublicLink
from club.queries.people import hash_secret

SHOWN_PER_MINUTE = 60

Link = TypeVar("Link", bound=PublicLink)


@dataclass(frozen=True)
class LinkRow:
    """A link that is open; `made_by` is empty where that person has been erased."""

    public_id: UUID
    made_at: datetime
    expires_at: datetime
    made_by: str


def still_open(links: QuerySet[Link]) -> QuerySet[Link]:
    """Those of the links that open something now."""
    return links.filter(revoked_at=None, expires_at__gt=timezone.now())


def link_rows(links: QuerySet[Link]) -> list[LinkRow]:
    """Those of the links that are open, newest first. One query."""
    return [
        LinkRow(each.public_id, each.made_at, each.expires_at, each.made_by.name if each.made_by else "")
        for each in still_open(links).select_related("made_by")
    ]


def link_with(links: QuerySet[Link], secret: str) -> Link | None:
    """The link of a secret, if it opens something now. One query."""
    return still_open(links).filter(secret_hash=hash_secret(secret)).first()


def asked_too_often(secret: str, *, most: int = SHOWN_PER_MINUTE) -> bool:
    """Whether a link was opened more than so many times within this minute, or what goes by another secret was done."""
    key = f"shared.{hash_secret(secret)[:32]}.{int(timezone.now().timestamp()) // 60}"
    if cache.add(key, 1, timeout=120):
        return False
    try:
        return cache.incr(key) > most
    except ValueError:  # swept away between the two
        return False
