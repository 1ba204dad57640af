"""Every route, every role, on an own, a shared and somebody else's drill; drafts never leak."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import product
from typing import Any
from uuid import uuid4

import pytest
from django.db import transaction
from django.test import Client
from rest_framework.test import APIClient

from drills import actions, urls
from drills.api_urls import urlpatterns as api_patterns
from drills.models import Drill
from tests.access.caching import nobody_keeps
from tests.drills.people import acting, make, make_people
from tests.drills.samples import SMALL, WHOLE
from tests.harness.standing import standing
from tests.people import signed_in

pytestmark = pytest.mark.django_db
ROLES = ("director", "coach", "other", "helper", "reader", "stranger", None)
READ = {"director": 200, "coach": 200, "other": 200, "helper": 200, "reader": 200, "stranger": 403, None: 302}
OWN_DRAFT = {**READ, "other": 404, "helper": 404, "reader": 404}
COACHES = {
    "director": 200,
    "coach": 200,
    "other": 200,
    "helper": 403,
    "reader": 403,
    "stranger": 403,
    None: 302,
}
EDIT = {**COACHES, "other": 404}
STEP = {"director": 302, "coach": 302, "helper": 403, "reader": 403, "stranger": 403, None: 302}
STAFF_STEP = dict.fromkeys(READ, 302) | {"stranger": 403}
STAFF_DRAFT = {**STAFF_STEP, "other": 404, "helper": 404, "reader": 404}
NO_NOTE = dict.fromkeys(READ, 404) | {"stranger": 403, None: 302}
NO_MOVES = dict.fromkeys(READ, 404) | {"stranger": 403, None: 302}  # these drills have no moves, so no videos
NO_LINK = {**STEP, "director": 404, "coach": 404}
NO_SKETCH = {**STEP, "director": 404, "coach": 403, "other": 403}
NOTHING_SENT = {**EDIT, "director": 400, "coach": 400}  # past the decision; the test sends no drawing


def said_nothing(step: dict[str | None, int]) -> dict[str | None, int]:
    """Past the decision the page comes back with what is missing; the test notes nothing."""
    return {role: 200 if role and status == 302 else status for role, status in step.items()}


# name → (method, for the coach's draft, for the coach's shared drill); a missing one has no drill in its address.
PAGES: dict[str, tuple[str, dict, dict]] = {
    "list": ("get", READ, READ),
    "files": ("get", READ, READ),
    "bring-in": ("post", COACHES, COACHES),
    "file": ("get", OWN_DRAFT, READ),
    "quick": ("get", COACHES, COACHES),
    "write": ("get", COACHES, COACHES),
    "drill": ("get", OWN_DRAFT, READ),
    "edit": ("get", EDIT, EDIT),
    "steps": ("get", OWN_DRAFT, READ),
    "draw": ("get", EDIT, EDIT),
    "draw-look": ("post", NOTHING_SENT, NOTHING_SENT),
    "past": ("get", OWN_DRAFT, READ),
    "restore": ("post", {**STEP, "other": 404}, {**STEP, "other": 404}),
    "compare": ("get", OWN_DRAFT, READ),
    "favourite": ("post", STAFF_DRAFT, STAFF_STEP),
    "note": ("post", said_nothing(STAFF_DRAFT), said_nothing(STAFF_STEP)),
    "note-drop": ("post", {**STAFF_DRAFT, "director": 404, "coach": 404}, NO_NOTE),
    "share": ("post", {**STEP, "other": 404}, {**STEP, "other": 403}),
    "share-end": ("post", {**NO_LINK, "other": 404}, {**NO_LINK, "other": 403}),
    "shared": ("get", dict.fromkeys(ROLES, 404), dict.fromkeys(ROLES, 404)),  # nobody has this secret
    "video-make": ("post", NO_MOVES, NO_MOVES),
    "video": ("get", NO_MOVES, NO_MOVES),
    "video-stop": ("post", NO_MOVES, NO_MOVES),
    "video-file": ("get", NO_MOVES, NO_MOVES),
    # Past the decision the page comes back with what is missing; the test sends no photo, and there is none.
    "sketch-add": ("post", {**said_nothing(STEP), "other": 404}, {**said_nothing(STEP), "other": 200}),
    "sketch": ("get", NO_NOTE, NO_NOTE),
    "sketch-approve": ("post", NO_SKETCH, NO_SKETCH),
    "sketch-remove": ("post", {**NO_LINK, "other": 404}, {**NO_LINK, "other": 404}),
    "adapt": ("post", {**STEP, "other": 404}, {**STEP, "other": 302}),
    "review": ("post", {**STEP, "other": 404}, {**STEP, "other": 404}),
    "approve": ("post", {**STEP, "coach": 403, "other": 403}, {**STEP, "coach": 403, "other": 403}),
    "return": ("post", {**STEP, "other": 404}, {**STEP, "other": 404}),
    "retire": ("post", {**STEP, "other": 404}, {**STEP, "other": 403}),
    "unretire": ("post", {**STEP, "other": 404}, {**STEP, "other": 403}),
}


def test_every_page_has_a_row() -> None:
    assert {each.name for each in urls.urlpatterns} == set(PAGES)


def address(name: str, drill: Drill) -> str:
    pattern = next(each for each in urls.urlpatterns if each.name == name)
    path = str(pattern.pattern).replace("<uuid:public_id>", str(drill.public_id)).replace("<int:number>", "1")
    return "/library/" + re.sub(r"<\w+:\w+>", str(uuid4()), path)


@dataclass(frozen=True)
class Club:
    """Everybody, signed in already, and the coach's two drills."""

    people: dict[str | None, Any]
    cookies: dict[str | None, Any]
    draft: Drill
    shared: Drill

    def visitor(self, role: str | None) -> Client:
        client = Client()
        client.cookies.update(self.cookies[role])
        return client

    def api(self, role: str | None) -> APIClient:
        client = APIClient()
        client.cookies.update(self.cookies[role])
        return client


