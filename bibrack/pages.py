"""What pages show across the rooms: what every template may use, and home."""

from collections.abc import Mapping
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
    lists = training.home_lists(actor)
    if actor.is_director:
        lists |= {"reviews": drills.review_rows(actor), "pitches": queries.pitch_rows()}
        if drills.sketches_allowed():
            lists["sketches"] = drills.sketch_rows(actor)
    read = queries.at_once(actor, lists)
    return {
        "home": training.home(actor, read),
        "for_review": drills.reviews_in(read.get("reviews", [])),
        "sketches_waiting": drills.sketches_in(read.get("sketches", [])),
        "needs": _needs(read) if actor.is_director else [],
    }


def _needs(read: Mapping[str, queries.Rows]) -> list[club_pages.StaffNeed]:
    """What only the director can mend: dates of staff that run out, gaps in what an emergency asks for. No query beside the settings."""
    dates = club_pages.date_needs(queries.running_out(queries.working_in(read["roles"])))
    return [*dates, *club_pages.emergency_needs(queries.emergency_unsaid(read["pitches"]))]
