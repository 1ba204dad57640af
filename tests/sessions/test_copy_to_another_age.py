"""A session copied to another age group: what is scaled, and that page and API list all of it, before and after."""

import re
from dataclasses import replace
from datetime import timedelta
from html import unescape
from typing import Any

import pytest
from django.test import Client

from club.queries import actor_of, today
from drills import actions as library
from drills.game.pitches import match_area_per_player_m2
from sessions import actions, queries
from sessions.planning.rounds import Rounds
from sessions.queries import reuse
from tests.factories import ZoneFactory
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World, signed_in
from tests.sessions.set_ups import setup_of

pytestmark = pytest.mark.django_db
BARE: dict[str, Any] = {key: [] for key in ("goals", "groups", "conditions", "phases", "variations")}
GRID = {"key": "usual", "length_m": 30, "width_m": 24, "purpose": "usual"}
PLAIN = {**BARE, "format": "4v4", "grids": [GRID], "queue": None, "heading": "none", "headers_per_player": 0}
SAME = {"activity": "possession", "themes": [], "under_from": None, "under_to": None}


@pytest.fixture
def drills(world: World) -> dict[str, Any]:
    """One for all ages, one for older players, and one like it for younger ones; a fourth that is no possession game."""
    written = {
        "Anybody": SAME,
        "Elders": {**SAME, "under_from": 11, "under_to": 16},
        "Juniors": {**SAME, "under_from": 7, "under_to": 10},
        "Other kind": {"activity": "rondo", "under_from": 7, "under_to": 10},
    }
    owner = world.people.coach
    return {
        title: shared_drill(owner=owner, **{**PLAIN, "title": title, **each})
        for title, each in written.items()
    }


@pytest.fixture
def session(world: World, drills: dict[str, Any]) -> Any:
    zone = ZoneFactory(length_m=60, width_m=40)
    here = part_input(drill=drills["Anybody"])
    placed = replace(
        here, stations=(replace(here.stations[0], place="Far end", adult_id=world.people.coach.pk),)
    )
    return planned_session(
        place=world.own,
        by=world.people.director,
        zones=[zone],
        parts=[
            part_input(minutes=10, bouts=1, bout_s=600, rest_s=0),
            placed,
            part_input(drill=drills["Elders"], minutes=15, bout_s=180, rest_s=45),
        ],
        players_expected=8,
        title="Locks",
    )


@pytest.fixture
def director(world: World) -> Client:
    found: Client = signed_in(world.people.director)
    return found


def sent(world: World, **changes: Any) -> dict[str, Any]:
    """The same evening for the under nines, 45 minutes on ground of their own."""
    zone = ZoneFactory(length_m=50, width_m=40)
    return {
        "squad": str(world.colleague.squad.public_id),
        "day": str(today() + timedelta(days=3)),
        "starts": "17:00",
        "ends": "17:45",
        "zones": [str(zone.public_id)],
        "players_expected": 10,
        "title": "Locks",
        **changes,
    }


def listed(page: str) -> list[str]:
    """The sentences of the first list of changes on a page."""
    found = re.search(r'<ul class="lines">(.*?)</ul>', page, re.S)
    assert found is not None
    texts = re.findall(r"<li>(.*?)</li>", found[1], re.S)
    return [unescape(re.sub(r"<[^>]+>", "", each)).replace("\xa0", " ").strip() for each in texts]


def texts_of(changes: list[dict[str, Any]]) -> list[str]:
    return [each["text"] for each in changes]


def test_page_and_api_list_the_same_before_and_after(world: World, session: Any, director: Client) -> None:
    wanted = sent(world)
    api = f"/api/v1/sessions/{session.public_id}/copies/"
    page = f"/sessions/{session.public_id}/again/group/"
    told = texts_of(director.post(f"{api}changes/", wanted, content_type="application/json").json())
    looked = director.post(page, {**wanted, "do": "look"})
    assert looked.status_code == 200
    shown = looked.content.decode()
    copy = shown[shown.index('id="copy"') :]
    assert listed(copy) == told
    assert "Anybody: rounds of 4 min become 3 min, for under 9s." in told
    digest = looked.context["changes"].digest
    assert f'name="seen" value="{digest}"' in copy
    assert queries.session_by_id(session.public_id).used_again == []

    planned = director.post(page, {**wanted, "do": "plan", "seen": digest})
    assert planned.status_code == 302
    after = director.get(planned["Location"]).content.decode()
    assert "What is different from “Locks” (U12," in after
    made = planned["Location"].strip("/").split("/")[-1]
    assert listed(after[after.index("What is different") :]) == told
    kept = director.get(f"/api/v1/sessions/{made}/").json()["used_again"]
    assert [texts_of(each["changes"]) for each in kept] == [told]
    assert (kept[0]["title"], kept[0]["age_group"]) == ("Locks", "U12")

    other_day = {**wanted, "day": str(today() + timedelta(days=4))}
    copied = director.post(api, other_day, content_type="application/json").json()
    assert texts_of(copied["changes"]) == told


@pytest.mark.parametrize("seen", ["", "0123456789abcdef"])
def test_a_list_that_nobody_has_seen_is_shown_before_anything_is_planned(
    world: World, session: Any, director: Client, seen: str
) -> None:
    answer = director.post(
        f"/sessions/{session.public_id}/again/group/", {**sent(world), "do": "plan", "seen": seen}
    )
    assert answer.status_code == 200
    assert answer.context["changes"].changes
    assert ("This list is not the one that you saw before." in answer.content.decode()) == bool(seen)


