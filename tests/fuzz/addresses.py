"""Every address of the installation, found by walking the URL resolver, with things of the demo club in its places."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.apps import apps
from django.urls import URLPattern, URLResolver, get_resolver

# The longest beginning that fits says what `public_id` names.
THINGS = {
    "club/seasons/": "club.Season",
    "club/age-groups/": "club.AgeGroup",
    "club/blocks/": "club.Block",
    "club/pitches/": "club.Pitch",
    "club/zones/": "club.Zone",
    "club/themes/": "club.Theme",
    "club/guidelines/": "club.Guideline",
    "club/staff/invitations/": "club.OneTimeLink",
    "club/staff/roles/": "club.StaffRole",
    "club/staff/": "club.User",
    "squads/players/": "club.Player",
    "squads/left/": "club.Player",
    "squads/": "club.Squad",
    "library/": "drills.Drill",
    "sessions/block/": "club.Block",
    "sessions/orders/": "training.PartOrder",
    "sessions/slots/": "training.Slot",
    "sessions/squads/": "club.Squad",
    "sessions/calendar/teams/": "club.Squad",
    "sessions/calendar/pitches/": "club.Pitch",
    "sessions/": "training.TrainingSession",
    "api/v1/age-groups/": "club.AgeGroup",
    "api/v1/squads/": "club.Squad",
    "api/v1/drills/": "drills.Drill",
    "api/v1/players/": "club.Player",
    "api/v1/proposals/": "training.Computation",
    "api/v1/sessions/": "training.TrainingSession",
    "api/v1/slots/": "training.Slot",
}
BESIDE = {
    "station_id": "training.Station",
    "part_id": "training.Part",
    "proposal_id": "training.Computation",
    "entry_id": "training.LedgerEntry",
    "note_id": "drills.UseNote",
    "link_id": "drills.ShareLink",
    "session_link_id": "training.SessionLink",
    "calendar_link_id": "training.CalendarLink",
    "fixture_id": "training.Fixture",
    "closed_id": "training.ClosedDays",
    "video_id": "drills.Video",
    "sketch_id": "drills.DrillSketch",
    "group_id": "club.AgeGroup",
    "squad_id": "club.Squad",
    "theme_id": "club.Theme",
}
WORDS = {
    "number": "1",
    "secret": "used-before",
    "beginning": "abc",
    "sha256": "0" * 64,
    "iso_week": "2026-W48",
    "key": "x",
    "uidb36": "1",
}
WAYS_IN = (
    *("/enter/", "/invited/", "/set-up/", "/library/shared/", "/sessions/shared/", "/sessions/at/"),
    "/calendar/",
    *("/accounts/login/", "/accounts/signup/", "/accounts/password/reset/", "/accounts/2fa/authenticate/"),
)
SPOT = re.compile(r"<(?:\w+:)?(\w+)>|\(\?P<(\w+)>[^)]*\)")


@dataclass(frozen=True)
class Address:
    """`pattern` as it stands in the resolver; `path` with the demo club's things in its places."""

    name: str
    pattern: str
    path: str
    callback: Any

    @property
    def is_api(self) -> bool:
        return self.path.startswith("/api/")

    @property
    def for_nobody(self) -> bool:
        """Whether it is a way in, which sends whoever is signed in elsewhere."""
        return self.path.startswith(WAYS_IN)

    def oddly(self, part: str) -> str:
        """The path with something odd in each of its places."""
        return f"/{SPOT.sub(lambda _: part, _plain(self.pattern))}"

    def described(self) -> str:
        """The pattern as the API's description writes it, each place a star."""
        return f"/{SPOT.sub('*', _plain(self.pattern))}"


def addresses(things: dict[str, Any]) -> list[Address]:
    """All of them; `things` has the value for each name of a place where it is not the first in the table."""
    return list(_walk(get_resolver(), "", "", things))


def _walk(resolver: URLResolver, path: str, space: str, things: dict[str, Any]) -> Iterator[Address]:
    for entry in resolver.url_patterns:
        pattern = path + str(entry.pattern)
        if isinstance(entry, URLResolver):
            yield from _walk(
                entry, pattern, f"{space}{entry.namespace}:" if entry.namespace else space, things
            )
        elif isinstance(entry, URLPattern):
            yield Address(f"{space}{entry.name}", pattern, f"/{_filled(pattern, things)}", entry.callback)


def _filled(pattern: str, things: dict[str, Any]) -> str:
    return SPOT.sub(lambda spot: _thing(spot[1] or spot[2], pattern, things), _plain(pattern))


def _plain(pattern: str) -> str:
    return pattern.replace("^", "").replace("$", "").replace("\\Z", "")


def _thing(name: str, pattern: str, things: dict[str, Any]) -> str:
    if name in WORDS:
        return next((things[each] for each in things if pattern.startswith(each)), WORDS[name])
    if name in BESIDE:
        return things.get(name) or first(BESIDE[name])
    model = next(THINGS[each] for each in sorted(THINGS, key=len, reverse=True) if pattern.startswith(each))
    return things.get(model) or first(model)


def first(model: str) -> str:
    """The outer id of the first row of a table; one that names nothing where there is none."""
    row = apps.get_model(model).objects.order_by("pk").first()
    return str(row.public_id) if row else "00000000-0000-4000-8000-000000000000"
