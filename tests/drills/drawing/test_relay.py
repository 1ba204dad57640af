"""A drawing laid again on another grid and for other numbers: what stays, what goes, and that it is said."""

import math
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from drills.drawing.checks import check, unplayable
from drills.drawing.checks.motion import speed_of
from drills.drawing.pose import moves
from drills.drawing.relay import Relaid, relay
from drills.game.format import Format
from drills.game.groups import FormatSlot
from drills.game.places import Layout
from drills.game.places.seats import Seat
from drills.game.scene import BallPath, Claim, Scene, SceneGoal, ScenePlayer
from tests.drills.drawing.scenes import four_a_side, six_steps

WRITTEN = "GK+4v4+GK+2"


def laid(text: str = WRITTEN, length_m: float = 30, width_m: float = 20, **more: object) -> Relaid:
    scene = more.pop("scene", None) or four_a_side()
    things = bool(more.pop("things", False))
    layout = Layout(
        activity="directional game",
        format=Format.parse(text),
        length_m=length_m,
        width_m=width_m,
        title=scene.title,
        **more,
    )
    return relay(scene, layout, things=things)


def test_the_same_numbers_on_the_same_grid_are_the_drawing() -> None:
    assert laid() == Relaid(four_a_side())


def test_a_larger_grid_stretches_the_plan_and_its_times_and_loses_nothing() -> None:
    small, large = four_a_side(six_steps()), laid(length_m=45, width_m=24, scene=four_a_side(six_steps()))
    found = large.scene
    assert (large.missing, large.moves, len(found.steps)) == ((), True, 6)
    at = {each.key: (each.x_m, each.y_m) for each in found.players}
    assert (at["a1"], at["b3"]) == ((6, 12), (24, 7.2))
    assert (at["n1"], at["n2"]) == ((15, 25), (30, -1))  # a metre outside the line, as drawn
    assert [(each.x_m, each.length_m, each.width_m) for each in found.zones] == [(0, 15, 24), (30, 15, 24)]
    assert found.steps[-1].end_s == pytest.approx(small.steps[-1].end_s * 1.5)
    for (_, before), (_, after) in zip(moves(small), moves(found), strict=True):
        assert speed_of(found, after) <= speed_of(small, before) + 0.05


def test_each_group_of_a_side_keeps_its_number() -> None:
    """Eight dribblers and two taggers: with six players two taggers stay, whoever was drawn first."""
    spots = [(x, y) for x in (3, 8, 13, 18, 23) for y in (5, 15)]
    players = tuple(
        ScenePlayer(key=f"p{n}", x_m=x, y_m=y, bib="no bib" if n < 8 else "orange")
        for n, (x, y) in enumerate(spots)
    )
    drawn = Scene(length_m=26, width_m=20, players=players)
    for dribblers, taggers in ((4, 2), (9, 3)):
        seats = (*[Seat("dribblers", "no bib")] * dribblers, *[Seat("taggers", "orange")] * taggers)
        layout = Layout(
            activity="fun game",
            format=Format.of(dribblers + taggers),
            length_m=26,
            width_m=20,
            seats={FormatSlot("A", "inside"): seats},
        )
        found = relay(drawn, layout).scene.players
        assert Counter(each.bib for each in found) == {"no bib": dribblers, "orange": taggers}
    alone = Layout(activity="fun game", format=Format.of(10), length_m=26, width_m=20, bibs={"A": "red"})
    assert {each.bib for each in relay(drawn, alone).scene.players} == {"red"}


def test_a_goal_never_outgrows_its_edge() -> None:
    goal = next(each for each in laid(width_m=6).scene.goals if each.key == "left")
    assert (goal.width_m, goal.along_m) == (4.8, 3)


def test_who_is_too_many_leaves_with_their_moves_and_it_is_said() -> None:
    scene = four_a_side(six_steps())
    found = laid("GK+3v4+GK+2", scene=scene)
    gone = {each.key for each in scene.players} - {each.key for each in found.scene.players}
    assert len(gone) == 1
    key = gone.pop()
    lost = sum(
        1 for _, move in moves(scene) if key in (getattr(move, "who", None), getattr(move, "to", None))
    )
    assert [(each.key, each.items, each.params["count"]) for each in found.missing[:1]] == [
        ("left-out-moves", (key,), str(lost))
    ]
    kept = sum(1 for _ in moves(found.scene))
    assert kept + lost == sum(1 for _ in moves(scene))


