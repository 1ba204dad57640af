"""Every page and endpoint that is read, of a club at its smallest and of one at its largest: each answers."""

import re
from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from club.access import decision_of
from drills.game.format import MOST_PLAYERS
from sessions.models import TrainingSession
from sessions.pages.pitch.along import NEAR
from tests.extremes import Extreme, largest, smallest
from tests.people import signed_in

pytestmark = [pytest.mark.django_db, pytest.mark.sweep]

# What the id in an address names, by the beginning of the route's name; the longest beginning counts.
OF = {
    "drills:": "drill",
    "sessions:": "session",
    "sessions:slot": "slot",
    "sessions:end-slot": "slot",
    "sessions:squad": "squad",
    "sessions:add-entry": "squad",
    "sessions:drop-entry": "squad",
    "sessions:order-drop": "order",
    "sessions:calendar-team": "squad",
    "sessions:calendar-pitch": "pitch",
    "sessions:block": "block",
    "club:block": "block",
    "club:season": "season",
    "club:age-group": "age-group",
    "club:age-group-add": "season",
    "club:pitch": "pitch",
    "club:zone": "zone",
    "club:zone-add": "pitch",
    "club:theme": "theme",
    "club:guideline": "guideline",
    "club:squad": "squad",
    "club:squad-player": "player",
    "club:squad-players-add": "squad",
    "club:squads-left": "player",
    "club:role": "person",
    "club:role-end": "role",
    "club:withdraw": "person",
    "club:account": "person",
    "club:sign-in-link": "person",
    "api-drill": "drill",
    "api-fit": "drill",
    "api-checks": "drill",
    "api-drawing": "drill",
    "api-session": "session",
    "api-station": "session",
    "api-slot": "slot",
    "api-proposal": "proposal",
    "api-age-group": "age-group",
    "api-squad": "squad",
    "api-players": "squad",
    "api-player-out": "player",
    "club:staff-checks": "person",
    "api-attendance": "squad",
}
BESIDE = {
    "video_id": "video",
    "station_id": "station",
    "part_id": "part",
    "proposal_id": "proposal",
    "group_id": "age-group",
    "squad_id": "squad",
    "theme_id": "theme",
}
# The week that the club's sessions are in, whenever the tests are run.
_YEAR, _WEEK, _ = date.today().isocalendar()
GIVEN = {
    "iso_week": f"{_YEAR}-W{_WEEK:02}",
    "secret": "no-such-secret-there",
    "number": 1,
    "beginning": "none",
}
# Asked with the club's extremes as well as bare.
ASKED = ("drills:drill", "drills:list", "sessions:fit", "api-drills", "api-fit", "api-drawing")
# Read by nobody as they stand here: a link that is over, a file of what was not worked out, an answer that is waited for.
NOT_THERE = {
    "sessions:slot-again": {404},  # a slot whose last evening was never done
    "readyz": {503},  # no worker runs in tests
    "calendar": {404},
    "club:enter": {410},
    "club:invited": {410},
    "club:set-up": {410},
    "drills:shared": {404},
    "sessions:shared": {404},
    "sessions:at": {404},
    "sessions:at-run": {404},
    "sessions:at-phone": {404},
    "sessions:use": {404},  # asked bare: with which numbers?
    "api-drills-import": {403},
    "api-fit": {400},  # asked bare
    "api-attendance": {400},  # of which squad?
    "api-drills": {400},  # the library is searched for up to 40 players, and says so
    "api-session-plan-b": {400},
    "api-drill-favourite": {403, 405},
    "api-drill-note": {403, 405},
    "api-drill-link": {403, 405},
    "api-drill-sketch": {403, 405},
    "api-drill-sketch-approval": {403, 405},
    "api-drill-sketch-picture": {404},  # there is no photo
    "drills:sketch": {404},
    "sessions:pitch-fit": {400, 404},
    "sessions:pitch-setup": {400, 405},
}
TURNS = ("sessions:turns-pdf", "api-station-turns", "api-station-turns-sheet")


def our_routes() -> list[tuple[str, str]]:
    """Name and pattern of each route of our own."""
    return list(_walked(get_resolver(), "", ""))


def _walked(resolver: URLResolver, prefix: str, path: str) -> Iterator[tuple[str, str]]:
    for entry in resolver.url_patterns:
        here = f"{path}{entry.pattern}"
        if isinstance(entry, URLResolver):
            yield from _walked(entry, f"{prefix}{entry.namespace}:" if entry.namespace else prefix, here)
        elif isinstance(entry, URLPattern) and decision_of(entry.callback) is not None:
            yield f"{prefix}{entry.name}", here


def address(name: str, pattern: str, ids: dict[str, Any]) -> str:
    kwargs = {}
    for each in re.findall(r"<(?:\w+:)?(\w+)>", pattern):
        if each == "public_id":
            kwargs[each] = ids[OF[max((key for key in OF if name.startswith(key)), key=len)]]
        else:
            kwargs[each] = ids[BESIDE[each]] if each in BESIDE else GIVEN.get(each, ids["drill"])
    return reverse(name, kwargs=kwargs)


def answered(client: Client, address: str) -> int:
    with transaction.atomic():
        answer = client.get(address)
        if answer.streaming:
            b"".join(answer)  # type: ignore[call-overload]
        transaction.set_rollback(True)
    return answer.status_code


def swept(club: Extreme) -> dict[str, int]:
    """What does not answer as it should: the route with what it was asked, and the status."""
    client = signed_in(club.world.people.director)
    found = {}
    for name, pattern in our_routes():
        bare = address(name, pattern, club.ids)
        for query in ("", *(f"?{each}" for each in club.asked if name in ASKED)):
            status = answered(client, bare + query)
            if status not in NOT_THERE.get(name, set()) | {200, 302, 405}:
                found[name + query] = status
    return found


def test_every_page_of_the_smallest_club_answers() -> None:
    assert swept(smallest()) == dict.fromkeys(TURNS, 404)  # nobody is there to take turns


def test_every_page_of_the_largest_club_answers() -> None:
    club = largest()
    assert swept(club) == {}
    client = signed_in(club.world.people.coach)
    for players in (1, MOST_PLAYERS - NEAR + 1):  # the sweep asks for the most
        TrainingSession.objects.update(players_expected=players)
        assert answered(client, f"/sessions/{club.session.public_id}/pitch/") == 200
