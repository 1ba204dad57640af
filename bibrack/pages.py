"""What pages show across the rooms: what every template may use, and home."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django.conf import settings
from django.http import HttpRequest
from django.utils import timezone
from django.utils.functional import SimpleLazyObject

from bibrack.demo import library
from bibrack.demo.words import THEMES
from club import lasting, queries
from club import pages as club_pages
from club.actor import Actor
from drills import queries as drills
from sessions import pages as training

LATE_AFTER = timedelta(minutes=10)  # the whole library takes a worker one or two
SCHEMES = ("auto", "light", "dark", "sun")


@dataclass(frozen=True)
class WorkingOut:
    """How many drills of how many can be found by players and space; `is_late` where the job should be done by now."""

    done: int
    drills: int
    is_late: bool


@dataclass(frozen=True)
class OurLibrary:
    """How much of it there is."""

    drills: int
    ready: int
    themes: int


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
        lists |= {"drills": drills.first_drill(), "bare": drills.first_bare_drill()}
        if drills.sketches_allowed():
            lists["sketches"] = drills.sketch_rows(actor)
    read = queries.at_once(actor, lists)
    return {
        "home": training.home(actor, read),
        "for_review": drills.reviews_in(read.get("reviews", [])),
        "sketches_waiting": drills.sketches_in(read.get("sketches", [])),
        "needs": _needs(read) if actor.is_director else [],
        "working_out": working_out() if read.get("bare") else None,
        "our_library": our_library() if actor.is_director and not read["drills"] else None,
    }


def working_out() -> WorkingOut | None:
    """How far the job is; None once every drill is worked out. One query."""
    bare, every, since = drills.bare_drills()
    late = since is not None and timezone.now() - since > LATE_AFTER
    return WorkingOut(every - bare, every, late) if bare else None


def our_library() -> OurLibrary:
    """What an empty library can begin with. No query."""
    return OurLibrary(
        drills=len(list(library.FOLDER.glob("*.json"))),
        ready=sum(1 for _each in library.ready_sessions()),
        themes=len(THEMES),
    )


def _needs(read: Mapping[str, queries.Rows]) -> list[club_pages.StaffNeed]:
    """What only the director can mend: dates of staff that run out, gaps in what an emergency asks for. No query beside the settings."""
    dates = club_pages.date_needs(queries.running_out(queries.working_in(read["roles"])))
    return [*dates, *club_pages.emergency_needs(queries.emergency_unsaid(read["pitches"]))]
