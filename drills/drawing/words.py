"""The plan in words: what the picture shows, for those who can't see it, and the names in its legend.

The wordings stand in the catalogue of sentences, so that a page can translate them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import get_args

from drills.drawing.lanes import Lane
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
from drills.game.wording.catalogue import CATALOGUE
from drills.game.wording.rendering import Translate, as_written, text_of
from drills.game.wording.shapes import Part, Sentence

# What a text claims, by the kind of claim.
CLAIMS: dict[ClaimKind, str] = {
    kind: CATALOGUE[f"claim_{kind.replace(' ', '_')}"].text for kind in get_args(ClaimKind)
}
_WAYS = (
    "direction_right",
    "direction_up_right",
    "direction_up",
    "direction_up_left",
    "direction_left",
    "direction_down_left",
    "direction_down",
    "direction_down_right",
)


def say_claim(scene: Scene, claim: Claim, translate: Translate = as_written) -> str:
    """What the text says, as a sentence about this plan."""
    names = {each.key: name_of(each) for each in scene.players}
    place = next((n for n, step in enumerate(scene.steps, start=1) if step.key == claim.step), None)
    parts: dict[str, Part] = {
        "who": names.get(claim.who or "", Sentence("plan_on_ball")),
        "to": names.get(claim.to or "", claim.to or ""),
        "number": claim.number or 0,
    }
    said = Sentence(f"claim_{claim.kind.replace(' ', '_')}", parts)
    if place:
        said = Sentence("claimed_in_step", {"claim": said, "number": place})
    return text_of(said, translate)


def title_of(scene: Scene, translate: Translate = as_written) -> str:
    """`Third man: plan of a 25 × 20 m grid`, in the reader's language; without a name where the scene has no title."""
    size = {"length": scene.length_m, "width": scene.width_m}
    if not scene.title:
        return text_of(Sentence("plan_plan", size), translate)
    return text_of(Sentence("plan_plan_of", {"title": scene.title, **size}), translate)


def describe(scene: Scene, *, step: int | None = None, translate: Translate = as_written) -> str:
    """The set-up and each step in sentences; with `step` that one alone, with 0 only the set-up."""
    chosen = [(n, each) for n, each in enumerate(scene.steps, start=1) if step is None or n == step]
    told = _Told(scene)
    said = (*_set_up(told), *(_step(told, n, each) for n, each in chosen))
    return " ".join(text_of(each, translate).rstrip() for each in said)


def say_step(scene: Scene, number: int, translate: Translate = as_written) -> str:
    """What happens in one step, counted from 1."""
    moves = _moves(_Told(scene), scene.steps[number - 1])
    return text_of(Sentence("one_after_another", {"sentences": moves}), translate)


def say_lanes(scene: Scene, lanes: Iterable[Lane], translate: Translate = as_written) -> str:
    """Each pass that could be played, open or shut; of those that are open, what awaits the receiver."""
    names: dict[str, Part] = {each.key: name_of(each) for each in scene.players}
    return " ".join(text_of(_lane(each, names), translate) for each in lanes)


def say_receiver(lane: Lane, names: Mapping[str, Part], translate: Translate = as_written) -> str:
    """In a few words: closed down on arrival, pressed at once, or with time. `names` by key of a player."""
    return text_of(_receiver(lane, names), translate)


def _lane(lane: Lane, names: Mapping[str, Part]) -> Sentence:
    parts: dict[str, Part] = {"name": names[lane.receiver]}
    if lane.open or lane.cut_by is None:
        return Sentence("plan_lane_open", {**parts, "receiver": _receiver(lane, names)})
    return Sentence("plan_lane_shut", {**parts, "who": names[lane.cut_by]})


def _receiver(lane: Lane, names: Mapping[str, Part]) -> Sentence:
    if lane.closed_by is None or not lane.pressed:
        return Sentence("receiver_has_time")
    key = "receiver_closed_down" if lane.closed_down else "receiver_pressed"
    return Sentence(key, {"who": names[lane.closed_by]})


def group_names(scene: Scene, translate: Translate = as_written) -> list[tuple[ScenePlayer, str]]:
    """One player for each look on the plan, with the group's name, in the order in which they are written."""
    found: dict[tuple[str, str, str], ScenePlayer] = {}
    for each in scene.players:
        found.setdefault((each.kind, each.side, each.bib), each)
    return [(each, group_name(each, translate)) for each in found.values()]


def group_name(player: ScenePlayer, translate: Translate = as_written) -> str:
    """What a coach calls the group: its bib, or its side where there is none."""
    return text_of(_group_of(player), translate)


def _group_of(player: ScenePlayer, *, one: bool = False) -> Sentence:
    """`one`: as the beginning of a single player's name, which has no commas."""
    bib = player.bib.replace(", ", " ") if one else player.bib
    if player.kind == "adult":
        return Sentence("called_adult")
    if player.kind == "keeper":
        bib = bib.lstrip()
        return Sentence("called_keeper_in", {"bib": bib}) if bib else Sentence("called_keeper")
    if player.side == "neutral":
        key = "called_one_neutral_in" if one else "called_neutral_in"
        return Sentence(key, {"bib": bib}) if bib else Sentence("called_neutral")
    return Sentence("called_bib", {"bib": bib}) if bib else Sentence("called_side", {"side": player.side})


