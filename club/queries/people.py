"""People and their roles."""

import hashlib
from typing import Any

from django.utils import timezone

from club.actor import NOBODY, Actor
from club.choices import LinkKind, Role
from club.models import OneTimeLink, StaffRole, User
from club.queries.settings import today


def actor_of(user: Any) -> Actor:
    """What this account may do on the club's date of today. One query; none for somebody who isn't signed in."""
    if user is None or not user.is_authenticated or not user.is_active:
        return NOBODY
    roles = list(
        StaffRole.objects.filter(user_id=user.pk, period__contains=today()).values_list(
            "role", "age_group_id"
        )
    )
    return Actor(
        user_id=user.pk,
        account=str(user.public_id),
        name=user.name,
        email=user.email,
        pace_m=float(user.pace_m) if user.pace_m is not None else None,
        is_administrator=user.is_superuser,
        is_director=any(role == Role.DIRECTOR for role, _ in roles),
        is_reader=any(role == Role.READER for role, _ in roles),
        coach_of=frozenset(group for role, group in roles if role == Role.COACH),
        helper_of=frozenset(group for role, group in roles if role == Role.HELPER),
    )


def user_by_email(email: str) -> User | None:
    """The account with this address, whatever its capitals."""
    return User.objects.filter(email__iexact=email.strip()).first()


def hash_secret(secret: str) -> str:
    """How a link's secret is kept: SHA-256 is enough for 256 random bits."""
    return hashlib.sha256(secret.encode()).hexdigest()


def link_for(secret: str, *, kind: LinkKind) -> OneTimeLink | None:
    """A one-time link that still works, by its secret."""
    return (
        OneTimeLink.objects.select_related("user", "age_group")
        .filter(
            secret_hash=hash_secret(secret), kind=kind, used_at__isnull=True, expires_at__gt=timezone.now()
        )
        .first()
    )


def own_account(actor: Actor) -> User:
    """The account of whoever is asking."""
    return User.objects.get(pk=actor.user_id)


def administrator_exists() -> bool:
    """Tell whether anybody can invite others yet."""
    return User.objects.filter(is_superuser=True, is_active=True).exists()
