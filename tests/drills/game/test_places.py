import itertools
import math

import pytest

from drills.drawing.checks import check
from drills.game.document.choices import Activity
from drills.game.format import Format
from drills.game.groups import FormatSlot
from drills.game.places import Layout, lay_out
from drills.game.places.seats import Seat, seats_of
from drills.game.scene import SceneGate, SceneGoal, SceneZone
from tests.drills.samples import small

ACTIVITIES = (
    "arrival",
    "warm-up",
    "rondo",
    "possession",
    "directional game",
    "waves",
    "finishing",
    "pattern",
    "technique",
    "duel",
    "set piece",
    "fun game",
    "match",
    "keeper",
)
FORMATS = (
    "1v1",
    "3v2",
    "5v2",
    "4v4+4",
    "4v4+2in+2",
    "4(+2)v4(+2)",
    "4v4v4",
    "GK+5v5+GK",
    "6v4+GK",
    "1",
    "12",
    "12v3",
)

SIZES = ((9, 9), (20, 15), (15, 30), (60, 40))


def goals(length, width):
    return (
        SceneGoal(key="left", edge="left", along_m=width / 2, width_m=3),
        SceneGoal(key="right", edge="right", along_m=width / 2, width_m=3),
        SceneGoal(key="top", edge="top", along_m=length / 2, width_m=2),
    )


def test_every_activity_of_a_drill_is_tried_here():
    assert list(ACTIVITIES) == [each.value for each in Activity]


@pytest.mark.parametrize("activity", ACTIVITIES)
def test_every_start_passes_its_own_checks(activity):
    for text, (length, width) in itertools.product(FORMATS, SIZES):
        numbers = Format.parse(text)
        if length * width / numbers.players_inside < 6:
            continue  # tighter than anybody would play
        scene = start(activity, text, length, width, goals=goals(length, width), waiting=2, adults=1)
        assert [each.text for each in check(scene, numbers)] == [], (text, length, width)


def start(activity, text, length, width, **more):
    return lay_out(
        Layout(activity=activity, format=Format.parse(text), length_m=length, width_m=width, **more)
    )


def of(scene, **wanted):
    return [
        each for each in scene.players if all(getattr(each, name) == value for name, value in wanted.items())
    ]


def test_the_same_call_gives_the_same_plan():
    assert start("possession", "4v4+4", 25, 20) == start("possession", "4v4+4", 25, 20)


def test_four_outside_players_take_an_edge_each():
    outside = of(start("possession", "4v4+4", 25, 20), place="outside")
    assert sorted(each.edge for each in outside) == ["bottom", "left", "right", "top"]


def test_own_outside_players_face_each_other():
    scene = start("possession", "4(+2)v4(+2)", 24, 20)
    edges = {side: {each.edge for each in of(scene, side=side, place="outside")} for side in "AB"}
    assert edges == {"A": {"top", "bottom"}, "B": {"left", "right"}}


def test_outside_players_keep_to_the_edges_they_are_given():
    scene = start("possession", "4v4+4", 25, 20, edges=("left", "right"))
    assert {each.edge for each in of(scene, place="outside")} == {"left", "right"}


def test_nobody_outside_stands_in_a_net():
    scene = start("possession", "4v4+4", 25, 20, goals=goals(25, 20))
    for goal in scene.goals:
        for each in of(scene, place="outside", edge=goal.edge):
            along = each.y_m if goal.edge in ("left", "right") else each.x_m
            assert abs(along - goal.along_m) > goal.width_m / 2


def test_the_side_with_the_ball_is_wide_and_the_other_tight():
    scene = start("possession", "4v4", 25, 20)

    def spread(side):
        spots = [(each.x_m, each.y_m) for each in of(scene, side=side)]
        return min(math.dist(a, b) for a, b in itertools.combinations(spots, 2))

    assert spread("A") > spread("B")


def test_a_rondo_has_its_outer_players_on_the_rim_and_two_inside():
    scene = start("rondo", "5v2", 9, 9)
    rim = [min(each.x_m, each.y_m, 9 - each.x_m, 9 - each.y_m) for each in of(scene, side="A")]
    middle = [math.dist((each.x_m, each.y_m), (4.5, 4.5)) for each in of(scene, side="B")]
    assert max(rim) < 1
    assert max(middle) < 2.5


