"""The page for drawing as the server sees it: who may, what is refused and why, what is said while one draws."""

import json
from collections.abc import Callable
from typing import Any
from xml.etree.ElementTree import fromstring

import pytest
from django.test import Client
from pytest_django import DjangoAssertNumQueries

from drills import actions, queries
from drills.game.document import decode
from drills.game.scene import MOST_ITEMS
from drills.models import Drill
from drills.pages.drawn import drawn_start
from tests.drills.people import People, acting
from tests.drills.samples import OUTSIDE, WHOLE

pytestmark = pytest.mark.django_db
Visitor = Callable[..., Client]
ANA = {"key": "a1", "x_m": 5, "y_m": 5, "label": "1", "bib": "red"}
BEA = {"key": "a2", "x_m": 15, "y_m": 5, "label": "2", "bib": "red"}
PASS = {"kind": "ball", "ball": "ball1", "to": "a2", "start_s": 0, "end_s": 1}
STEP = {"key": "one", "start_s": 0, "end_s": 2, "moves": [PASS]}
SCENE: dict[str, Any] = {
    "scene_version": 1,
    "length_m": 25,
    "width_m": 20,
    "players": [ANA, BEA],
    "balls": [{"key": "ball1", "at": "a1"}],
    "steps": [STEP],
}


def send(client: Client, drill: Drill, body: Any, end: str = "look/") -> Any:
    raw = body if isinstance(body, bytes) else json.dumps(body).encode()
    return client.post(f"/library/{drill.public_id}/draw/{end}", raw, content_type="application/json")


@pytest.fixture
def coach(visitor: Visitor, people: People) -> Client:
    return visitor(people.coach)


@pytest.mark.parametrize(
    ("who", "page", "look", "save"),
    [
        ("coach", 200, 200, 200),
        ("director", 200, 200, 200),
        ("other", 404, 404, 404),
        ("helper", 403, 403, 403),
        ("reader", 403, 403, 403),
        ("stranger", 403, 403, 403),
        (None, 302, 302, 302),
    ],
)
def test_who_may_change_a_drill_may_draw_it(
    who: str | None, page: int, look: int, save: int, shared: Drill, visitor: Visitor, people: People
) -> None:
    client = visitor(getattr(people, who) if who else None)
    assert client.get(f"/library/{shared.public_id}/draw/").status_code == page
    assert send(client, shared, {"scene": SCENE}).status_code == look
    assert send(client, shared, {"scene": SCENE, "version": shared.version}, "").status_code == save


