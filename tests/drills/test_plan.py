"""What the plan says on a drill's page and in the API, and what it keeps from review."""

import json
import struct
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.test import Client
from django.utils.html import escape
from rest_framework.test import APIClient

import bibrack.demo
from club.errors import Refused
from club.models import User
from drills import actions
from drills.choices import DrillState
from drills.game.played import as_played
from drills.models import Drill
from drills.pages import plan_of
from drills.queries import typed
from tests.drills.people import People, acting, make
from tests.drills.samples import OUTSIDE

# Four greens, four oranges and a rope on each side, all called N; the ball goes out to the left one.
_INSIDE = {"A": ((6, 15), (18, 14), (7, 6), (18, 5)), "B": ((9, 12), (15, 11), (11, 7), (16, 8))}
_ROPES = {"left": (-1, 10), "right": (26, 10), "top": (12.5, 21), "bottom": (12.5, -1)}
ROUND_THE_ROPES: dict[str, Any] = {
    "length_m": 25,
    "width_m": 20,
    "players": [
        *(
            {"key": f"{side}{n}", "side": side, "label": str(n), "x_m": x, "y_m": y}
            for side, spots in _INSIDE.items()
            for n, (x, y) in enumerate(spots, 1)
        ),
        *(
            {"key": edge, "side": "neutral", "place": "outside", "edge": edge, "label": "N", "bib": "red", "x_m": x, "y_m": y}
            for edge, (x, y) in _ROPES.items()
        ),
    ],
    "balls": [{"key": "ball", "at": "A1"}],
    "steps": [
        {"key": "out", "start_s": 0, "end_s": 2, "moves": [
            {"kind": "ball", "ball": "ball", "to": "left", "start_s": 0.5, "end_s": 1.5},
        ]},
        {"key": "on", "start_s": 2, "end_s": 4},
    ],
}  # fmt: skip
FOLDER = Path(bibrack.demo.__file__).parent / "drills"