def test_who_has_no_move_leaves_first_and_nothing_is_lost() -> None:
    idle = laid("GK+4v3+GK+2")
    busy = {move.who for _, move in moves(four_a_side()) if not isinstance(move, BallPath)}
    gone = {each.key for each in four_a_side().players} - {each.key for each in idle.scene.players}
    assert (len(gone), gone & busy, idle.missing) == (1, set(), ())


def test_who_came_in_addition_stands_clear_wears_a_free_number_and_is_named() -> None:
    found = laid("GK+5v4+GK+3")
    new = found.scene.players[-2:]
    assert [(each.side, each.label, each.place) for each in new] == [
        ("A", "5", "inside"),
        ("neutral", "3", "outside"),
    ]
    others = found.scene.players[:-2]
    assert min(math.dist((a.x_m, a.y_m), (b.x_m, b.y_m)) for a in new for b in others) > 1.3
    assert [each.key for each in found.missing] == ["no-moves-yet"]
    assert found.missing[0].text == (
        "Blue 5, yellow floater 3: nobody drew them. They stand at the start and have no moves."
    )


def test_tonights_bibs_are_worn_and_keepers_keep_theirs() -> None:
    found = laid(bibs={"A": "green", "neutral": "pink"}).scene
    assert {each.bib for each in found.players if each.side == "A" and each.kind == "player"} == {"green"}
    assert {each.bib for each in found.players if each.kind == "keeper"} == {"blue", "red"}


def test_a_shot_at_a_goal_that_is_gone_is_left_out() -> None:
    scene = four_a_side()
    shot = BallPath(
        ball="ball", to="right", start_s=scene.steps[-1].start_s, end_s=scene.steps[-1].start_s + 0.5
    )
    steps = (*scene.steps[:-1], replace(scene.steps[-1], moves=(shot,)))
    mini = SceneGoal(key="mini", edge="left", along_m=10)
    found = laid(scene=replace(scene, steps=steps), goals=(mini,), things=True)
    assert [each.key for each in found.scene.goals] == ["mini"]
    assert [(each.key, each.params["number"]) for each in found.missing] == [
        ("left-out-ball", str(len(steps))),
        ("left-out-step", str(len(steps))),
    ]


def test_a_claim_that_is_no_longer_shown_is_said_and_does_not_stand() -> None:
    scene = replace(four_a_side(), claims=(Claim(kind="passes", number=1), Claim(kind="goal")))
    assert [each for each in check(scene) if each.key == "claim"] == []
    found = laid("GK+1v4+GK+2", scene=scene)
    assert [each.params["claim"] for each in found.missing if each.key == "left-out-claim"] == [
        "passes",
        "goal",
    ]
    assert found.scene.claims == ()


def test_moves_that_can_no_longer_be_played_give_way_to_a_start() -> None:
    far = replace(four_a_side().steps[0], end_s=599.0)
    found = laid(length_m=120, scene=replace(four_a_side(), steps=(far,)))  # four times 599 s is no scene
    assert (found.moves, found.scene.steps, [each.key for each in found.missing]) == (
        False,
        (),
        ["start-only"],
    )


@given(
    a=st.integers(1, 8),
    b=st.integers(0, 8),
    neutrals=st.integers(0, 4),
    length_m=st.integers(15, 60),
    width_m=st.integers(12, 45),
    waiting=st.integers(0, 3),
)
@settings(max_examples=40, deadline=None)
def test_whatever_the_numbers_everybody_has_a_place(
    a: int, b: int, neutrals: int, length_m: int, width_m: int, waiting: int
) -> None:
    text = f"{a}v{b}" if b else f"{a}"
    wanted = Format.parse(f"{text}+{neutrals}" if neutrals and b else text)
    layout = Layout(activity="possession", format=wanted, length_m=length_m, width_m=width_m, waiting=waiting)
    found = relay(four_a_side(), layout)
    assert unplayable(found.scene, wanted) == []
    assert sum(each.place == "queue" for each in found.scene.players) == waiting
    assert len(found.scene.players) == wanted.players + waiting
