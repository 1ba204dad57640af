"""Limits and when → then as the sentences a coach would say."""

from __future__ import annotations

from drills.game.document.choices import LimitKind, ThenKind, WhenKind
from drills.game.document.conditions import Condition, FreeText, Limit, Then, When
from drills.game.sentences.words import Names, gettext_noop, joined, number

_LIMITS: dict[LimitKind, str] = {
    LimitKind.TOUCHES: gettext_noop("{who}: at most {n} touches"),
    LimitKind.SECONDS_ON_BALL: gettext_noop("{who}: at most {n} seconds on the ball"),
    LimitKind.MOST_IN_ZONE: gettext_noop("{who}: at most {n} at a time in {place}"),
    LimitKind.FEWEST_IN_ZONE: gettext_noop("{who}: always at least {n} in {place}"),
    LimitKind.STAY_IN: gettext_noop("{who} stay in {place}"),
    LimitKind.MAY_NOT_ENTER: gettext_noop("{who} may not enter {place}"),
    LimitKind.MAY_ENTER: gettext_noop("only {who} may enter {place}"),
    LimitKind.MAY_NOT_TACKLE: gettext_noop("{who} may not tackle"),
    LimitKind.MAY_TACKLE: gettext_noop("only {who} may tackle"),
    LimitKind.MAY_NOT_SCORE: gettext_noop("{who} may not score"),
    LimitKind.MAY_SCORE: gettext_noop("only {who} may score"),
    LimitKind.NO_PASS_TO_EACH_OTHER: gettext_noop("{who} may not pass to each other"),
    LimitKind.WEAKER_FOOT: gettext_noop("{who}: pass and finish with the weaker foot"),
    LimitKind.DIRECTION: gettext_noop("{who}: play {word} only"),
    LimitKind.OFFSIDE: gettext_noop("offside counts for {who} beyond {word}"),
    LimitKind.BALL_HEIGHT: gettext_noop("{who}: keep the ball {word}"),
    LimitKind.WALKING: gettext_noop("{who}: walk, nobody runs"),
    LimitKind.SECONDS_TO_FINISH: gettext_noop("{who}: {n} seconds to finish"),
}
_ONE: dict[LimitKind, str] = {
    LimitKind.TOUCHES: gettext_noop("{who}: one touch"),
    LimitKind.SECONDS_ON_BALL: gettext_noop("{who}: at most one second on the ball"),
}
_WHENS: dict[WhenKind, str] = {
    WhenKind.PASSES: gettext_noop("{n} passes in a row"),
    WhenKind.SWITCH: gettext_noop("a switch from one side to the other"),
    WhenKind.THROUGH_GATE: gettext_noop("a pass through {place}"),
    WhenKind.INTO_ZONE: gettext_noop("the ball is brought into {place}"),
    WhenKind.EVERYONE_TOUCHED: gettext_noop("everyone of the side has touched it"),
    WhenKind.THIRD_PLAYER: gettext_noop("a third player is found"),
    WhenKind.REGAIN: gettext_noop("the ball is won"),
    WhenKind.GOAL: gettext_noop("a goal"),
    WhenKind.BALL_OUT: gettext_noop("the ball goes out"),
    WhenKind.TIME: gettext_noop("{n} seconds"),
    WhenKind.CALL: gettext_noop("the coach's call"),
    WhenKind.TAGGED: gettext_noop("a tag"),
    WhenKind.WALL_PASS: gettext_noop("a wall pass"),
    WhenKind.SHOT: gettext_noop("a shot"),
}
_THENS: dict[ThenKind, str] = {
    ThenKind.GOALS_OPEN: gettext_noop("{goals} open"),
    ThenKind.PHASE: gettext_noop("{phase} starts"),
    ThenKind.PLAYER_ENTERS: gettext_noop("{n} of {who} come in{source}"),
    ThenKind.PLAYER_LEAVES: gettext_noop("{n} of {who} step out"),
    ThenKind.ZONE_OPENS: gettext_noop("{place} opens"),
    ThenKind.ZONE_LOCKS: gettext_noop("{place} is locked"),
    ThenKind.POINTS: gettext_noop("{n} for {who}"),
    ThenKind.POINTS_TIMES: gettext_noop("the next goal counts {n} times"),
    ThenKind.LIMIT_LIFTED: gettext_noop("{limit}"),
    ThenKind.NEW_BALL: gettext_noop("a new ball is played{source}"),
    ThenKind.SWAP_ROLES: gettext_noop("roles are swapped"),
    ThenKind.SECONDS_TO_SCORE: gettext_noop("there are {n} seconds to score"),
    ThenKind.REJOIN: gettext_noop("{who} join in again{source}"),
}

_THE = gettext_noop("the {goal}")
_ONE_THEN: dict[ThenKind, str] = {
    ThenKind.PLAYER_ENTERS: gettext_noop("one of {who} comes in{source}"),
    ThenKind.PLAYER_LEAVES: gettext_noop("one of {who} steps out"),
}


