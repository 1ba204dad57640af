"""The plan in words: what the picture shows, for those who can't see it, and the names in its legend.

Every sentence is a message of `MESSAGES` with its values filled in, so that a page can translate it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from drills.drawing.paper import fmt
from drills.drawing.pose import ends_of, kicked
from drills.game.scene import (
    BallPath,
    Claim,
    ClaimKind,
    Move,
    Point,
    RunWithBall,
    Scene,
    SceneGoal,
    ScenePlayer,
    Step,
)

Translate = Callable[[str], str]

MESSAGES = {
    "plan": "Plan of a {length} × {width} m grid",
    "plan_of": "{title}: plan of a {length} × {width} m grid",
    "grid": "The grid is {length} m long and {width} m wide, the length from left to right.",
    "group": "{count} {name} {place}.",
    "zone": "{title}: {length} × {width} m, from {x} m to {x_end} m along the length.",
    "goal_edge": "A goal {wide} m wide on the {edge} edge{shut}.",
    "goal_free": "A goal {wide} m wide inside, open to the {edge}{shut}.",
    "shut": ", shut at first",
    "gates": "{count} gates to go through.",
    "gate": "One gate to go through.",
    "ball_with": "The ball is with {name}.",
    "ball_ground": "A ball lies on the ground.",
    "balls_each": "{count} players have a ball each.",
    "supply": "{count} balls lie ready.",
    "coach": "The coach stands {place} the grid.",
    "step": "Step {number}: {sentences}",
    "step_titled": "Step {number}, {title}: {sentences}",
    "runs": "{name} runs {metres} m {way}.",
    "carries": "{name} runs with the ball {metres} m {way}.",
    "passes": "{name} passes to {receiver}.",
    "lifts": "{name} plays it through the air to {receiver}.",
    "lifts_far": "{name} plays it through the air {metres} m {way}.",
    "shoots": "{name} shoots at the goal on the {edge} edge.",
    "shoots_free": "{name} shoots at the goal.",
    "plays": "{name} plays the ball {metres} m {way}.",
    "somebody": "somebody",
    "claim_step": "{claim} (step {number})",
}
CLAIMS: dict[ClaimKind, str] = {
    "third player finishes": "A third player finishes",
    "everyone touches it": "Everyone of the side touches it",
    "switch of side": "The ball is switched from one side to the other",
    "through a gate": "The ball goes through a gate",
    "into a zone": "The ball comes into the zone",
    "passes": "At least {number} passes",
    "goal": "A goal",
    "lane is open": "From {who} the pass to {to} is open",
    "lane is shut": "From {who} the pass to {to} is shut",
}
_WAYS = (
    "to the right",
    "up and to the right",
    "up",
    "up and to the left",
    "to the left",
    "down and to the left",
    "down",
    "down and to the right",
)
_PLACES = {
    "inside": "inside",
    "outside": "outside",
    "zone": "in a zone",
    "queue": "waiting in a queue",
    "goal": "in goal",
}


def as_written(text: str) -> str:
    return text


def say_claim(scene: Scene, claim: Claim, translate: Translate = as_written) -> str:
    """What the text says, as a sentence about this plan."""
    names = {each.key: player_name(each, translate) for each in scene.players}
    place = next((n for n, step in enumerate(scene.steps, start=1) if step.key == claim.step), None)
    values = {
        "who": names.get(claim.who or "", translate("whoever is on the ball")),
        "to": names.get(claim.to or "", claim.to or ""),
        "number": claim.number or 0,
    }
    said = translate(CLAIMS[claim.kind]).format(**values)
    return translate(MESSAGES["claim_step"]).format(claim=said, number=place) if place else said


def title_of(scene: Scene, translate: Translate = as_written) -> str:
    message = translate(MESSAGES["plan_of" if scene.title else "plan"])
    return message.format(title=scene.title, length=fmt(scene.length_m), width=fmt(scene.width_m))


def describe(scene: Scene, *, step: int | None = None, translate: Translate = as_written) -> str:
    """The set-up and each step in sentences; with `step` that one alone, with 0 only the set-up."""
    chosen = [(n, each) for n, each in enumerate(scene.steps, start=1) if step is None or n == step]
    told = _Told(scene, translate)
    return " ".join([*_set_up(told), *(_step(told, n, each) for n, each in chosen)])


def say_step(scene: Scene, number: int, translate: Translate = as_written) -> str:
    """What happens in one step, counted from 1."""
    return _sentences(_Told(scene, translate), scene.steps[number - 1])


def group_names(scene: Scene, translate: Translate = as_written) -> list[tuple[ScenePlayer, str]]:
    """One player for each look on the plan, with the group's name, in the order in which they are written."""
    found: dict[tuple[str, str, str], ScenePlayer] = {}
    for each in scene.players:
        found.setdefault((each.kind, each.side, each.bib), each)
    return [(each, group_name(each, translate)) for each in found.values()]


