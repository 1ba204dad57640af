"""What stands at the edges of zones, and their fixed goals: kept, typed, said, drawn."""

import re
from decimal import Decimal
from typing import Any, get_args

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from club import actions, pages
from club.choices import EDGES, AtEdge, FixedGoalKind
from club.errors import Refused
from club.forms import PitchForm, ZoneForm
from club.limits import FIXED_GOALS
from club.models import Zone
from club.validators import fixed_goals
from drills.game.document.choices import GoalSize
from drills.game.evening import STANDS
from drills.game.places.described import GOAL_WIDTHS_M
from drills.game.space import Edge
from tests.factories import PitchFactory, ZoneFactory
from tests.people import World, signed_in

GOAL = {"edge": "left", "along": 0.5, "size": "full"}
OPEN = {f"edge_{edge}": "open" for edge in EDGES}
NEW_PITCH = {"name": "Long Meadow", "surface": "grass", "parts": "1", **OPEN}
ZONE = {"name": "North", "length_m": "40", "width_m": "30", **OPEN}


def edges_of(zone: Zone) -> tuple[str, ...]:
    return tuple(getattr(zone, f"edge_{edge}") for edge in ("left", "right", "bottom", "top"))


def test_the_club_and_the_drills_mean_the_same_by_the_same_words() -> None:
    assert set(AtEdge.values) == set(STANDS)
    assert list(FixedGoalKind.values) == list(GoalSize)
    assert set(EDGES) == set(get_args(Edge))
    assert {size: pages.ground.GOALS_M[FixedGoalKind(size)] for size in GoalSize} == GOAL_WIDTHS_M


# Kept ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "value", [[], [GOAL], [GOAL | {"along": 0}, GOAL | {"along": 1}], [GOAL] * FIXED_GOALS]
)
def test_goals_that_can_stand_there(value: Any) -> None:
    fixed_goals(value)


@pytest.mark.parametrize(
    "value",
    [
        "at the fence",
        {"edge": "left"},
        [[]],
        [{**GOAL, "edge": "free"}],
        [{**GOAL, "edge": ["left"]}],
        [{**GOAL, "size": "huge"}],
        [{**GOAL, "along": -0.1}],
        [{**GOAL, "along": 1.1}],
        [{**GOAL, "along": True}],
        [{**GOAL, "along": "0.5"}],
        [{**GOAL, "along": float("nan")}],
        [{"edge": "left", "along": 0.5}],
        [{**GOAL, "net": True}],
        [GOAL] * (FIXED_GOALS + 1),
    ],
)
def test_goals_that_can_not(value: Any) -> None:
    with pytest.raises(ValidationError):
        fixed_goals(value)


@pytest.mark.django_db
def test_a_zone_is_open_all_round_until_somebody_says_otherwise() -> None:
    zone = actions.add_zone(pitch=PitchFactory(), name="North", length_m=40, width_m=30)
    assert (edges_of(zone), zone.fixed_goals) == (("open",) * 4, [])


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("field", "value"),
    [("edge_left", "hedge"), ("fixed_goals", [{"edge": "left"}]), ("fixed_goals", [GOAL] * 9)],
)
def test_what_can_not_stand_there_is_not_kept(field: str, value: Any) -> None:
    with pytest.raises(Refused) as refused:
        actions.add_zone(pitch=PitchFactory(), name="North", length_m=40, width_m=30, **{field: value})
    assert list(refused.value.by_field()) == [field]


# Typed ---------------------------------------------------------------------------------------------------------