def test_each_side_lines_up_before_its_own_end():
    scene = start("match", "GK+5v5+GK", 40, 28, goals=goals(40, 28))
    middle = {side: sum(each.x_m for each in of(scene, side=side, kind="player")) / 5 for side in "AB"}
    assert middle["A"] < 20 < middle["B"]
    assert middle["A"] + middle["B"] == pytest.approx(40, abs=0.2)


def test_keepers_stand_before_their_goals():
    scene = start("match", "GK+5v5+GK", 40, 28, goals=goals(40, 28))
    keepers = {each.side: (each.x_m, each.y_m) for each in of(scene, kind="keeper")}
    assert keepers == {"A": (0.9, 14), "B": (39.1, 14)}


def test_a_lone_keeper_guards_the_goal_that_is_shot_at():
    right = (SceneGoal(key="right", edge="right", along_m=10, width_m=5),)
    keeper = of(start("waves", "3v2+GK", 30, 20, goals=right), kind="keeper")[0]
    assert (keeper.side, keeper.edge, keeper.x_m) == ("B", "right", 29.1)


def test_those_who_wait_stand_behind_the_start_and_outside():
    waiting = of(start("waves", "3v2", 30, 20, waiting=4), place="queue")
    assert len(waiting) == 4
    assert max(each.x_m for each in waiting) < 0


@pytest.mark.parametrize(
    ("activity", "text", "balls"),
    [
        ("possession", "4v4", 1),
        ("arrival", "8", 8),
        ("technique", "8", 4),
        ("duel", "3v3", 3),
        ("fun game", "9v2", 9),
    ],
)
def test_balls_are_where_the_activity_needs_them(activity, text, balls):
    scene = start(activity, text, 20, 15)
    assert len(scene.balls) == balls
    assert {scene.item(each.at).side for each in scene.balls} == {"A"}


def test_a_ball_each_can_be_asked_for_and_spares_lie_outside():
    scene = start("technique", "6", 20, 15, ball_each=True, spare_balls=5)
    assert [each.count for each in scene.balls] == [1, 1, 1, 1, 1, 1, 5]
    assert scene.balls[-1].y_m < 0


def test_the_coach_stands_outside_and_clear():
    scene = start("possession", "4v4+4", 25, 20)
    assert scene.coach.y_m < 0
    assert min(math.dist((scene.coach.x_m, scene.coach.y_m), (p.x_m, p.y_m)) for p in scene.players) > 2


def test_bibs_are_those_of_the_night():
    scene = start("possession", "4v4+2", 25, 20, bibs={"A": "green", "neutral": "white"})
    bibs = {side: {each.bib for each in of(scene, side=side)} for side in ("A", "B", "neutral")}
    assert bibs == {"A": {"green"}, "B": {"red"}, "neutral": {"white"}}


def test_no_two_sides_wear_the_same_bib():
    scene = start("possession", "4v4+2", 25, 20, bibs={"A": "red"})
    bibs = {side: {each.bib for each in of(scene, side=side)} for side in ("A", "B", "neutral")}
    assert bibs == {"A": {"red"}, "B": {"blue"}, "neutral": {"yellow"}}


def test_groups_of_one_side_wear_their_own_bibs():
    seats = {FormatSlot("A", "inside"): tuple(Seat(bib=bib) for bib in ("red", "red", "no bib"))}
    scene = start("warm-up", "4", 20, 20, bibs={"A": "green"}, seats=seats)
    assert [each.bib for each in of(scene, side="A")] == ["red", "red", "no bib", "green"]
    keeper = start("finishing", "3+GK", 20, 20, bibs={"A": "green"}, seats=seats)
    assert [each.bib for each in of(keeper, kind="keeper")] == ["green"]


HENS = [
    {"key": "hens", "name": "hens", "plays_for": "itself", "place": "inside", "least": 2, "most": 14},
    {"key": "foxes", "name": "foxes", "plays_for": "itself", "place": "inside", "least": 2, "role": "tagger", "bib": "orange"},
]  # fmt: skip