def group_name(player: ScenePlayer, translate: Translate = as_written) -> str:
    """What a coach calls the group: its bib, or its side where there is none."""
    if player.kind == "adult":
        return translate("adult")
    bib = translate(player.bib) if player.bib else ""
    if player.kind == "keeper":
        return f"{bib} {translate('keeper')}".strip()
    if player.side == "neutral":
        return f"{bib}, {translate('neutral')}" if bib else translate("neutral")
    return bib or f"{translate('side')} {player.side}"


def player_name(player: ScenePlayer, translate: Translate = as_written) -> str:
    """What a coach calls one player: bib and number, and the role where there is one."""
    name = group_name(player, translate).replace(", ", " ")
    name = f"{name} {player.label}" if player.label and player.kind != "keeper" else name
    return f"{name} ({translate(player.role)})" if player.role else name


class _Told:
    """A scene that is being told, with what everybody is called."""

    def __init__(self, scene: Scene, say: Translate) -> None:
        self.scene, self.say = scene, say
        self._names = {each.key: player_name(each, say) for each in scene.players}
        self.targets: dict[str, ScenePlayer | SceneGoal] = {
            **{each.key: each for each in scene.players},
            **{each.key: each for each in scene.goals},
        }

    def name(self, key: str | None) -> str:
        return self._names[key] if key in self._names else self.say(MESSAGES["somebody"])


def _set_up(told: _Told) -> Iterator[str]:
    scene, say = told.scene, told.say
    yield say(MESSAGES["grid"]).format(length=fmt(scene.length_m), width=fmt(scene.width_m))
    yield from _groups(scene, say)
    for zone in scene.zones:
        yield say(MESSAGES["zone"]).format(
            title=zone.title or say("Zone"),
            length=fmt(zone.length_m),
            width=fmt(zone.width_m),
            x=fmt(zone.x_m),
            x_end=fmt(zone.x_m + zone.length_m),
        )
    for goal in scene.goals:
        yield _goal(goal, say)
    if scene.gates:
        yield say(MESSAGES["gate" if len(scene.gates) == 1 else "gates"]).format(count=len(scene.gates))
    yield from _balls(told)
    if scene.coach is not None:
        inside = 0 <= scene.coach.x_m <= scene.length_m and 0 <= scene.coach.y_m <= scene.width_m
        yield say(MESSAGES["coach"]).format(place=say("inside" if inside else "outside"))


def _groups(scene: Scene, say: Translate) -> Iterator[str]:
    counts: dict[tuple[str, str], int] = {}
    for each in scene.players:
        told = (group_name(each, say), _PLACES[each.place])
        counts[told] = counts.get(told, 0) + 1
    for (name, place), count in counts.items():
        yield say(MESSAGES["group"]).format(count=count, name=name, place=say(place))


def _goal(goal: SceneGoal, say: Translate) -> str:
    shut = "" if goal.open else say(MESSAGES["shut"])
    free = goal.edge == "free"
    edge = say(goal.faces if free else goal.edge)
    return say(MESSAGES["goal_free" if free else "goal_edge"]).format(
        wide=fmt(goal.width_m), edge=edge, shut=shut
    )


def _balls(told: _Told) -> Iterator[str]:
    scene, say = told.scene, told.say
    held = [each for each in scene.balls if each.at is not None]
    if len(held) == 1:
        yield say(MESSAGES["ball_with"]).format(name=told.name(held[0].at))
    elif held:
        yield say(MESSAGES["balls_each"]).format(count=len(held))
    for ball in scene.balls:
        if ball.at is None:
            yield say(MESSAGES["ball_ground" if ball.count == 1 else "supply"]).format(count=ball.count)


def _step(told: _Told, number: int, step: Step) -> str:
    sentences = _sentences(told, step)
    message = MESSAGES["step_titled" if step.title else "step"]
    return told.say(message).format(number=number, title=step.title, sentences=sentences).strip()


def _sentences(told: _Told, step: Step) -> str:
    return " ".join(_upper(_move(told, each)) for each in step.moves)


def _move(told: _Told, move: Move) -> str:
    scene, say = told.scene, told.say
    start, end = ends_of(scene, move)
    metres, way = fmt(math.dist(start, end), 0), say(way_of(start, end))
    if not isinstance(move, BallPath):
        name = told.name(move.who)
        message = MESSAGES["carries" if isinstance(move, RunWithBall) else "runs"]
        return say(message).format(name=name, metres=metres, way=way)
    name = told.name(kicked(scene, move).holder)
    target = told.targets.get(move.to or "")
    if isinstance(target, SceneGoal):
        message = MESSAGES["shoots_free" if target.edge == "free" else "shoots"]
        return say(message).format(name=name, edge=say(target.edge))
    if isinstance(target, ScenePlayer):
        message = MESSAGES["lifts" if move.high else "passes"]
        return say(message).format(name=name, receiver=told.name(target.key))
    return say(MESSAGES["lifts_far" if move.high else "plays"]).format(name=name, metres=metres, way=way)


def way_of(start: Point, end: Point) -> str:
    """One of eight directions on the plan as drawn, the length from left to right."""
    eighth = round(math.atan2(end[1] - start[1], end[0] - start[0]) / (math.pi / 4)) % 8
    return _WAYS[eighth]


def _upper(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]
