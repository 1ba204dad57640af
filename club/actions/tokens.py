"""Tokens for the API: many per person, shown once, kept as a hash."""

from datetime import timedelta
from typing import Any

from django.utils.translation import gettext as _
from knox.models import get_token_model

from club.actions.conflicts import action, lock_row
from club.errors import Refused
from club.models import User

MOST_TOKENS = 20


@action
def make_token(*, user_id: int, days: int | None = None) -> str:
    """Make a token and return it; `days` is how long it lasts, None for until it is ended."""
    tokens: Any = get_token_model()
    owner = lock_row(User, user_id)  # counted and made by one at a time
    if tokens.objects.filter(user_id=user_id).count() >= MOST_TOKENS:
        words = _("You have %(n)d tokens. Delete one that nobody uses any more.")
        raise Refused(words % {"n": MOST_TOKENS})
    expiry = timedelta(days=days) if days else None
    _row, token = tokens.objects.create(user=owner, expiry=expiry)
    return str(token)


@action
def end_token(*, user_id: int, beginning: str) -> bool:
    """End the token of this person that begins so; False when there is none."""
    tokens: Any = get_token_model()
    ended, _ = tokens.objects.filter(user_id=user_id, token_key=beginning).delete()
    return bool(ended)


@action
def end_tokens(*, user_id: int) -> None:
    """End all tokens of somebody who leaves."""
    tokens: Any = get_token_model()
    tokens.objects.filter(user_id=user_id).delete()