def _club() -> Club:
    made = make_people()
    people = {role: getattr(made, role) if role else None for role in ROLES}
    shared = make(made.coach, title="Shared Gates")
    return Club(
        people=people,
        cookies={role: signed_in(person).cookies for role, person in people.items()},
        draft=make(made.coach, title="Secret Draft"),
        shared=actions.send_for_review(actor=acting(made.coach), public_id=shared.public_id),
    )


club = standing(_club)


@contextmanager
def undone() -> Iterator[None]:
    """What happens inside is rolled back, so that the next role meets the same drill."""
    point = transaction.savepoint()
    yield
    transaction.savepoint_rollback(point)


@pytest.mark.parametrize("name", PAGES)
def test_pages(name: str, club: Club) -> None:
    method, of_draft, of_shared = PAGES[name]
    for role, (drill, wanted) in product(ROLES, ((club.draft, of_draft), (club.shared, of_shared))):
        client = club.visitor(role)
        with undone():
            response = getattr(client, method)(address(name, drill))
        nobody_keeps(f"drills:{name}", response)
        assert (role, drill.title, response.status_code) == (role, drill.title, wanted[role])
        if role not in ("director", "coach"):
            assert b"Secret Draft" not in response.content


API_READ = {
    "director": 200,
    "coach": 200,
    "other": 200,
    "helper": 200,
    "reader": 200,
    "stranger": 403,
    None: 401,
}
API_DRAFT = {**API_READ, "other": 404, "helper": 404, "reader": 404}
API_COACH = {**API_READ, "helper": 403, "reader": 403}
API_KEEP = dict.fromkeys(API_READ, 204) | {"stranger": 403, None: 401}
API_KEEP_DRAFT = {**API_KEEP, "other": 404, "helper": 404, "reader": 404}
API_NONE = dict.fromkeys(API_READ, 404) | {"stranger": 403, None: 401}
ANYONE = dict.fromkeys(ROLES, 200)
API: dict[tuple[str, str], tuple[dict, dict]] = {
    ("api-drills", "get"): (API_READ, API_READ),
    ("api-drills", "post"): ({**API_COACH, "director": 201, "coach": 201, "other": 201},) * 2,
    ("api-drills-export", "get"): (API_READ, API_READ),
    ("api-drills-import", "post"): (API_COACH, API_COACH),
    ("api-drills-schema", "get"): (ANYONE, ANYONE),
    ("api-drill", "get"): (API_DRAFT, API_READ),
    ("api-drill", "put"): ({**API_COACH, "other": 404}, {**API_COACH, "other": 404}),
    ("api-drill", "patch"): ({**API_COACH, "other": 404}, {**API_COACH, "other": 404}),
    ("api-drill", "delete"): (
        {**API_COACH, "director": 204, "coach": 204, "other": 404},
        {**API_COACH, "director": 204, "coach": 204, "other": 403},
    ),
    ("api-fit", "get"): (API_DRAFT, API_READ),
    ("api-checks", "get"): (API_DRAFT, API_READ),
    ("api-drawing", "get"): (API_DRAFT, API_READ),
    ("api-drawing-png", "get"): (API_DRAFT, API_READ),
    ("api-drill-favourite", "put"): (API_KEEP_DRAFT, API_KEEP),
    ("api-drill-favourite", "delete"): (API_KEEP_DRAFT, API_KEEP),
    ("api-drill-notes", "get"): (API_DRAFT, API_READ),
    ("api-drill-notes", "post"): (
        {**API_DRAFT, "director": 201, "coach": 201},
        dict.fromkeys(API_READ, 201) | {"stranger": 403, None: 401},
    ),
    ("api-drill-note", "delete"): (API_NONE, API_NONE),  # nobody wrote this note
    ("api-drill-links", "get"): ({**API_COACH, "other": 404}, API_COACH),
    ("api-drill-links", "post"): (
        {**API_COACH, "director": 201, "coach": 201, "other": 404},
        {**API_COACH, "director": 201, "coach": 201, "other": 403},
    ),
    ("api-drill-link", "delete"): (
        {**API_COACH, "director": 404, "coach": 404, "other": 404},
        {**API_COACH, "director": 404, "coach": 404, "other": 403},
    ),
    ("api-drill-sketches", "get"): (API_DRAFT, API_READ),
    ("api-drill-sketches", "post"): (  # past the decision; the test sends no photo
        {**API_COACH, "director": 400, "coach": 400, "other": 404},
        {**API_COACH, "director": 400, "coach": 400, "other": 400},
    ),
    ("api-drill-sketch-picture", "get"): (API_NONE, API_NONE),
    ("api-drill-sketch", "delete"): ({**API_NONE, "helper": 403, "reader": 403},) * 2,
    ("api-drill-sketch-approval", "put"): ({**dict.fromkeys(ROLES, 403), "director": 404, None: 401},) * 2,
}
BODIES: dict[tuple[str, str], Any] = {
    ("api-drills", "post"): SMALL,
    ("api-drills-import", "post"): [SMALL],
    ("api-drill", "put"): WHOLE,
    ("api-drill", "patch"): {"notes": "hello"},
    ("api-drill-notes", "post"): {"text": "worked with 13"},
    ("api-drill-links", "post"): {"days": 7},
}