@pytest.mark.django_db
def test_a_zone_as_typed(world: World) -> None:
    zone = ZoneFactory(name="North", length_m=40, width_m=30)
    typed = ZONE | {
        "version": "1", "edge_left": "fence", "edge_top": "group", "goal_left": "age group",
        "goal_bottom": "mini", "along_bottom_m": "10",
    }  # fmt: skip
    url = reverse("club:zone-change", args=[zone.public_id])
    assert signed_in(world.people.director).post(url, typed).status_code == 302
    zone.refresh_from_db()
    assert edges_of(zone) == ("fence", "open", "open", "group")
    assert zone.fixed_goals == [
        {"edge": "left", "along": 0.5, "size": "age group"},
        {"edge": "bottom", "along": 0.25, "size": "mini"},
    ]
    shown = ZoneForm.of(zone).initial
    assert (shown["goal_left"], shown["along_left_m"]) == ("age group", None)
    assert (shown["goal_bottom"], shown["along_bottom_m"]) == ("mini", Decimal("10.0"))
    assert shown["goal_top"] == ""


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"edge_left": "hedge"}, "edge_left", "Select a valid choice"),
        ({"edge_top": ""}, "edge_top", "required"),
        ({"goal_left": "huge"}, "goal_left", "Select a valid choice"),
        ({"along_top_m": "3"}, "goal_top", "Say which goal stands there"),
        ({"goal_left": "mini", "along_left_m": "30.5"}, "along_left_m", "beyond the corner, at 30 m"),
        ({"goal_top": "mini", "along_top_m": "40.5"}, "along_top_m", "beyond the corner, at 40 m"),
        ({"goal_top": "mini", "along_top_m": "-1"}, "along_top_m", "greater than or equal to 0"),
        ({"goal_top": "mini", "along_top_m": "there"}, "along_top_m", "Enter a number"),
    ],
)
def test_what_is_wrong_is_said_beside_its_field(typed: dict[str, str], field: str, words: str) -> None:
    form = ZoneForm(ZONE | typed)
    assert list(form.errors) == [field]
    assert words in form.errors[field][0]


@pytest.mark.django_db
def test_what_was_typed_stays_when_something_is_wrong(world: World) -> None:
    pitch = PitchFactory()
    typed = ZONE | {"edge_left": "fence", "goal_left": "full", "along_left_m": "99"}
    page = signed_in(world.people.director).post(reverse("club:zone-add", args=[pitch.public_id]), typed)
    text = page.content.decode()
    assert page.status_code == 200
    assert '<option value="fence" selected>' in text
    assert '<option value="full" selected>' in text
    assert 'value="99"' in text
    assert not pitch.zones.exists()


@pytest.mark.django_db
def test_two_directors_at_once_see_each_others_edges() -> None:
    zone = ZoneFactory(name="North", length_m=40, width_m=30)
    actions.change_zone(zone=zone, version=1, edge_right="fence", fixed_goals=[GOAL])
    form = ZoneForm.of(zone, ZONE | {"version": "1", "edge_left": "group"})
    assert not form.done_by(actions.change_zone, zone=zone)
    assert {each.label: each.theirs for each in form.differences} == {
        "Left end": "open ground",
        "Right end": "a fence, wall or hedge",
        "Goal at the left end": "full-size goal",
    }
    again = ZoneForm.of(Zone.objects.get(), form.data)
    assert again.done_by(actions.change_zone, zone=zone)
    kept = Zone.objects.get()
    assert (edges_of(kept), kept.fixed_goals) == (("group", "fence", "open", "open"), [GOAL])


@pytest.mark.django_db
def test_a_second_goal_at_an_edge_is_kept(world: World) -> None:
    second = {"edge": "left", "along": 0.9, "size": "mini"}
    zone = ZoneFactory(name="North", length_m=40, width_m=30, fixed_goals=[GOAL, second])
    form = ZoneForm.of(zone, ZONE | {"version": "1", "goal_left": "small", "along_left_m": "3"})
    assert form.done_by(actions.change_zone, zone=zone)
    assert Zone.objects.get().fixed_goals == [{"edge": "left", "along": 0.1, "size": "small"}, second]


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("typed", "zones"),
    [
        # Seen along its length the whole pitch has the edges that were typed.
        ({"length_m": "90", "width_m": "60", "edge_left": "fence", "edge_top": "group"},
         [("Whole pitch", 90, 60, ("fence", "open", "open", "group"))]),
        # The shorter side first: turned, so that what was the left end is the near side.
        ({"length_m": "60", "width_m": "90", "edge_left": "fence", "edge_top": "group"},
         [("Whole pitch", 90, 60, ("group", "open", "fence", "open"))]),
        ({"length_m": "90", "width_m": "60", "parts": "2", "edge_left": "fence", "edge_top": "group"},
         [("Space 1", 60, 45, ("group", "open", "fence", "group")),
          ("Space 2", 60, 45, ("group", "open", "group", "open"))]),
        ({"length_m": "90", "width_m": "30", "parts": "3", "edge_right": "fence"},
         [("Space 1", 30, 30, ("open", "open", "open", "group")),
          ("Space 2", 30, 30, ("open", "open", "group", "group")),
          ("Space 3", 30, 30, ("open", "open", "group", "fence"))]),
    ],
)  # fmt: skip
def test_a_new_pitch_has_groups_at_its_joints(typed: dict[str, str], zones: list[Any]) -> None:
    assert PitchForm(NEW_PITCH | typed).done_by(actions.add_pitch)
    made = [
        (each.name, each.length_m, each.width_m, edges_of(each)) for each in Zone.objects.order_by("position")
    ]
    assert made == zones