def test_the_page_begins_with_the_generated_layout(
    shared: Drill, coach: Client, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    coach.get(f"/library/{shared.public_id}/draw/")
    with django_assert_num_queries(5):
        page = coach.get(f"/library/{shared.public_id}/draw/")
    data = page.context["data"]
    assert (data["by_hand"], data["scene"]) == (False, data["generated"])
    assert (data["grid"], len(data["scene"]["players"])) == ({"length_m": 25, "width_m": 20}, 12)
    assert [side for side, _ in page.context["sides"]] == ["A", "B", "neutral"]
    assert "style=" not in page.content.decode()


def test_a_drawing_is_saved_as_a_revision_and_let_go_again(shared: Drill, coach: Client) -> None:
    seen = shared.version
    answer = send(coach, shared, {"scene": SCENE, "version": seen}, "").json()
    assert answer == {"version": seen + 1, "address": f"/library/{shared.public_id}/"}
    shared.refresh_from_db()
    assert shared.current_revision.document["scene"]["players"] == [ANA, BEA]
    assert shared.current_revision.document["title"] == "Shared Gates"
    assert send(coach, shared, {"scene": None, "version": seen + 1}, "").json()["version"] == seen + 2
    shared.refresh_from_db()
    assert "scene" not in shared.current_revision.document


def test_a_stale_save_shows_theirs_and_says_whether_the_plan_changed(
    shared: Drill, coach: Client, people: People
) -> None:
    words = {**WHOLE, "title": "Shared Gates", "purpose": "Told in other words."}
    director, seen = acting(people.director), shared.version
    drill = {"actor": director, "public_id": shared.public_id}
    actions.revise_drill(**drill, version=seen, document=words)
    answer = send(coach, shared, {"scene": SCENE, "version": seen}, "")
    theirs = answer.json()
    assert (answer.status_code, theirs["version"], theirs["plan_changed"]) == (409, seen + 1, False)
    assert fromstring(theirs["svg"]).tag.endswith("svg")
    actions.revise_drill(**drill, version=seen + 1, document={**words, "scene": SCENE})
    assert send(coach, shared, {"scene": None, "version": seen + 1}, "").json()["plan_changed"] is True
    assert queries.document_for(director, shared.public_id).document.scene is not None


def test_a_look_answers_with_the_drawing_its_names_and_its_checks(shared: Drill, coach: Client) -> None:
    answer = send(coach, shared, {"scene": SCENE, "step": 1}).json()
    groups = {each.get("data-key") for each in fromstring(answer["svg"]).iter() if each.get("data-key")}
    assert groups == {"a1", "a2", "ball1"}
    assert answer["names"] == {"a1": "red 1", "a2": "red 2", "ball1": "Ball 1", "coach": "Coach"}
    assert answer["steps"][0]["words"] == "Red 1 passes to red 2."
    assert answer["reasons"][0]["text"].startswith("The format has")


def test_the_sheet_says_where_a_metre_lies(shared: Drill, coach: Client) -> None:
    answer = send(coach, shared, {"scene": SCENE, "step": 0}).json()
    sheet = answer["sheet"]
    figure = next(each for each in fromstring(answer["svg"]).iter() if each.get("data-key") == "a1")
    x = sheet["left_u"] + (5 - sheet["left_m"]) * sheet["unit_per_m"]
    y = sheet["top_u"] + (sheet["top_m"] - 5) * sheet["unit_per_m"]
    drawn = [float(each) for each in figure.get("transform", "")[10:-1].split()]
    assert drawn == pytest.approx([x, y], abs=0.06)  # drawn to a tenth


def test_who_shares_a_name_is_told_apart(shared: Drill, coach: Client) -> None:
    outside = {"side": "neutral", "bib": "yellow", "place": "outside"}
    left = {**ANA, **outside, "label": "N", "x_m": -1, "edge": "left"}
    right = {**left, "key": "n2", "x_m": 26, "edge": "right"}
    again = {**right, "key": "n3", "y_m": 12}
    names = send(coach, shared, {"scene": {**SCENE, "players": [left, BEA, right, again]}}).json()["names"]
    assert [names[key] for key in ("a1", "n2", "n3")] == [
        "yellow floater N, left",
        "yellow floater N, right",
        "yellow floater N, right (2)",
    ]


def changed(**changes: Any) -> dict[str, Any]:
    return {**SCENE, **changes}


def with_move(**changes: Any) -> dict[str, Any]:
    return changed(steps=[{**STEP, "moves": [{**PASS, **changes}]}])


@pytest.mark.parametrize(
    ("scene", "field", "text"),
    [
        (changed(players=[{**ANA, "x_m": 1e9}, BEA]), "scene.players[0].x_m", "players 1 x_m: at most 200"),
        (changed(length_m=-3), "scene.length_m", "length_m: must be above 0"),
        (changed(players=[{**ANA, "x_m": "five"}, BEA]), "scene.players[0].x_m", "players 1 x_m: is not a number"),
        (with_move(to="z9"), "scene", "moves.to: there is no 'z9' in the scene"),
        (with_move(kind="run", who="z9", to_x_m=1, to_y_m=1, ball=None, to=None), "scene.steps[0].moves[0]", "unknown field"),
        (changed(steps=[STEP, {**STEP, "key": "two", "start_s": 1}]), "scene", "must end after it starts"),
        (with_move(end_s=9), "scene", "must start and end inside the step"),
        (changed(players=[ANA, ANA]), "scene", "'a1' is used twice"),
        (changed(colour="red"), "scene", "unknown field `colour`"),
        (
            changed(cones=[{"key": f"c{n}", "x_m": 1, "y_m": 1} for n in range(MOST_ITEMS)]),
            "scene",
            "more than 200",
        ),
        (
            changed(players=[{**ANA, "label": "x" * 41}, BEA]),
            "scene.players[0].label",
            "at most 40 characters",
        ),
        ([], "scene", "Expected `object`"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("end", ["look/", ""])
def test_what_can_not_be_drawn_is_refused_with_its_reason(
    end: str, scene: Any, field: str, text: str, shared: Drill, coach: Client
) -> None:
    seen = shared.version
    answer = send(coach, shared, {"scene": scene, "version": seen}, end)
    (problem,) = answer.json()["problems"]
    assert (answer.status_code, problem["field"]) == (400, field)
    assert text in problem["text"]
    shared.refresh_from_db()
    assert shared.version == seen


@pytest.mark.parametrize(
    ("raw", "text"),
    [
        (json.dumps({"scene": changed(players=[{**ANA, "x_m": float("nan")}])}).encode(), "NaN is not a number"),
        (b'{"scene": {"length_m": 1e999}}', "1e999 is not a number"),
        (b'{"scene": {"length_m": ' + b"9" * 400 + b"}}", "larger than any number"),
        (json.dumps({"scene": changed(cones=[{"key": f"c{n}", "x_m": 1, "y_m": 1} for n in range(10_000)])}).encode(), "Too large"),
        (b"[" * 5000, "Nested deeper"),
        (b"[]", "named fields"),
        (b"\xff", "Not readable"),
        (b'{"scene": null, "step": -1}', "not a step"),
        (b'{"scene": null, "version": "one"}', "not a version"),
    ],
)  # fmt: skip
def test_what_is_no_drawing_at_all_is_refused(raw: bytes, text: str, shared: Drill, coach: Client) -> None:
    answer = send(coach, shared, raw)
    assert answer.status_code == 400
    assert text in answer.json()["problems"][0]["text"]


def test_a_step_that_is_not_there_is_refused(shared: Drill, coach: Client) -> None:
    assert send(coach, shared, {"scene": SCENE, "step": 2}).status_code == 400
    assert send(coach, shared, {"scene": None, "step": 3}).status_code == 400


def test_moves_at_the_same_time_are_saved_but_keep_the_drill_from_review(
    draft: Drill, coach: Client, people: People
) -> None:
    run = {"kind": "run", "who": "a2", "to_x_m": 20, "to_y_m": 5, "start_s": 0, "end_s": 2}
    scene = changed(steps=[{**STEP, "moves": [run, {**run, "to_y_m": 15, "start_s": 1}]}])
    reasons = send(coach, draft, {"scene": scene}).json()["reasons"]
    assert [each["text"] for each in reasons if "two places" in each["text"]] == [
        "Red 2 would have to be in two places at 1 s."
    ]
    assert send(coach, draft, {"scene": scene, "version": 1}, "").status_code == 200
    coach.post(f"/library/{draft.public_id}/review/")
    draft.refresh_from_db()
    assert draft.state == "draft"


def test_nothing_in_a_label_becomes_markup(shared: Drill, coach: Client) -> None:
    nasty = '</script><img src=x onerror="a">'
    zone = {"key": "z", "x_m": 0, "y_m": 0, "length_m": 25, "width_m": 9, "title": nasty}
    scene = changed(players=[{**ANA, "label": nasty, "role": nasty}, BEA], zones=[zone], title=nasty)
    answer = send(coach, shared, {"scene": scene}).json()
    tags = {each.tag.rpartition("}")[2] for each in fromstring(answer["svg"]).iter()}
    assert tags & {"img", "script"} == set()
    assert send(coach, shared, {"scene": scene, "version": shared.version}, "").status_code == 200
    for page in ("", "draw/"):
        assert "<img src=x" not in coach.get(f"/library/{shared.public_id}/{page}").content.decode()


def test_a_variation_that_needs_a_thing_keeps_it_from_being_taken_away(draft: Drill, coach: Client) -> None:
    move = {"type": "move_item", "key": "a2", "x_m": 12, "y_m": 5}
    rung = {"key": "near", "title": "Nearer", "rung": "easier", "changes": [move]}
    actions.revise_drill(
        actor=acting(draft.owner), public_id=draft.public_id, version=1, document={**WHOLE, "scene": SCENE, "variations": [rung]}
    )  # fmt: skip
    answer = send(coach, draft, {"scene": None, "version": 2}, "")
    assert (answer.status_code, answer.json()["problems"][0]["field"]) == (400, "variations[0].changes")


@pytest.mark.parametrize("plain", [WHOLE, OUTSIDE])
def test_a_side_that_the_drill_has_not_wears_a_bib_that_no_other_side_wears(plain: dict[str, Any]) -> None:
    start = drawn_start(decode(plain))
    drawn = {each.get("side", "A"): each["bib"] for each in start["generated"]["players"] if each.get("bib")}
    assert drawn.items() <= start["bibs"].items()
    assert set(start["bibs"]) == {"A", "B", "C", "D", "neutral"}
    assert len(set(start["bibs"].values())) == 5