def written(slug: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((FOLDER / f"{slug}.json").read_bytes())
    return found


@pytest.fixture
def post_and_return(people: People) -> Drill:
    """The demo game in which the way back is shut and the third player's pass is open."""
    return actions.create_drill(actor=acting(people.coach), document=written("post-and-return"))


@pytest.fixture
def coach(api: Callable[[User | None], APIClient], people: People) -> APIClient:
    return api(people.coach)


@pytest.fixture
def address(post_and_return: Drill) -> str:
    return f"/api/v1/drills/{post_and_return.public_id}/"


def test_the_way_back_is_shut_the_third_players_pass_is_open_and_the_api_says_so(
    coach: APIClient, address: str
) -> None:
    body = coach.get(f"{address}checks/").json()
    assert (body["ready"], body["reasons"]) == (True, [])
    assert [(each["kind"], each["to"], each["shown"]) for each in body["claims"]] == [
        ("lane is shut", "g2", True),
        ("lane is open", "g3", True),
        ("passes", None, True),
    ]
    moment = body["moments"][1]
    assert (moment["step"], moment["time_s"], moment["on_ball"], moment["of"]) == (2, 2.4, "g6", 5)
    lanes = {each["receiver"]: each for each in moment["lanes"]}
    assert (lanes["g3"]["open"], lanes["g2"]["open"], lanes["g2"]["cut_by"]) == (True, False, "o1")
    assert lanes["g3"]["margin_s"] > 0 > lanes["g2"]["margin_s"]
    assert moment["open"] == sum(each["open"] for each in lanes.values())
    closed = {key: (each["closed_down"], each["closed_by"]) for key, each in lanes.items()}
    assert (closed["g2"], closed["g3"][0]) == ((False, "o1"), False)
    assert {each["closed_down"] for each in lanes.values()} == {True, False}
    assert all(each["closed_down"] == (each["receiver_margin_s"] <= 0) for each in lanes.values())


def test_the_model_behind_the_lanes_is_told_with_its_source(coach: APIClient, address: str) -> None:
    pace = coach.get(f"{address}checks/").json()["pace"]
    assert (pace["up_to_under"], pace["ball_speed_m_per_s"], pace["defender_speed_m_per_s"]) == (
        None,
        15.0,
        5.0,
    )
    assert (pace["lunge_m"], pace["lunge_s"]) == (1.5, 0.2)
    assert "Spearman 2018, “Beyond expected goals”" in pace["source"]
    assert "common practice, no source" in pace["source"]


def test_a_variation_that_there_is_not_has_no_checks(coach: APIClient, address: str) -> None:
    assert coach.get(f"{address}checks/?variation=no-such").status_code == 404


def test_the_page_shows_the_shut_way_back_and_the_open_third_player(
    visitor: Callable[[User | None], Client], people: People, post_and_return: Drill
) -> None:
    text = visitor(people.coach).get(f"/library/{post_and_return.public_id}/?step=2").content.decode()
    assert ('data-to="2" aria-current="true"' in text, 'data-turn-to="0" aria-current="true"' in text) == (
        True,
        True,
    )
    assert "From green 6 (target) the pass to green 2 is closed (step 2): <b>shown</b>" in text
    assert "From green 6 (target) the pass to green 3 is open (step 2): <b>shown</b>" in text
    moment = text[text.index('data-moment="2" open') : text.index('data-moment="3"')]
    assert "green 6 (target) · <b>open 2 of 5</b>" in moment
    assert '<th scope="row">green 2</th><td data-label="The lane"><span><b>closed</b> by orange 1' in moment
    assert '<th scope="row">green 3</th><td data-label="The lane"><span><b>open</b></span></td>' in moment
    assert '<span class="second">pressed at once by orange 1</span>' in moment
    assert '<span class="second">has time</span>' in moment
    assert "After 0.2 s a defender lunges at what passes within 1.5 m" in text
    assert text.count('class="lane-shut"') == 3


def test_neutrals_who_wear_one_letter_are_told_apart_by_their_edge(people: People) -> None:
    document = typed({**OUTSIDE, "scene": ROUND_THE_ROPES})
    row = plan_of(as_played(document)).steps[1]
    assert (row.on_ball, row.open, len(row.lanes)) == ("red floater N (left)", 4, 7)
    assert {each.receiver for each in row.lanes} >= {
        f"red floater N ({edge})" for edge in ("top", "right", "bottom")
    }


@pytest.mark.parametrize("query", ["step=4", "step=x", "step=-1", "turn=45"])
def test_a_step_or_turn_that_there_is_not_is_no_page(
    visitor: Callable[[User | None], Client], people: People, post_and_return: Drill, query: str
) -> None:
    page = f"/library/{post_and_return.public_id}/"
    assert visitor(people.coach).get(f"{page}?step=3&turn=90").status_code == 200
    assert visitor(people.coach).get(f"{page}?{query}").status_code == 404


def test_every_step_is_on_paper(
    visitor: Callable[[User | None], Client], people: People, post_and_return: Drill
) -> None:
    page = f"/library/{post_and_return.public_id}/steps/"
    text = visitor(people.coach).get(page).content.decode()
    assert text.count('<figure class="plan">') == 3
    assert "3. A point, and on to the other end" in text
    assert visitor(people.stranger).get(page).status_code in (403, 404)


def test_a_drawing_moves_turns_and_shows_lanes_when_asked(coach: APIClient, address: str) -> None:
    def drawn(query: str = "") -> str:
        return coach.get(f"{address}drawing.svg{query}").content.decode()

    still, moving = drawn(), drawn("?moving=1&lanes=true")
    assert ("animateTransform" in still, "animateTransform" in moving) == (False, True)
    assert moving.count('class="lanes" data-step="2" display="none"') == 2
    assert drawn("?turn=90") != still
    assert ('class="lane-shut"' in drawn("?step=2"), 'class="lane-shut"' in drawn("?step=2&lanes=1")) == (
        False,
        True,
    )


def test_a_moving_drawing_is_cached_by_its_etag(coach: APIClient, address: str) -> None:
    first = coach.get(f"{address}drawing.svg?moving=1")
    again = coach.get(f"{address}drawing.svg?moving=1", headers={"if-none-match": first["ETag"]})
    assert (again.status_code, again.content, again["ETag"]) == (304, b"", first["ETag"])
    other = coach.get(f"{address}drawing.svg?moving=0", headers={"if-none-match": first["ETag"]})
    assert other.status_code == 200


def test_a_plan_laid_again_for_tonight_says_what_has_no_place(coach: APIClient, address: str) -> None:
    tonight = "players=11&length=40&width=30&fit=0"
    body = coach.get(f"{address}checks/?{tonight}").json()
    assert [each["severity"] for each in body["reasons"] if each["severity"] == "error"] == []
    assert body["missing"][0]["key"] in ("left-out-moves", "no-moves-yet")
    assert coach.get(f"{address}checks/").json()["missing"] == []
    assert coach.get(f"{address}checks/?grid=nowhere").status_code == 400
    moving = coach.get(f"{address}drawing.svg?moving=1&{tonight}").content
    assert b"animateTransform" in moving


def test_a_rung_with_other_numbers_keeps_the_drawing_and_the_page_says_what_is_missing(
    visitor: Callable[[User | None], Client], people: People, post_and_return: Drill
) -> None:
    page = visitor(people.coach).get(f"/library/{post_and_return.public_id}/?variation=one-target")
    assert [len(page.context["shown"].plan.steps), len(page.context["shown"].plan.missing)] == [3, 5]
    text = page.content.decode()
    assert "Green 6 (target) is not there with these numbers; moves left out: 1." in text
    draw = f"/library/{post_and_return.public_id}/draw/?variation=one-target"
    assert f'href="{draw}"' in text
    data = visitor(people.coach).get(draw).context["data"]
    assert (data["rung"], data["by_hand"], len(data["scene"]["steps"])) == ("one-target", False, 3)


def test_a_fit_says_what_of_the_drawing_is_not_on_its_plan(
    visitor: Callable[[User | None], Client], people: People, post_and_return: Drill
) -> None:
    page = visitor(people.coach).get(f"/library/{post_and_return.public_id}/?players=11&length=40&width=30")
    chosen = page.context["shown"].tonight.chosen
    assert chosen.missing
    assert escape(chosen.missing[0]) in page.content.decode()


def test_a_picture_is_as_wide_as_asked_cached_and_may_load_nothing(coach: APIClient, address: str) -> None:
    first = coach.get(f"{address}drawing.png?step=2&width=640")
    assert (first["Content-Type"], first["Content-Security-Policy"]) == (
        "image/png",
        "default-src 'none'; sandbox",
    )
    assert struct.unpack(">II", first.content[16:24])[0] == 640
    same = {"headers": {"if-none-match": first["ETag"]}}
    assert coach.get(f"{address}drawing.png?step=2&width_px=640", **same).status_code == 304
    assert coach.get(f"{address}drawing.png?step=2&width=320", **same).status_code == 200
    tonight = "players=12&length=40&width=30&fit=0&width_px=200"
    fitted = coach.get(f"{address}drawing.png?{tonight}").content
    assert struct.unpack(">II", fitted[16:24])[0] == 200
    for query, field in (("width_px=9999", "/width_px"), ("width=x", "/width"), ("step=99", "/step")):
        refused = coach.get(f"{address}drawing.png?{query}")
        assert (refused.status_code, refused.json()["errors"][0]["pointer"]) == (400, field)


@pytest.mark.parametrize(
    ("query", "field"),
    [
        ("moving=1&step=1", "/moving"),
        ("moving=maybe", "/moving"),
        ("lanes=2", "/lanes"),
        ("turn=45", "/turn"),
    ],
)
def test_a_wrong_wish_for_a_drawing_is_refused_by_name(
    coach: APIClient, address: str, query: str, field: str
) -> None:
    response = coach.get(f"{address}drawing.svg?{query}")
    assert response.status_code == 400
    assert [each["pointer"] for each in response.json()["errors"]] == [field]


def send(people: People, scene: dict[str, Any]) -> Drill:
    drill = make(people.coach, **{**written("post-and-return"), "scene": scene})
    return actions.send_for_review(actor=acting(people.coach), public_id=drill.public_id)


def test_a_plan_with_an_error_does_not_go_for_review(people: People) -> None:
    scene = written("post-and-return")["scene"]
    scene["players"].pop(3)  # one green fewer than 4(+2)v4(+2)
    scene["steps"][2]["moves"] = [each for each in scene["steps"][2]["moves"] if each.get("who") != "g4"]
    with pytest.raises(Refused) as refused:
        send(people, scene)
    assert [(each.field, each.text) for each in refused.value.problems] == [
        ("scene", "The format has 4 of side A inside, the plan shows 3.")
    ]


def test_a_claim_that_the_moves_do_not_show_keeps_a_drill_from_review(people: People) -> None:
    scene = written("post-and-return")["scene"]
    scene["claims"] = [{"kind": "lane is open", "who": "g6", "to": "g2", "step": "set"}]
    with pytest.raises(Refused, match="lane is open"):
        send(people, scene)


def test_a_plan_with_a_warning_goes_for_review(people: People) -> None:
    scene = written("post-and-return")["scene"]
    scene["steps"][1]["moves"][0]["to"] = "g2"  # the pass that would be cut out
    drill = send(people, scene)
    assert drill.state == DrillState.FOR_REVIEW


def test_a_variation_whose_plan_is_wrong_is_named(people: People) -> None:
    document = written("post-and-return")
    document["variations"].append(
        {
            "key": "crowd",
            "title": "On one spot",
            "rung": "harder",
            "changes": [{"type": "move_item", "key": "g1", "x_m": 10.0, "y_m": 6.5}],
        }
    )
    drill = make(people.coach, **document)
    with pytest.raises(Refused, match="In “On one spot”: Green 1 and green 4 stand on the same spot"):
        actions.send_for_review(actor=acting(people.coach), public_id=drill.public_id)


def test_the_page_says_what_the_plan_keeps_from_review(
    visitor: Callable[[User | None], Client], people: People
) -> None:
    document = written("post-and-return")
    document["scene"]["claims"] = [{"kind": "goal"}]
    drill = make(people.coach, **document)
    text = visitor(people.coach).get(f"/library/{drill.public_id}/").content.decode()
    assert (
        text.count("The text says “goal”, but the moves do not show it.") == 2
    )  # beside the plan, and before review
    assert "A goal: <b>not shown</b>" in text