def test_every_endpoint_has_a_row() -> None:
    declared = set()
    for each in api_patterns:
        who = each.callback.cls.who_may  # type: ignore[union-attr]
        methods = [name.lower() for name in who] if isinstance(who, dict) else ["get"]
        declared |= {(each.name, method) for method in methods}
    assert declared == set(API)


@pytest.mark.parametrize(("name", "method"), API)
def test_endpoints(name: str, method: str, club: Club) -> None:
    pattern = next(each for each in api_patterns if each.name == name)
    cases = zip((club.draft, club.shared), API[name, method], strict=True)
    for (drill, wanted), role in product(cases, ROLES):
        path = "/api/v1/" + str(pattern.pattern).replace("<uuid:public_id>", str(drill.public_id))
        path = re.sub(r"<\w+:\w+>", str(uuid4()), path)
        path += "?players=12&length=40&width=30" if name == "api-fit" else ""
        client, body = club.api(role), BODIES.get((name, method))
        with undone():
            response = getattr(client, method)(
                path, body, format="json", headers={"if-match": f'"v{drill.version}"'}
            )
            content = b"".join(response.streaming_content) if response.streaming else response.content
        nobody_keeps(name, response)
        assert (role, drill.title, response.status_code) == (role, drill.title, wanted[role])
        if role not in ("director", "coach"):
            assert b"Secret Draft" not in content


def test_lineage_of_a_draft_is_not_named_to_others(club: Club) -> None:
    director = acting(club.people["director"])
    mine = actions.adapt_drill(actor=director, public_id=club.draft.public_id, title="Open one")
    actions.send_for_review(actor=director, public_id=mine.public_id)
    response = club.visitor("other").get(f"/library/{mine.public_id}/")
    assert response.status_code == 200
    assert b"Open one" in response.content
    assert b"not yours to read" in response.content


def test_an_import_does_not_tell_that_somebody_has_the_same_draft(club: Club) -> None:
    make(club.people["coach"])
    found = actions.import_drills(actor=acting(club.people["other"]), data=[WHOLE])
    assert [each.outcome for each in found] == ["created"]
