"""Any field of a drill's document is changed by somebody: it is told, opened, compared, taken along; nothing is lost."""

import json
from collections.abc import Callable
from functools import cache
from html import escape
from typing import Any

import pytest
from django.test import Client
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from rest_framework.test import APIClient

from club.errors import Refused
from drills import actions, pages, queries
from drills.forms import together
from drills.game.document import DrillDocument, decode
from drills.pages.words import label_of
from drills.validators import to_document
from tests.drills.changes import FULL, Site, sites, whole_of
from tests.drills.people import People, acting
from tests.drills.typed import THEMES, opened, plain, posted, saved

Visitor = Callable[..., Client]
BASE = decode(FULL)
FIELDS = tuple(name for name in BASE.__struct_fields__ if name != "schema_version")
SITES = sites(BASE)
MINE = {"praise": "My own praise", "coach_place": "Where I stood"}


def accepted(site: Site, value: Any, document: DrillDocument = BASE) -> DrillDocument | None:
    """The document with that change, where it is one and nothing is wrong with it."""
    try:
        made = to_document(site.changed(whole_of(document), value))
    except Refused:
        return None
    return made if getattr(made, site.field) != getattr(document, site.field) else None


@st.composite
def changed(draw: st.DrawFn) -> tuple[str, DrillDocument]:
    """A field, and the document in which somewhere in it something else stands."""
    site = draw(st.sampled_from(SITES))
    made = accepted(site, draw(st.sampled_from(site.values)))
    assume(made is not None)
    assert made is not None
    return site.field, made


@cache
def some_of_each(depth: int) -> dict[str, tuple[Site, Any]]:
    """A change of every field: of the whole field, of one of its items, or of a value deep inside, as there is."""
    found: dict[str, tuple[Site, Any]] = {}
    for field in FIELDS:
        inside = sorted(
            (each for each in SITES if each.field == field), key=lambda each: abs(len(each.path) - depth)
        )
        tried = ((site, value) for site in inside for value in site.values)
        found[field] = next(each for each in tried if accepted(*each))
    return found


def at_once(fields: tuple[str, ...], depth: int) -> DrillDocument:
    """The document with a change of each of these fields that goes with the changes of the others."""
    made = BASE
    for field in fields:
        made = accepted(*some_of_each(depth)[field], made) or made
    return made


def test_every_field_can_be_changed() -> None:
    assert {each.field for each in SITES} == set(FIELDS)
    assert all(accepted(*change) for change in some_of_each(9).values())


@settings(max_examples=100, deadline=None)
@given(changed())
def test_every_change_is_told(change: tuple[str, DrillDocument]) -> None:
    field, document = change
    for before, after in ((BASE, document), (document, BASE)):
        told = pages.differences(before, after)
        assert field in [each.field for each in told]
        assert all(each.before != each.after for each in told)
        assert field in [each.field for each in pages.clashes(before, after, BASE)]


@settings(max_examples=4, deadline=None)
@given(changed())
def test_what_is_typed_beside_a_change_of_theirs_is_kept_with_it(change: tuple[str, DrillDocument]) -> None:
    field, theirs = change
    assume(field not in MINE)
    data = opened(plain(BASE))
    data.update(MINE)
    editor = saved(plain(theirs), together(data, plain(BASE), plain(theirs), themes=THEMES))
    assert editor.is_valid()
    assert to_document(editor.document) == to_document({**plain(theirs), **MINE})


@pytest.mark.django_db
@pytest.mark.parametrize("depth", [2, 9])
@pytest.mark.parametrize("fields", [FIELDS[::2], FIELDS[1::2]], ids=["one half", "the other half"])
def test_every_page_shows_a_change_of_every_field(
    depth: int, fields: tuple[str, ...], visitor: Visitor, people: People, api: Callable[..., APIClient]
) -> None:
    theirs = at_once(fields, depth)
    changed = [name for name in FIELDS if getattr(theirs, name) != getattr(BASE, name)]
    assert len(changed) >= len(fields) - 1
    drill = actions.create_drill(actor=acting(people.coach), document=FULL)
    actions.revise_drill(actor=acting(people.director), public_id=drill.public_id, version=1, document=theirs)
    client, url = visitor(people.coach), f"/library/{drill.public_id}/"
    assert client.get(url).status_code == 200
    past = client.get(f"{url}past/?first=1&second=2").content.decode()
    assert [name for name in changed if escape(label_of(name)) not in past] == []
    assert client.get(f"{url}compare/").status_code == 200
    assert decode(json.loads(client.get(f"{url}file/").content)["drills"][0]["document"]) == theirs
    exported = b"".join(api(people.coach).get("/api/v1/drills/export/"))  # type: ignore[call-overload]
    assert decode(json.loads(exported)["drills"][0]["document"]) == theirs
    stale_form(client, f"{url}change/", theirs, changed)
    stale_put(api(people.coach), f"/api/v1/drills/{drill.public_id}/", theirs)


def stale_form(client: Client, url: str, theirs: DrillDocument, changed: list[str]) -> None:
    """A form opened before theirs was saved: all three are shown, and what was typed goes on top of theirs."""
    data = opened(plain(BASE))
    data.update({**MINE, "version": "1", "note": "My reason"})
    stale = client.post(url, dict(data.lists()))
    html = stale.content.decode()
    assert stale.status_code == 409
    assert [name for name in changed if escape(label_of(name)) not in html] == []
    assert [each for each in (*MINE.values(), "My reason") if f'value="{each}"' not in html] == []
    again = posted(stale.context["editor"])
    again["version"] = str(stale.context["version"])
    assert client.post(url, dict(again.lists())).status_code == 302
    found = queries.document_at(stale.context["found"].drill, 3)
    assert found == to_document({**plain(theirs), **MINE})


def stale_put(client: APIClient, url: str, theirs: DrillDocument) -> None:
    """The API refuses it, and what is kept is theirs (with what the form has saved by now)."""
    answer = client.put(url, {**plain(BASE), "title": "Not kept"}, format="json", headers={"If-Match": '"1"'})
    assert answer.status_code == 412
    assert decode(client.get(url).json()["document"]) == to_document({**plain(theirs), **MINE})