# A lifted limit is said as what may be done now, where that can be said shortly.
_LIFTED: dict[LimitKind, str] = {
    LimitKind.STAY_IN: gettext_noop("{who} may leave {place}"),
    LimitKind.MAY_NOT_ENTER: gettext_noop("{who} may enter {place}"),
    LimitKind.MAY_NOT_TACKLE: gettext_noop("{who} may tackle"),
    LimitKind.MAY_NOT_SCORE: gettext_noop("{who} may score"),
    LimitKind.TOUCHES: gettext_noop("{who} have as many touches as they like"),
    LimitKind.NO_PASS_TO_EACH_OTHER: gettext_noop("{who} may pass to each other"),
}


def say_lifted(limit: Limit, names: Names) -> str:
    """What holds once this limit no longer does: `reds may enter the harbour`."""
    template = _LIFTED.get(limit.kind)
    if template is None or limit.scope.phase or limit.other:
        return names.fill(gettext_noop("this no longer holds: {limit}"), limit=_say_limit(limit, names))
    who = limit.scope.role or names.who(limit.scope.group)
    return names.fill(template, who=who, place=names.where(limit.zone or limit.scope.zone))


def say(condition: Condition, names: Names) -> str:
    """One condition as one sentence without its full stop's capital; use `sentence()` to finish it."""
    if isinstance(condition, FreeText):
        return condition.text
    if isinstance(condition, Limit):
        return _say_limit(condition, names)
    thens = joined((_say_then(each, names) for each in condition.then), names)
    when = _say_when(condition.when, names)
    template = gettext_noop("after {when}, {thens}")
    if condition.when.kind is WhenKind.EVERYONE_TOUCHED or condition.when.kind is WhenKind.INTO_ZONE:
        template = gettext_noop("once {when}, {thens}")
    elif condition.when.kind in (WhenKind.BALL_OUT, WhenKind.REGAIN, WhenKind.THIRD_PLAYER):
        template = gettext_noop("when {when}, {thens}")
    elif condition.when.kind is WhenKind.CALL:
        template = gettext_noop("on {when}, {thens}")
    text = names.fill(template, when=when, thens=thens)
    place = condition.scope.zone
    return (
        names.fill(gettext_noop("in {place}: {text}"), place=names.where(place), text=text) if place else text
    )


def _say_limit(limit: Limit, names: Names) -> str:
    template = _ONE[limit.kind] if limit.kind in _ONE and limit.number == 1 else _LIMITS[limit.kind]
    who = limit.scope.role or names.who(limit.scope.group)
    if limit.kind is LimitKind.NO_PASS_TO_EACH_OTHER and limit.other:
        template = gettext_noop("{who} may not pass to {other}")
    text = names.fill(
        template,
        who=who,
        n=number(limit.number),
        place=names.where(limit.zone or limit.scope.zone),
        word=limit.word or "",
        other=names.who(limit.other),
    )
    if limit.scope.zone and limit.scope.zone != limit.zone and limit.zone:
        text = names.fill(
            gettext_noop("{text} while in {place}"), text=text, place=names.where(limit.scope.zone)
        )
    elif limit.scope.zone and "{place}" not in template:
        text = names.fill(gettext_noop("{text} in {place}"), text=text, place=names.where(limit.scope.zone))
    if limit.scope.phase:
        phase = names.phases.get(limit.scope.phase, limit.scope.phase)
        text = names.fill(gettext_noop("{text}, during {phase}"), text=text, phase=phase)
    return text


def _say_when(when: When, names: Names) -> str:
    template = _WHENS[when.kind]
    if when.kind is WhenKind.PASSES and when.number == 1:
        template = gettext_noop("one pass")
    if when.kind is WhenKind.EVERYONE_TOUCHED and when.group:
        return names.fill(gettext_noop("all of {who} have touched it"), who=names.who(when.group))
    if when.kind is WhenKind.THROUGH_GATE and not when.place:
        template = gettext_noop("a pass through any gate")
    text = names.fill(template, n=number(when.number), place=names.where(when.place))
    if when.group:
        text = names.fill(gettext_noop("{text} by {who}"), text=text, who=names.who(when.group))
    return text


def _say_then(then: Then, names: Names) -> str:
    source = names.fill(gettext_noop(" from {source}"), source=then.source) if then.source else ""
    count = number(then.number)
    if then.kind is ThenKind.POINTS:
        one = then.number == 1
        count = names.fill(gettext_noop("{n} point") if one else gettext_noop("{n} points"), n=count)
        if not then.group:
            return count
    if then.kind in (ThenKind.PLAYER_ENTERS, ThenKind.PLAYER_LEAVES) and then.number is None:
        count = names.translate(gettext_noop("all"))
    template = _THENS[then.kind]
    if then.kind is ThenKind.POINTS_TIMES and then.number == 2:
        template = gettext_noop("the next goal counts double")
    if then.kind is ThenKind.GOALS_OPEN and len(then.goals) == 1:
        template = gettext_noop("{goals} opens")
    if then.kind in _ONE_THEN and then.number == 1:
        template = _ONE_THEN[then.kind]
    lifted = names.limits.get(then.limit or "")
    return names.fill(
        template,
        goals=joined((names.fill(_THE, goal=names.goals.get(each, each)) for each in then.goals), names)
        or names.translate(gettext_noop("the goals")),
        phase=names.phases.get(then.phase or "", then.phase or ""),
        who=names.who(then.group),
        place=names.where(then.zone),
        limit=say_lifted(lifted, names) if lifted else then.limit or "",
        n=count,
        source=source,
    )
