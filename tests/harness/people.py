"""Letting somebody of the demo club into a browser without the way through a link, which has tests of its own."""

from typing import Any


def signed_in(context: Any, site: Any, email: str, *, scheme: str = "light") -> None:
    """Give a browser context this person's session and a colour scheme; an empty address is nobody."""
    cookies = [{"name": "scheme", "value": scheme, "url": site.url}]
    if email:
        cookies.append({"name": "bibrack_session", "value": session_key(email), "url": site.url})
    context.add_cookies(cookies)


def session_key(email: str) -> str:
    """A new session of this account."""
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
    from django.contrib.sessions.backends.db import SessionStore

    from club.models import User

    user = User.objects.get(email=email)
    store = SessionStore()
    store[SESSION_KEY] = str(user.pk)
    store[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    store[HASH_SESSION_KEY] = user.get_session_auth_hash()
    store.save()
    return str(store.session_key)