def test_a_pitch_with_an_odd_edge_is_refused_at_the_field() -> None:
    form = PitchForm(NEW_PITCH | {"length_m": "90", "width_m": "60", "edge_bottom": "river"})
    assert list(form.errors) == ["edge_bottom"]


# Said and drawn ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("edges", "goals", "line"),
    [
        ("oooo", [], "open all round"),
        ("oooo", [("top", "mini")], "open all round, mini goal at the far side"),
        ("ffff", [], "fence all round"),
        ("fffg", [("bottom", "age group")],
         "fence at three sides, another group beyond the far side, age group's goal at the near side"),
        ("offf", [], "fence at three sides, open at the left end"),
        ("ffoo", [], "fence at the left end and the right end"),
        ("ooog", [], "another group beyond the far side"),
        ("gggo", [], "another group beyond the left end, the right end and the near side"),
        ("fogo", [("left", "full")],
         "fence at the left end, another group beyond the near side, full-size goal at the left end"),
    ],
)  # fmt: skip
def test_ground_in_one_line(edges: str, goals: list[tuple[str, str]], line: str) -> None:
    words = {"o": "open", "f": "fence", "g": "group"}
    found = {edge: words[letter] for edge, letter in zip(EDGES, edges, strict=True)}
    assert pages.ground_line(found, goals) == line


@pytest.mark.django_db
def test_the_list_says_what_is_around_each_zone(world: World) -> None:
    ZoneFactory(edge_left="fence", edge_top="group", fixed_goals=[GOAL])
    text = signed_in(world.people.reader).get("/club/pitches/").content.decode()
    line = "fence at the left end, another group beyond the far side, full-size goal at the left end"
    assert f"50 × 40 m · {line}" in text


@pytest.mark.django_db
def test_the_api_shows_edges_and_goals(world: World) -> None:
    ZoneFactory(edge_left="fence", edge_top="group", fixed_goals=[GOAL])
    (pitch,) = signed_in(world.people.reader).get("/api/v1/pitches/").json()["results"]
    (zone,) = pitch["zones"]
    assert [zone[f"edge_{edge}"] for edge in EDGES] == ["fence", "open", "open", "group"]
    assert zone["fixed_goals"] == [GOAL]


def numbers(path: str) -> list[float]:
    return [float(each) for each in re.findall(r"-?[0-9.]+", path)]


def test_the_sketch_is_to_scale_and_goals_stand_where_they_are() -> None:
    edges = {"left": "fence", "right": "open", "bottom": "group", "top": "open"}
    drawn = pages.sketch(40, 20, edges, [("left", 0.25, "full"), ("top", 1.0, "mini")])
    assert [stands for stands, _path in drawn.edges] == ["fence", "open", "group", "open"]
    left, _right, bottom, _top = (numbers(path) for _stands, path in drawn.edges)
    tall, wide = left[1] - left[3], bottom[2] - bottom[0]
    assert wide / tall == pytest.approx(2, abs=0.01)
    # A quarter up the left end, measured from the near corner; 7.32 m wide.
    x, y, _deep, width, _back = numbers(drawn.goals[0])
    assert (x, y + width / 2) == (pytest.approx(left[0]), pytest.approx(left[1] - tall / 4, abs=0.2))
    assert width / tall == pytest.approx(7.32 / 20, abs=0.01)
    assert drawn.words.startswith("fence at the left end, another group beyond the near side")


@pytest.mark.parametrize(
    "typed", [{}, {"length_m": "x"}, {"edge_left": "hedge"}, {"goal_left": "full", "along_left_m": "x"}]
)
def test_a_form_is_drawn_whatever_was_typed(typed: dict[str, str]) -> None:
    form = ZoneForm(ZONE | typed) if typed else ZoneForm()
    form.is_valid()
    assert len(form.drawn().edges) == 4
