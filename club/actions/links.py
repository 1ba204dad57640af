"""One-time links: to sign in, to accept an invitation, to become the first administrator."""

import secrets

from django.utils import timezone
from django.utils.translation import gettext as _

from club import lasting
from club.actions.conflicts import action, lock_rows
from club.actor import Actor
from club.choices import LinkKind
from club.errors import Refused
from club.models import AgeGroup, OneTimeLink, User
from club.queries.people import hash_secret


@action
def make_link(
    *,
    kind: LinkKind,
    user: User | None = None,
    email: str = "",
    role: str = "",
    age_group: AgeGroup | None = None,
    made_by_id: int | None = None,
) -> str:
    """Make a one-time link and return its secret, which is kept nowhere."""
    secret = secrets.token_urlsafe(32)
    OneTimeLink.objects.create(
        kind=kind,
        secret_hash=hash_secret(secret),
        user=user,
        email=email.strip().lower(),
        role=role,
        age_group=age_group,
        made_by_id=made_by_id,
        expires_at=timezone.now() + lasting.LINKS[kind],
    )
    return secret


def make_sign_in_link(*, user: User, made_by_id: int | None = None) -> str:
    """The path of a link that signs this person in once, for as long as `lasting.LINKS` says."""
    return f"/enter/{make_link(kind=LinkKind.SIGN_IN, user=user, made_by_id=made_by_id)}/"


def hand_out_sign_in_link(*, actor: Actor, user: User) -> str:
    """The same for a colleague who can't sign in; an administrator's is for administrators alone to make."""
    if user.is_superuser and not actor.is_administrator:
        raise Refused(_("Only an administrator makes a link for an administrator."))
    return make_sign_in_link(user=user, made_by_id=actor.user_id)


@action
def use_link(*, secret: str, kind: LinkKind) -> OneTimeLink:
    """Spend a link: it works once, also when it is opened twice at the same moment."""
    link = next(iter(lock_rows(OneTimeLink.objects.filter(secret_hash=hash_secret(secret), kind=kind))), None)
    if link is None or link.used_at is not None or link.expires_at <= timezone.now():
        raise Refused(_("This link has been used or has expired. Ask for a new one."))
    link.used_at = timezone.now()
    link.save(update_fields=["used_at"])
    return link
