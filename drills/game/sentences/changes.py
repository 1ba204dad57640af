"""The changes of a variation as sentences, with what it was before where that helps."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from drills.game.document import operations as op
from drills.game.document.choices import Heading, Place
from drills.game.document.drill import DrillDocument
from drills.game.document.operations import Operation
from drills.game.sentences.conditions import say
from drills.game.sentences.play import say_ends, say_grid, say_phase, say_restart
from drills.game.sentences.words import Names, gettext_noop, goal_name, number, sentence


def say_change(change: Operation, before: DrillDocument, after: DrillDocument, names: Names) -> str:
    """One change of a variation in words, with what it was before where that helps."""
    say_it = _CHANGES.get(type(change))
    return sentence(
        say_it(change, before, Names.of(after, names.translate)) if say_it else _said_plainly(change, names)
    )


def _said_plainly(change: Operation, names: Names) -> str:
    return names.translate(_PLAIN[type(change)])


def _change_grid(change: op.SetGrid, before: DrillDocument, names: Names) -> str:
    old = before.grids[0]
    bigger = change.length_m * change.width_m > old.length_m * old.width_m
    template = gettext_noop("larger grid: {new} instead of {old}")
    if not bigger:
        template = gettext_noop("smaller grid: {new} instead of {old}")
    return names.fill(template, new=say_grid(change), old=say_grid(old))


def _change_format(change: op.SetFormat, before: DrillDocument, names: Names) -> str:
    return names.fill(gettext_noop("{new} instead of {old}"), new=change.format, old=before.format)


def _change_replace(change: op.ReplaceCondition, before: DrillDocument, names: Names) -> str:
    old = next((each for each in before.conditions if each.key == change.condition.key), None)
    new = say(change.condition, names)
    if old is None:
        return new
    return names.fill(gettext_noop("{new} (before: {old})"), new=new, old=say(old, names))


def _change_remove(change: op.RemoveCondition, before: DrillDocument, names: Names) -> str:
    old = next((each for each in before.conditions if each.key == change.key), None)
    said = say(old, Names.of(before, names.translate)) if old else change.key
    return names.fill(gettext_noop("no longer: {old}"), old=said)


def _change_work(change: op.SetWork, before: DrillDocument, names: Names) -> str:
    work = change.work
    return names.fill(
        gettext_noop("{bouts} bouts of {work} s with {rest} s rest"),
        bouts=work.bouts,
        work=work.bout_s,
        rest=work.rest_s,
    )


_PLACES: dict[Place, str] = {
    Place.INSIDE: gettext_noop("inside"),
    Place.TOUCHLINE: gettext_noop("on the touchlines"),
    Place.END_LINE: gettext_noop("on the end lines"),
    Place.EVERY_SIDE: gettext_noop("on every side"),
    Place.ZONE: gettext_noop("in the zone"),
    Place.QUEUE: gettext_noop("in the queue"),
    Place.GOAL: gettext_noop("in goal"),
}


def _change_group(change: op.PutGroup, before: DrillDocument, names: Names) -> str:
    group = change.group
    place = names.translate(_PLACES[group.place])
    if group.place is Place.ZONE and group.zone:
        place = names.fill(gettext_noop("in {place}"), place=names.where(group.zone))
    return names.fill(gettext_noop("{who}: {n} {place}"), who=group.name, n=number(group.least), place=place)


def _change_goal(change: op.PutGoal, before: DrillDocument, names: Names) -> str:
    old = next((each for each in before.goals if each.key == change.goal.key), None)
    template = gettext_noop("one more goal, {size}: “{goal}”")
    if old is not None and old.size is not change.goal.size:
        template = gettext_noop("the goal “{goal}” becomes a {size} goal")
    elif old is not None:
        template = gettext_noop("the goal “{goal}” stands elsewhere")
    return names.fill(template, size=change.goal.size.value, goal=goal_name(change.goal))


def _change_zone(change: op.PutZone, before: DrillDocument, names: Names) -> str:
    new = change.zone
    old = next((each for each in before.zones if each.key == new.key), None)
    if old is None:
        return names.fill(gettext_noop("zone marked: {name}"), name=new.name)
    was, now = ((each.right - each.left) * (each.top - each.bottom) for each in (old, new))
    template = gettext_noop("{name} is larger") if now > was else gettext_noop("{name} is smaller")
    if round(now, 3) == round(was, 3):
        template = gettext_noop("{name} lies elsewhere")
    return names.fill(template, name=new.name)


def _change_scoring(change: op.SetScoring, before: DrillDocument, names: Names) -> str:
    points = "; ".join(
        f"{each.what[:1].lower()}{each.what[1:]} ({number(each.points)})" for each in change.scoring
    )
    return names.fill(gettext_noop("scoring, in points: {what}"), what=points)


def _change_heading(change: op.SetHeading, before: DrillDocument, names: Names) -> str:
    if change.heading is Heading.PLANNED and change.headers_per_player:
        return names.fill(gettext_noop("{n} headers a player"), n=change.headers_per_player)
    return names.translate(_HEADINGS[change.heading])


_HEADINGS: dict[Heading, str] = {
    Heading.NONE: gettext_noop("no heading"),
    Heading.LIKELY: gettext_noop("heading likely"),
    Heading.PLANNED: gettext_noop("heading planned"),
}
_CHANGES: dict[type[Any], Callable[[Any, DrillDocument, Names], str]] = {
    op.SetGrid: _change_grid,
    op.SetFormat: _change_format,
    op.AddCondition: lambda change, before, names: say(change.condition, names),
    op.ReplaceCondition: _change_replace,
    op.RemoveCondition: _change_remove,
    op.SetWork: _change_work,
    op.PutGroup: _change_group,
    op.RemoveGroup: lambda change, before, names: names.fill(
        gettext_noop("without {who}"), who=Names.of(before).who(change.key)
    ),
    op.PutGoal: _change_goal,
    op.RemoveGoal: lambda change, before, names: names.fill(
        gettext_noop("without the goal “{goal}”"), goal=change.key.replace("-", " ")
    ),
    op.MoveGoal: lambda change, before, names: names.fill(
        gettext_noop("the goal “{goal}” moves to the {edge} edge"),
        goal=change.key.replace("-", " "),
        edge=change.edge.value,
    ),
    op.PutZone: _change_zone,
    op.RemoveZone: lambda change, before, names: names.fill(
        gettext_noop("without the zone {name}"), name=Names.of(before).where(change.key)
    ),
    op.PutPhase: lambda change, before, names: say_phase(change.phase, names),
    op.SetOnWinning: lambda change, before, names: names.fill(
        gettext_noop("on winning it: {task}"), task=change.on_winning.task
    ),
    op.SetScoring: _change_scoring,
    op.SetHeading: _change_heading,
    op.PutGate: lambda change, before, names: names.fill(
        gettext_noop("{gate} is added or moved"), gate=names.where(change.gate.key)
    ),
    op.RemoveGate: lambda change, before, names: names.fill(
        gettext_noop("without {gate}"), gate=Names.of(before, names.translate).where(change.key)
    ),
    op.SetEnds: lambda change, before, names: say_ends(change.ends, names),
    op.SetBalls: lambda change, before, names: (
        names.translate(gettext_noop("a ball each"))
        if change.balls.each
        else names.fill(gettext_noop("balls in play: {n}"), n=change.balls.number)
    ),
    op.SetStart: lambda change, before, names: names.fill(
        gettext_noop("start: {trigger}"), trigger=change.start.trigger
    ),
    op.SetQueue: lambda change, before, names: names.fill(
        gettext_noop("work {work} s, wait {wait} s; next: {next}"),
        work=change.queue.work_s,
        wait=change.queue.wait_s,
        next=change.queue.next,
    ),
    op.SetRestarts: lambda change, before, names: " ".join(
        say_restart(each, names) for each in change.restarts
    ),
}
_PLAIN: dict[type[Any], str] = {
    op.SetKit: gettext_noop("other kit"),
    op.SetDirection: gettext_noop("another direction of play"),
    op.MoveItem: gettext_noop("one mark stands elsewhere"),
    op.SetScene: gettext_noop("a drawing of its own"),
}
