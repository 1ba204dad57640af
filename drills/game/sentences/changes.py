"""The changes of a variation as sentences, with what it was before where that helps."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from drills.game.document import operations as op
from drills.game.document.choices import GroupHome, Heading
from drills.game.document.drill import DrillDocument
from drills.game.document.operations import Operation
from drills.game.sentences.said import (
    Names,
    amount,
    condition_said,
    ends_said,
    goal_name,
    grid_said,
    phase_said,
    restart_said,
)
from drills.game.wording.rendering import text_of
from drills.game.wording.shapes import Sentence


def say_change(change: Operation, before: DrillDocument, after: DrillDocument, names: Names) -> str:
    """One change of a variation in words, with what it was before where that helps."""
    return text_of(change_said(change, before, after), names.translate)


def change_said(change: Operation, before: DrillDocument, after: DrillDocument) -> Sentence:
    """One change of a variation, to be said."""
    made = _CHANGES[type(change)](change, before, Names.of(after))
    return Sentence("finished", {"text": made})


def _grid(change: op.SetGrid, before: DrillDocument, names: Names) -> Sentence:
    old = before.grids[0]
    larger = change.length_m * change.width_m > old.length_m * old.width_m
    return Sentence(
        "larger_grid" if larger else "smaller_grid", {"new": grid_said(change), "old": grid_said(old)}
    )


def _format(change: op.SetFormat, before: DrillDocument, names: Names) -> Sentence:
    return Sentence("instead_of", {"new": change.format, "old": before.format})


def _replace(change: op.ReplaceCondition, before: DrillDocument, names: Names) -> Sentence:
    old = next((each for each in before.conditions if each.key == change.condition.key), None)
    new = condition_said(change.condition, names)
    return new if old is None else Sentence("was_before", {"new": new, "old": condition_said(old, names)})


def _remove(change: op.RemoveCondition, before: DrillDocument, names: Names) -> Sentence:
    old = next((each for each in before.conditions if each.key == change.key), None)
    said = condition_said(old, Names.of(before)) if old else change.key
    return Sentence("no_longer", {"old": said})


def _work(change: op.SetWork, before: DrillDocument, names: Names) -> Sentence:
    work = change.work
    return Sentence("work_is", {"bouts": work.bouts, "work": work.bout_s, "rest": work.rest_s})


def _group(change: op.PutGroup, before: DrillDocument, names: Names) -> Sentence:
    group = change.group
    place = Sentence(f"group_{group.place.name.lower()}")
    if group.place is GroupHome.ZONE and group.zone:
        place = Sentence("in_place", {"place": names.place(group.zone)})
    return Sentence("group_is", {"who": group.name, "n": amount(group.least), "place": place})


def _goal(change: op.PutGoal, before: DrillDocument, names: Names) -> Sentence:
    old = next((each for each in before.goals if each.key == change.goal.key), None)
    key = "one_more_goal"
    if old is not None:
        key = "goal_becomes" if old.size is not change.goal.size else "goal_elsewhere"
    return Sentence(key, {"size": change.goal.size.value, "goal": goal_name(change.goal.key)})


def _zone(change: op.PutZone, before: DrillDocument, names: Names) -> Sentence:
    new = change.zone
    old = next((each for each in before.zones if each.key == new.key), None)
    if old is None:
        return Sentence("zone_marked", {"name": new.name})
    was, now = ((each.right - each.left) * (each.top - each.bottom) for each in (old, new))
    key = "zone_larger" if now > was else "zone_smaller"
    return Sentence("zone_elsewhere" if round(now, 3) == round(was, 3) else key, {"name": new.name})


def _scoring(change: op.SetScoring, before: DrillDocument, names: Names) -> Sentence:
    lines = tuple(
        Sentence("scores", {"what": f"{each.what[:1].lower()}{each.what[1:]}", "points": each.points})
        for each in change.scoring
    )
    return Sentence("scoring_is", {"what": lines})


def _heading(change: op.SetHeading, before: DrillDocument, names: Names) -> Sentence:
    if change.heading is Heading.PLANNED and change.headers_per_player:
        return Sentence("so_many_headers", {"n": change.headers_per_player})
    return Sentence(f"heading_{change.heading.name.lower()}")


def _goal_moved(change: op.MoveGoal, before: DrillDocument, names: Names) -> Sentence:
    return Sentence("goal_moves", {"goal": goal_name(change.key), "edge": change.edge.value})


def _balls(change: op.SetBalls, before: DrillDocument, names: Names) -> Sentence:
    return (
        Sentence("ball_each") if change.balls.each else Sentence("balls_in_play", {"n": change.balls.number})
    )


def _queue(change: op.SetQueue, before: DrillDocument, names: Names) -> Sentence:
    queue = change.queue
    return Sentence("queue_is", {"work": queue.work_s, "wait": queue.wait_s, "next": queue.next})


def _restarts(change: op.SetRestarts, before: DrillDocument, names: Names) -> Sentence:
    said = tuple(restart_said(each, names) for each in change.restarts)
    return Sentence("one_after_another", {"sentences": said})


_Said = Callable[[Any, DrillDocument, Names], Sentence]
_CHANGES: dict[type[Any], _Said] = {
    op.SetGrid: _grid,
    op.SetFormat: _format,
    op.AddCondition: lambda change, before, names: condition_said(change.condition, names),
    op.ReplaceCondition: _replace,
    op.RemoveCondition: _remove,
    op.SetWork: _work,
    op.PutGroup: _group,
    op.RemoveGroup: lambda change, before, names: Sentence(
        "without_group", {"who": Names.of(before).group(change.key)}
    ),
    op.PutGoal: _goal,
    op.RemoveGoal: lambda change, before, names: Sentence("without_goal", {"goal": goal_name(change.key)}),
    op.MoveGoal: _goal_moved,
    op.PutZone: _zone,
    op.RemoveZone: lambda change, before, names: Sentence(
        "without_zone", {"name": Names.of(before).place(change.key)}
    ),
    op.PutPhase: lambda change, before, names: phase_said(change.phase, names),
    op.SetOnWinning: lambda change, before, names: Sentence(
        "on_winning_it", {"task": change.on_winning.task}
    ),
    op.SetScoring: _scoring,
    op.SetHeading: _heading,
    op.PutGate: lambda change, before, names: Sentence("gate_added", {"gate": names.place(change.gate.key)}),
    op.RemoveGate: lambda change, before, names: Sentence(
        "without_gate", {"gate": Names.of(before).place(change.key)}
    ),
    op.SetEnds: lambda change, before, names: ends_said(change.ends),
    op.SetBalls: _balls,
    op.SetStart: lambda change, before, names: Sentence("start_is", {"trigger": change.start.trigger}),
    op.SetQueue: _queue,
    op.SetRestarts: _restarts,
    op.SetKit: lambda change, before, names: Sentence("other_kit"),
    op.SetDirection: lambda change, before, names: Sentence("other_direction"),
    op.MoveItem: lambda change, before, names: Sentence("mark_elsewhere"),
    op.SetScene: lambda change, before, names: Sentence("own_drawing"),
}