def copied(world: World, session: Any, **changes: Any) -> tuple[Any, list[Any]]:
    wanted = sent(world, **changes)
    client = signed_in(world.people.director)
    answer = client.post(
        f"/api/v1/sessions/{session.public_id}/copies/", wanted, content_type="application/json"
    )
    assert answer.status_code == 201, answer.json()
    return queries.session_by_id(answer.json()["session"]), answer.json()["changes"]


def test_every_part_is_filled_and_all_that_differs_has_its_sentence(world: World, session: Any) -> None:
    made, changes = copied(world, session)
    said = {each["code"] for each in changes}
    assert said >= {"carry_minutes", "carry_round", "carry_rest", "carry_setup"}
    assert said >= {"carry_place_left", "carry_adult", "carry_age", "carry_nearest"}
    for before, after in zip(session.parts.all(), made.parts.all(), strict=True):
        of_part = {each["code"] for each in changes if each["text"].startswith(tuple(titles(before)))}
        assert Rounds(after.bouts, after.bout_s, after.rest_s).fills(after.minutes)
        assert after.bout_s <= before.bout_s
        assert (after.minutes != before.minutes) == ("carry_minutes" in of_part)
        assert (after.bouts != before.bouts) == ("carry_bouts" in of_part)
        assert (after.bout_s != before.bout_s) == bool(of_part & {"carry_round", "carry_round_fill"})
        for station in after.stations.all():
            assert (station.place, station.adult_id) == ("", None)


def titles(part: Any) -> list[str]:
    return [each.revision.drill.title for each in part.stations.all()] or ["Practice"]


def test_grids_keep_the_area_per_player_and_obey_the_groups_own_format(world: World, session: Any) -> None:
    group = world.colleague.age_group
    for match, most in (("9v9", None), ("3v3", match_area_per_player_m2(3))):
        group.match_format = match
        group.save()
        made, _changes = copied(world, session, day=str(today() + timedelta(days=10 + (most is not None))))
        for setup in (setup_of(each) for part in made.parts.all() for each in part.stations.all()):
            for numbers, (length, width) in zip(setup.grid_formats, setup.grid_sizes, strict=True):
                if most is None:  # the drill's own: 30 × 24 m for eight
                    assert length * width / numbers.players_inside == pytest.approx(90, rel=0.12), numbers
                else:  # a match of three a side has less room for each; a side as the drill has it, no larger
                    assert length * width / numbers.players == pytest.approx(most, rel=0.05), numbers
                    assert max(each.players for each in numbers.sides) <= 4


def test_the_nearest_that_do_work_are_named_and_they_do(world: World, session: Any) -> None:
    _made, changes = copied(world, session)
    (named,) = [each["text"] for each in changes if each["code"] == "carry_nearest"]
    assert named.startswith("Instead of Elders, nearest to it and written for under 9s: ")
    assert set(named.rstrip(".").split(": ")[1].split(", ")) == {"“Anybody”", "“Juniors”"}


def test_a_drill_that_has_changed_or_gone_meanwhile_is_said_before_it_is_planned(
    world: World, session: Any, drills: Any
) -> None:
    director = actor_of(world.people.director)
    zones: list[Any] = []
    target = reuse.group_target(
        world.colleague.age_group.pk, minutes=75, players=10, adults=0, zones=zones, source=session
    )
    library.retire_drill(actor=director, public_id=drills["Anybody"].public_id)
    found = reuse.taken(session, target, actor=director)
    assert "Anybody is left out: it is not in the library any more." in [each.text for each in found.changes]
    made, changes = copied(world, session, ends="18:15", zones=[])
    assert "carry_out_gone" in [each["code"] for each in changes]
    gone = list(made.parts.all())[1].stations.all()[0]
    assert (gone.revision, gone.setup) == (None, None)


def test_the_same_age_on_the_same_ground_keeps_its_rounds(world: World, session: Any) -> None:
    zone = ZoneFactory(length_m=60, width_m=40)
    changes = {"squad": str(world.own.squad.public_id), "ends": "18:15", "zones": [str(zone.public_id)]}
    made, said = copied(world, session, players_expected=8, **changes)
    rounds = [
        [(each.minutes, each.bouts, each.bout_s, each.rest_s) for each in one.parts.all()]
        for one in (session, made)
    ]
    assert rounds[0] == rounds[1]
    assert {each["code"] for each in said} == {"carry_place_left", "carry_adult"}


def test_plan_b_is_listed_on_the_session_too(session: Any, director: Client) -> None:
    url = f"/sessions/{session.public_id}/again/space/"
    asked = {"space": "other", "length": "24", "width": "20", "players": "8", "version": session.version}
    looked = director.post(url, {**asked, "do": "look"}).context["plan_b"].changes
    assert director.post(url, {**asked, "do": "play"}).status_code == 302
    page = director.get(f"/sessions/{session.public_id}/").content.decode()
    assert "What was changed for less space, or other numbers" in page
    assert listed(page[page.index("What was changed") :]) == [each.text for each in looked]
    assert actions.MOST_USED_AGAIN >= len(queries.session_by_id(session.public_id).used_again) == 1
