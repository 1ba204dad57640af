"""Ways into a freshly started installation: links for the demo's staff, or for the first administrator."""

from collections.abc import Iterator
from typing import Any

from django.conf import settings

from club import lasting
from club.actions.links import make_link, make_sign_in_link
from club.choices import LinkKind
from club.queries.people import administrator_exists, user_by_email
from club.queries.settings import club_settings

DEMO_STAFF = {
    "director": "director@demo.example",
    "coach (U12)": "coach@demo.example",
    "helper": "helper@demo.example",
    "reader": "reader@demo.example",
}


def is_empty() -> bool:
    """Tell whether no club has been set up in this database yet."""
    return club_settings()._state.adding and not administrator_exists()


def sign_in_link(user: Any) -> str:
    """Return a full address that signs this person in once."""
    return settings.SITE_URL + make_sign_in_link(user=user)


def way_in() -> Iterator[str]:
    """Yield lines for the terminal: one link per role of the demo club, one for a first administrator."""
    if club_settings().is_demo:
        yield f"Sign in to the demo club (each link works once, within {lasts(LinkKind.SIGN_IN)}):"
        for role, email in DEMO_STAFF.items():
            user = user_by_email(email)
            if user is not None:
                yield f"  {role:<12} {sign_in_link(user)}"
    if not administrator_exists():
        yield f"Become the first administrator (works once, within {lasts(LinkKind.SET_UP)}):"
        yield f"  {'set up':<12} {set_up_link()}"


def lasts(kind: LinkKind) -> str:
    """Say how long a link of this kind works."""
    return lasting.in_words(lasting.LINKS[kind])


def set_up_link() -> str:
    """Return a full address that makes whoever opens it first the administrator."""
    return f"{settings.SITE_URL}/set-up/{make_link(kind=LinkKind.SET_UP)}/"
