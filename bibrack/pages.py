"""What pages show across the rooms: what every template may use, and home."""

from typing import Any

from django.conf import settings
from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject

from club import lasting, queries
from club import pages as club_pages
from club.actor import Actor
from drills import queries as drills
from sessions import pages as training

SCHEMES = ("auto", "light", "dark", "sun")


def everywhere(request: HttpRequest) -> dict[str, Any]:
    """The club's name, who is asking, the colour scheme: lazy, so that a page which shows none of it asks nothing."""
    chosen = request.COOKIES.get("scheme", "auto")
    return {
        "club": SimpleLazyObject(queries.club_settings),
        "actor": getattr(request, "actor", None),
        "lasting": SimpleLazyObject(lasting.for_pages),
        "mail_is_set": settings.MAIL_IS_SET,
        "scheme": chosen if chosen in SCHEMES else "auto",
    }


def tonight(actor: Actor) -> dict[str, Any]:
    """What is next for this person, and what waits for them."""
    return {
        "home": training.home(actor),
        "for_review": drills.waiting_for_review(actor) if actor.is_director else drills.Reviews(),
        "needs": _needs() if actor.is_director else [],
    }


def _needs() -> list[club_pages.StaffNeed]:
    """What only the director can mend: dates of staff that run out, gaps in what an emergency asks for. Two queries beside the settings."""
    dates = club_pages.date_needs(queries.running_out(queries.working_with_checks()))
    return [*dates, *club_pages.emergency_needs(queries.emergency_unsaid())]
