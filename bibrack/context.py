"""What every template may use: the club's name, who is asking, and the colour scheme."""

from typing import Any

from django.conf import settings
from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject

from club import lasting, queries

SCHEMES = ("auto", "light", "dark", "sun")


def everywhere(request: HttpRequest) -> dict[str, Any]:
    """Lazy, so that a page which shows none of it asks nothing."""
    chosen = request.COOKIES.get("scheme", "auto")
    return {
        "club": SimpleLazyObject(queries.club_settings),
        "actor": getattr(request, "actor", None),
        "lasting": SimpleLazyObject(lasting.for_pages),
        "mail_is_set": settings.MAIL_IS_SET,
        "scheme": chosen if chosen in SCHEMES else "auto",
    }
