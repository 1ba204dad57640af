"""Plans that several tests look at. The club and everybody in it are invented; players are numbers."""

from drills.game.scene import (
    BallPath,
    Run,
    RunWithBall,
    Scene,
    SceneBall,
    SceneCone,
    SceneGate,
    SceneGoal,
    ScenePlayer,
    SceneZone,
    Spot,
    Step,
)


def player(key, x_m, y_m, side="A", **more):
    bib = more.pop("bib", {"A": "blue", "B": "red", "neutral": "yellow"}.get(side, "green"))
    return ScenePlayer(key=key, x_m=x_m, y_m=y_m, side=side, bib=bib, label=key.lstrip("abcnk"), **more)


def four_a_side(steps=(), **more):
    """GK+4v4+GK+2 in three zones on 30 × 20 m, as a coach would draw it."""
    return Scene(
        title="Out of the first zone",
        length_m=30,
        width_m=20,
        margin_m=3,
        players=(
            player("a1", 4, 10),
            player("a2", 11, 16),
            player("a3", 12, 4),
            player("a4", 19, 11),
            player("b1", 9, 10, "B"),
            player("b2", 15, 14, "B"),
            player("b3", 16, 6, "B"),
            player("b4", 24, 9, "B"),
            player("n1", 10, 21, "neutral", place="outside", edge="top"),
            player("n2", 20, -1, "neutral", place="outside", edge="bottom"),
            player("ka1", 0.8, 10, kind="keeper", place="goal"),
            player("kb1", 29.2, 10, "B", kind="keeper", place="goal"),
        ),
        goals=(
            SceneGoal(key="left", edge="left", along_m=10, width_m=5, small=False),
            SceneGoal(key="right", edge="right", along_m=10, width_m=5, small=False),
            SceneGoal(key="third", edge="top", along_m=25, width_m=2, open=False),
        ),
        cones=(SceneCone(key="c1", x_m=0, y_m=0), SceneCone(key="c2", x_m=30, y_m=20)),
        zones=(
            SceneZone(key="first", x_m=0, y_m=0, length_m=10, width_m=20, title="First zone"),
            SceneZone(key="last", x_m=20, y_m=0, length_m=10, width_m=20, title="Last zone"),
        ),
        gates=(SceneGate(key="gate", x_m=15, y_m=18),),
        balls=(SceneBall(key="ball", at="a1"), SceneBall(key="supply", x_m=3, y_m=-1.5, count=6)),
        coach=Spot(x_m=14, y_m=-2),
        steps=steps or three_steps(),
        **more,
    )


def three_steps():
    """a1 to a2; a2 carries it through the gate; a3 runs, gets it and finishes."""
    return (
        Step(
            key="s1",
            title="Past the first line",
            start_s=0,
            end_s=2,
            moves=(
                BallPath(ball="ball", to="a2", start_s=0, end_s=1),
                Run(who="a4", to_x_m=22, to_y_m=15, start_s=0, end_s=2),
            ),
        ),
        Step(
            key="s2",
            start_s=2,
            end_s=5,
            moves=(
                RunWithBall(who="a2", ball="ball", to_x_m=17, to_y_m=18, start_s=2, end_s=4),
                Run(who="a3", to_x_m=24, to_y_m=5, start_s=2, end_s=5),
            ),
        ),
        Step(
            key="s3",
            start_s=5,
            end_s=7,
            moves=(
                BallPath(ball="ball", to="a3", start_s=5, end_s=6),
                BallPath(ball="ball", to="right", start_s=6, end_s=6.5),
            ),
        ),
    )


def six_steps():
    """Twelve players, six steps, everything that can move: the largest plan that is usual."""
    every = list(three_steps())
    for n, key in enumerate(("s4", "s5", "s6")):
        start = 7 + 2 * n
        moves = (
            BallPath(ball="ball", to=f"a{n + 1}", start_s=start, end_s=start + 1),
            RunWithBall(
                who=f"a{n + 1}", ball="ball", to_x_m=12, to_y_m=8 + n, start_s=start + 1, end_s=start + 2
            ),
            Run(who="b2", to_x_m=14 + n, to_y_m=12, start_s=start, end_s=start + 2),
        )
        every.append(Step(key=key, start_s=start, end_s=start + 2, moves=moves))
    return tuple(every)