def player_name(player: ScenePlayer, translate: Translate = as_written) -> str:
    """What a coach calls one player: bib and number, and the role where there is one."""
    return text_of(name_of(player), translate)


def name_of(player: ScenePlayer) -> Sentence:
    """One player's name as part of a sentence."""
    name = _group_of(player, one=True)
    if player.label and player.kind != "keeper":
        name = Sentence("called_with_number", {"name": name, "number": player.label})
    return Sentence("called_with_role", {"name": name, "role": player.role}) if player.role else name


class _Told:
    """A scene that is being told, with what everybody is called."""

    def __init__(self, scene: Scene) -> None:
        self.scene = scene
        self._names = {each.key: name_of(each) for each in scene.players}
        self.targets: dict[str, ScenePlayer | SceneGoal] = {
            **{each.key: each for each in scene.players},
            **{each.key: each for each in scene.goals},
        }

    def name(self, key: str | None) -> Sentence:
        return self._names[key] if key in self._names else Sentence("plan_somebody")


def _set_up(told: _Told) -> Iterator[Sentence]:
    scene = told.scene
    yield Sentence("plan_grid", {"length": scene.length_m, "width": scene.width_m})
    yield from _groups(scene)
    for zone in scene.zones:
        yield Sentence(
            "plan_zone",
            {
                "title": zone.title or Sentence("plan_no_title"),
                "length": zone.length_m,
                "width": zone.width_m,
                "x": zone.x_m,
                "x_end": zone.x_m + zone.length_m,
            },
        )
    yield from (_goal(each) for each in scene.goals)
    if scene.gates:
        yield Sentence("plan_gates", {"count": len(scene.gates)})
    yield from _balls(told)
    if scene.coach is not None:
        inside = 0 <= scene.coach.x_m <= scene.length_m and 0 <= scene.coach.y_m <= scene.width_m
        yield Sentence("plan_coach_inside" if inside else "plan_coach_outside")


def _groups(scene: Scene) -> Iterator[Sentence]:
    counts: dict[tuple[Sentence, str], int] = {}
    for each in scene.players:
        told = (_group_of(each), each.place)
        counts[told] = counts.get(told, 0) + 1
    for (name, place), count in counts.items():
        yield Sentence("plan_group", {"count": count, "name": name, "place": Sentence(f"place_{place}")})


def _goal(goal: SceneGoal) -> Sentence:
    free = goal.edge == "free"
    parts: dict[str, Part] = {
        "wide": goal.width_m,
        "edge": goal.faces if free else goal.edge,
        "shut": "" if goal.open else Sentence("plan_shut"),
    }
    return Sentence("plan_goal_free" if free else "plan_goal_edge", parts)


def _balls(told: _Told) -> Iterator[Sentence]:
    scene = told.scene
    held = [each for each in scene.balls if each.at is not None]
    if len(held) == 1:
        yield Sentence("plan_ball_with", {"name": told.name(held[0].at)})
    elif held:
        yield Sentence("plan_balls_each", {"count": len(held)})
    yield from (Sentence("plan_supply", {"count": each.count}) for each in scene.balls if each.at is None)


def _step(told: _Told, number: int, step: Step) -> Sentence:
    parts: dict[str, Part] = {"number": number, "title": step.title, "sentences": _moves(told, step)}
    return Sentence("plan_step_titled" if step.title else "plan_step", parts)


def _moves(told: _Told, step: Step) -> tuple[Sentence, ...]:
    return tuple(_move(told, each) for each in step.moves)


def _move(told: _Told, move: Move) -> Sentence:
    start, end = ends_of(told.scene, move)
    parts: dict[str, Part] = {"metres": math.dist(start, end), "way": Sentence(_way(start, end))}
    if not isinstance(move, BallPath):
        parts["name"] = told.name(move.who)
        return Sentence("plan_carries" if isinstance(move, RunWithBall) else "plan_runs", parts)
    parts["name"] = told.name(kicked(told.scene, move).holder)
    target = told.targets.get(move.to or "")
    if isinstance(target, SceneGoal):
        parts["edge"] = target.edge
        return Sentence("plan_shoots_free" if target.edge == "free" else "plan_shoots", parts)
    if isinstance(target, ScenePlayer):
        parts["receiver"] = told.name(target.key)
        return Sentence("plan_lifts" if move.high else "plan_passes", parts)
    return Sentence("plan_lifts_far" if move.high else "plan_plays", parts)


def way_of(start: Point, end: Point) -> str:
    """One of eight directions on the plan as drawn, the length from left to right."""
    return CATALOGUE[_way(start, end)].text


def _way(start: Point, end: Point) -> str:
    eighth = round(math.atan2(end[1] - start[1], end[0] - start[0]) / (math.pi / 4)) % 8
    return _WAYS[eighth]
