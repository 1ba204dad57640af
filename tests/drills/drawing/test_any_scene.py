"""Whatever a coach may draw: it is drawn, told and checked without falling over, and always the same."""

import time
from xml.etree.ElementTree import fromstring

from hypothesis import given, settings
from hypothesis import strategies as st

from drills.drawing.checks import check
from drills.drawing.lanes import open_options
from drills.drawing.svg import DrawingOptions, render
from drills.game.scene import (
    BallPath,
    Run,
    RunWithBall,
    Scene,
    SceneBall,
    SceneGate,
    SceneGoal,
    ScenePlayer,
    SceneZone,
    Spot,
    Step,
)

metres = st.floats(-200, 200).map(lambda number: round(number, 2))
lengths = st.floats(0.1, 130).map(lambda number: round(number, 2))
KEYS = ("p1", "p2", "p3")


@st.composite
def players(draw, key):
    return ScenePlayer(
        key=key,
        x_m=draw(metres),
        y_m=draw(metres),
        side=draw(st.sampled_from(("A", "B", "C", "D", "neutral"))),
        kind=draw(st.sampled_from(("player", "keeper", "adult"))),
        place=draw(st.sampled_from(("inside", "outside", "queue", "goal"))),
        label=draw(st.text(max_size=40)),
        bib=draw(st.sampled_from(("", "red", "tartan", "light blue"))),
    )


@st.composite
def moves(draw):
    kind = draw(st.sampled_from(("run", "carry", "pass", "shot", "away")))
    start = draw(st.floats(0, 4))
    when = {"start_s": start, "end_s": start + draw(st.floats(0.1, 5))}
    who = draw(st.sampled_from(KEYS))
    to = {"to_x_m": draw(metres), "to_y_m": draw(metres)}
    if kind == "run":
        return Run(who=who, **to, **when)
    if kind == "carry":
        return RunWithBall(who=who, ball="ball", **to, **when)
    if kind == "away":
        return BallPath(ball="ball", high=True, **to, **when)
    return BallPath(ball="ball", to=who if kind == "pass" else "goal", **when)


@st.composite
def scenes(draw):
    length, width = draw(lengths), draw(lengths)
    return Scene(
        title=draw(st.text(max_size=20)),
        length_m=length,
        width_m=width,
        margin_m=draw(st.floats(0, 40)),
        players=tuple(draw(players(key)) for key in KEYS),
        goals=(
            SceneGoal(
                key="goal",
                edge=draw(st.sampled_from(("left", "right", "top", "bottom", "free"))),
                along_m=draw(metres),
                width_m=draw(lengths),
                open=draw(st.booleans()),
            ),
        ),
        zones=(
            SceneZone(
                key="zone", x_m=draw(metres), y_m=draw(metres), length_m=draw(lengths), width_m=draw(lengths)
            ),
        ),
        gates=(SceneGate(key="gate", x_m=draw(metres), y_m=draw(metres), across=draw(st.booleans())),),
        balls=(SceneBall(key="ball", at=draw(st.sampled_from((None, *KEYS)))),),
        coach=Spot(x_m=draw(metres), y_m=draw(metres)),
        steps=(Step(key="s1", start_s=0, end_s=10, moves=tuple(draw(st.lists(moves(), max_size=6)))),),
    )


@settings(max_examples=40, deadline=None)
@given(
    scenes(), st.sampled_from((0, 90, 180, 270)), st.booleans(), st.sampled_from(("no", "in print", "always"))
)
def test_any_scene_is_drawn_and_checked(scene, turn, thumbnail, hatched):
    options = DrawingOptions(turn=turn, thumbnail=thumbnail, hatched=hatched, lanes=open_options(scene))
    text = render(scene, options=options)
    assert text == render(scene, options=options)
    assert fromstring(text).get("role") == "img"
    assert {each.severity for each in check(scene)} <= {"error", "warning"}


def test_the_largest_scene_is_drawn_and_checked_quickly():
    many = tuple(
        ScenePlayer(key=f"p{n}", x_m=n % 14 * 4, y_m=n // 14 * 4, side="AB"[n % 2]) for n in range(190)
    )
    steps = tuple(
        Step(
            key=f"s{n}",
            start_s=n * 10,
            end_s=n * 10 + 10,
            moves=tuple(
                BallPath(ball="ball", to=f"p{k}", start_s=n * 10 + k, end_s=n * 10 + k + 1) for k in range(10)
            ),
        )
        for n in range(20)
    )
    scene = Scene(length_m=60, width_m=60, players=many, balls=(SceneBall(key="ball", at="p0"),), steps=steps)
    started = time.perf_counter()
    render(scene)
    check(scene)
    assert time.perf_counter() - started < 8