def bibs_of(document, text):
    return {
        slot.side: [seat.bib for seat in seats]
        for slot, seats in seats_of(document, Format.parse(text)).items()
    }


def test_the_groups_are_counted_for_the_plan():
    document = small(format="10", groups=HENS)
    assert bibs_of(document, "10") == {"A": ["no bib"] * 8 + ["orange"] * 2}
    assert bibs_of(document, "3") == {"A": ["no bib", "no bib", "orange"]}  # as near as can be


def test_who_keeps_to_a_zone_stands_in_it_and_sides_mingle_there():
    zone = SceneZone(key="west", x_m=0, y_m=0, length_m=8, width_m=20)
    seats = {FormatSlot(side, "inside"): (Seat(side, zone="west"), Seat(side)) for side in "AB"}
    scene = start("directional game", "2v2", 30, 20, zones=(zone,), seats=seats)
    kept = of(scene, place="zone")
    assert sorted(each.side for each in kept) == ["A", "B"]
    assert all(each.zone == "west" and each.x_m <= 8 for each in kept)
    assert [each.text for each in check(scene, Format.parse("2v2"))] == []


def test_each_group_outside_keeps_to_its_own_edges():
    seats = {
        FormatSlot("A", "outside"): (Seat("ends", edges=("left", "right")),) * 2,
        FormatSlot("B", "outside"): (Seat("lines", edges=("top", "bottom")),) * 2,
    }
    scene = start("possession", "4(+2)v4(+2)", 24, 20, seats=seats)
    assert {(each.group, each.edge) for each in of(scene, place="outside")} == {
        ("ends", "left"), ("ends", "right"), ("lines", "top"), ("lines", "bottom")
    }  # fmt: skip


def test_those_on_the_edges_of_a_drill_without_opponents_stand_on_the_rim():
    seats = {FormatSlot("A", "inside"): (*[Seat("outer", edges=("left", "right"))] * 2, Seat("turner"))}
    scene = start("technique", "3", 12, 10, seats=seats)
    assert sorted(each.x_m for each in of(scene, group="outer")) == [0.6, 11.4]


def test_nobody_waits_behind_a_goal():
    for edges, at in ((("left",), "bottom"), (("left", "bottom"), "top"), (("right",), "left")):
        goals_ = tuple(SceneGoal(key=edge, edge=edge, along_m=8, width_m=3) for edge in edges)
        waiting = of(start("match", "3v3", 30, 20, goals=goals_, waiting=3), place="queue")
        out = {"left": lambda p: p.x_m < -2, "bottom": lambda p: p.y_m < -2, "top": lambda p: p.y_m > 22}[at]
        assert len(waiting) == 3
        assert all(out(each) for each in waiting), (edges, at)


def test_labels_and_keys_count_through_each_side():
    scene = start("possession", "4(+2)v4+1in+1", 25, 20)
    assert [each.label for each in of(scene, side="A")] == ["1", "2", "3", "4", "5", "6"]
    assert sorted(each.key for each in of(scene, side="neutral")) == ["n1", "n2"]


def test_a_layout_and_plain_arguments_say_the_same():
    numbers = Format.parse("4v4")
    layout = Layout(activity="possession", format=numbers, length_m=25, width_m=20, waiting=1)
    assert lay_out(layout) == start("possession", "4v4", 25, 20, waiting=1)


def test_an_unknown_activity_is_refused_by_name():
    with pytest.raises(ValueError, match=r"^activity: 'chess'"):
        start("chess", "4v4", 25, 20)


def test_a_grid_without_length_is_refused():
    with pytest.raises(ValueError, match="length_m"):
        start("possession", "4v4", 0, 20)


def test_things_that_are_called_alike_have_keys_of_their_own():
    gate, zone = (
        SceneGate(key="gate", x_m=3, y_m=3),
        SceneZone(key="gate", x_m=0, y_m=0, length_m=4, width_m=4),
    )
    goal = SceneGoal(key="a1", edge="left", along_m=10)
    scene = start("possession", "3v3", 20, 20, gates=(gate,), zones=(zone,), goals=(goal,))
    keys = [each.key for each in scene.items()]
    assert len(set(keys)) == len(keys)
    assert {"gate", "gate-2", "a1", "a1-2"} <= set(keys)
