"""A grid reads the same on the drill's page, the shared page, in the API and on the sheet, and with no second word for it."""

import re
from collections.abc import Iterator
from html import unescape
from typing import Any
from uuid import uuid4

import msgspec
import pytest

from club.queries import actor_of
from drills.actions import create_drill, send_for_review
from drills.game.evening import Evening, typed_ground
from drills.game.fits import fits
from drills.pages import size_shown
from drills.pages.drill import grids_of
from sessions import pages, queries
from sessions.actions.setups import put_setup
from tests.bibrack.demo.documents import SLUGS, demo_document
from tests.factories_sessions import part_input, planned_session
from tests.harness.templates import pointed_at, run
from tests.people import World, signed_in

PRESETS = [(slug, grid.key) for slug in SLUGS for grid in demo_document(slug).grids]
FIGURE = r"\d+(\.\d)? m² per player, (inside players|everyone counted)"


@pytest.fixture(scope="module")
def club(demo_template: str, django_db_blocker: Any) -> Iterator[Any]:
    """Who looks, and the demo club's drills by title."""
    from club.models import User
    from drills.models import Drill

    name = f"sizes_{uuid4().hex[:12]}"
    run("CREATE DATABASE {} TEMPLATE {}", name, demo_template)
    with django_db_blocker.unblock(), pointed_at(name):
        director = User.objects.filter(is_active=True, roles__role="director").first()
        yield director, {each.title: each for each in Drill.objects.filter(retired_at=None)}
    run("DROP DATABASE IF EXISTS {} WITH (FORCE)", name)


def rows(html: str) -> list[tuple[str, str]]:
    """The list of grids: each one's size, and what is said of it, as a reader sees it."""
    listed = re.search(r'<ul class="sizes".*?</ul>', html, re.S)
    assert listed
    found = []
    for row in re.findall(r"<li>(.*?)</li>", listed[0], re.S):
        spans = re.findall(r"<(?:b|span)[^>]*>(.*?)</(?:b|span)>", row, re.S)
        size, *said = [unescape(each).strip() for each in spans]
        found.append((size, " · ".join(each for each in said if each != "shown")))
    return found


@pytest.mark.parametrize(("slug", "key"), PRESETS)
def test_the_drills_word_stands_alone_with_the_figure(slug: str, key: str) -> None:
    document = demo_document(slug)
    grid = next(each for each in document.grids if each.key == key)
    shown = size_shown(document, document, grid)
    said = shown.words.removeprefix(grid.purpose)
    assert shown.words.startswith(grid.purpose)
    assert said == "" if shown.area is None else re.fullmatch(f" · {FIGURE}", said)


@pytest.mark.sweep
@pytest.mark.parametrize("slug", SLUGS)
def test_page_and_api_say_one_thing(slug: str, club: Any) -> None:
    director, drills = club
    document = demo_document(slug)
    drill, browser = drills[document.title], signed_in(director)
    expected = [(each.size.size, each.size.words) for each in grids_of(document, document, "")]
    assert rows(browser.get(f"/library/{drill.public_id}/").content.decode()) == expected
    answer = browser.get(f"/api/v1/drills/{drill.public_id}/").json()
    assert [(each["size"], each["text"]) for each in answer["grids"]] == expected
    areas = [each.size.area for each in grids_of(document, document, "")]
    assert [each["area_per_player_m2"] for each in answer["grids"]] == [
        each and round(each.m2, 2) for each in areas
    ]


@pytest.mark.sweep
@pytest.mark.parametrize("slug", SLUGS)
def test_a_variations_own_size_has_the_figure_alone(slug: str, club: Any) -> None:
    director, drills = club
    document = demo_document(slug)
    purposes = {f"{each.length_m:g} × {each.width_m:g} m": each.purpose for each in document.grids}
    for rung in document.variations:
        html = signed_in(director).get(f"/library/{drills[document.title].public_id}/?variation={rung.key}")
        for size, said in rows(html.content.decode()):
            assert said.split(" · ")[0] == purposes.get(size, "the size of this variation")


def in_a_session(slug: str, world: World) -> Any:
    """A session of one part with this drill of the demo."""
    document, actor = demo_document(slug), actor_of(world.people.coach)
    drill = create_drill(actor=actor, document=msgspec.to_builtins(document))
    send_for_review(actor=actor, public_id=drill.public_id)
    made = planned_session(place=world.own, by=world.people.coach, parts=[part_input(drill=drill)])
    return queries.session_by_id(made.public_id)


def on_sheet(session: Any) -> tuple[str, str]:
    """Numbers and size of the first station as they are printed."""
    found = pages.session_sheet(session, link="https://club.example/").parts[0].stations[0]
    return found.numbers, found.size


@pytest.mark.django_db
@pytest.mark.parametrize("slug", ["all-aboard", "split-the-pair", "post-round", "bite-back"])
def test_the_sheet_says_what_the_page_says(slug: str, world: World) -> None:
    document = demo_document(slug)
    first = grids_of(document, document, "")[0].size
    assert on_sheet(in_a_session(slug, world)) == (f"{document.format} · {first.size}", first.words)


@pytest.mark.django_db
@pytest.mark.parametrize(("players", "as_written"), [(12, True), (15, False)])
def test_words_of_the_drill_go_with_its_own_numbers_and_size(
    players: int, as_written: bool, world: World
) -> None:
    session = in_a_session("all-aboard", world)
    station = session.parts.get().stations.get()
    evening = Evening(players, pieces=typed_ground(60, 40))
    best = fits(demo_document("all-aboard"), "", evening)[0]
    assert put_setup(station, evening, numbers=best.numbers, grids=best.grids)
    assert (on_sheet(queries.session_by_id(session.public_id))[1] != "") == as_written
