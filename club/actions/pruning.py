"""What is kept for a while only: it goes when its time is over, or when the person goes."""

from datetime import timedelta
from typing import Any

from django.conf import settings
from django.contrib.sessions.models import Session
from django.db import connection
from django.db.models import Q, QuerySet
from django.utils import timezone
from knox.models import get_token_model

from club.actions.requests import KEPT_FOR
from club.choices import READS_KEPT_DAYS
from club.models import AccessLog, IdempotencyRecord, OneTimeLink, PlayerOut, User


def prune() -> int:
    """Delete what has run out. The number of rows. Each kind by itself, so that one that fails holds up no other for long."""
    now = timezone.now()
    tokens: Any = get_token_model()
    over: tuple[QuerySet[Any], ...] = (
        Session.objects.filter(expire_date__lt=now),
        OneTimeLink.objects.filter(Q(used_at__isnull=False) | Q(expires_at__lt=now)),
        tokens.objects.filter(expiry__lt=now),
        IdempotencyRecord.objects.filter(at__lt=now - KEPT_FOR),
        AccessLog.objects.filter(at__lt=now - timedelta(days=READS_KEPT_DAYS)),
        PlayerOut.objects.filter(lifted_at__lt=now - timedelta(days=READS_KEPT_DAYS)),
    )
    return sum(rows.delete()[0] for rows in over) + _prune_cache()


def _prune_cache() -> int:
    """The cache throws expired rows away only when it is full, and what is counted in it names nobody."""
    table = connection.ops.quote_name(str(settings.CACHES["default"]["LOCATION"]))
    with connection.cursor() as cursor:
        cursor.execute(f"DELETE FROM {table} WHERE expires < %s", [timezone.now()])
        return cursor.rowcount


def end_sessions(*, user: User) -> int:
    """Sign somebody out everywhere; what was begun with their address, such as a sign-in half-way, goes too."""
    ended = [row.pk for row in Session.objects.iterator() if _belongs_to(row.get_decoded(), user)]
    return Session.objects.filter(pk__in=ended).delete()[0]


def _belongs_to(facts: dict[str, Any], user: User) -> bool:
    owner = facts.get("_auth_user_id")
    return owner == str(user.pk) if owner else user.email.lower() in str(facts).lower()
