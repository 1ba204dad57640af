"""Limits and when → then as the sentences a coach would say."""

from __future__ import annotations

from drills.game.document.choices import LimitKind, ThenKind, WhenKind
from drills.game.document.conditions import Condition, FreeText, Limit, Then, When
from drills.game.sentences.names import Names, amount
from drills.game.wording.rendering import text_of
from drills.game.wording.shapes import Part, Sentence

# Limits whose wording names the place itself.
_NAMES_PLACE = frozenset(
    {
        LimitKind.MOST_IN_ZONE,
        LimitKind.FEWEST_IN_ZONE,
        LimitKind.STAY_IN,
        LimitKind.MAY_NOT_ENTER,
        LimitKind.MAY_ENTER,
    }
)
# Limits of which can be said shortly what may be done once they are lifted.
_SHORTLY_LIFTED = frozenset(
    {
        LimitKind.STAY_IN,
        LimitKind.MAY_NOT_ENTER,
        LimitKind.MAY_NOT_TACKLE,
        LimitKind.MAY_NOT_SCORE,
        LimitKind.TOUCHES,
        LimitKind.NO_PASS_TO_EACH_OTHER,
    }
)
_RULES = {
    WhenKind.EVERYONE_TOUCHED: "rule_once",
    WhenKind.INTO_ZONE: "rule_once",
    WhenKind.BALL_OUT: "rule_when",
    WhenKind.REGAIN: "rule_when",
    WhenKind.THIRD_PLAYER: "rule_when",
    WhenKind.CALL: "rule_on",
}


def say(condition: Condition, names: Names) -> str:
    """One condition as one sentence without its full stop's capital; use `sentence()` to finish it."""
    return text_of(condition_said(condition, names), names.translate)


def condition_said(condition: Condition, names: Names) -> Sentence:
    """One condition, to be said."""
    if isinstance(condition, FreeText):
        return Sentence("own_words", {"text": condition.text})
    if isinstance(condition, Limit):
        return _limit(condition, names)
    thens = tuple(_then(each, names) for each in condition.then)
    rule = _RULES.get(condition.when.kind, "rule_after")
    said = Sentence(rule, {"when": _when(condition.when, names), "thens": thens})
    place = condition.scope.zone
    return Sentence("rule_in", {"place": names.place(place), "text": said}) if place else said


def lifted(limit: Limit, names: Names) -> Sentence:
    """What holds once this limit no longer does: `reds may enter the harbour`."""
    if limit.kind not in _SHORTLY_LIFTED or limit.scope.phase or limit.other:
        return Sentence("no_longer_holds", {"limit": _limit(limit, names)})
    return Sentence(
        f"lifted_{limit.kind.name.lower()}",
        {"who": _who(limit, names), "place": names.place(limit.zone or limit.scope.zone)},
    )


def _who(limit: Limit, names: Names) -> Part:
    return limit.scope.role or names.group(limit.scope.group)


def _limit(limit: Limit, names: Names) -> Sentence:
    key = f"limit_{limit.kind.name.lower()}"
    if limit.kind is LimitKind.NO_PASS_TO_EACH_OTHER and limit.other:
        key = "no_pass_to"
    said = Sentence(
        key,
        {
            "who": _who(limit, names),
            "n": amount(limit.number),
            "place": names.place(limit.zone or limit.scope.zone),
            "word": limit.word or "",
            "other": names.group(limit.other),
        },
    )
    if limit.scope.zone and limit.scope.zone != limit.zone and limit.zone:
        said = Sentence("holds_while_in", {"text": said, "place": names.place(limit.scope.zone)})
    elif limit.scope.zone and limit.kind not in _NAMES_PLACE:
        said = Sentence("holds_in", {"text": said, "place": names.place(limit.scope.zone)})
    if limit.scope.phase:
        phase = names.phases.get(limit.scope.phase, limit.scope.phase)
        said = Sentence("holds_during", {"text": said, "phase": phase})
    return said


def _when(when: When, names: Names) -> Sentence:
    if when.kind is WhenKind.EVERYONE_TOUCHED and when.group:
        return Sentence("all_of_them_touched", {"who": names.group(when.group)})
    key = f"when_{when.kind.name.lower()}"
    if when.kind is WhenKind.THROUGH_GATE and not when.place:
        key = "through_any_gate"
    said = Sentence(key, {"n": amount(when.number), "place": names.place(when.place)})
    return Sentence("done_by", {"text": said, "who": names.group(when.group)}) if when.group else said


def _then(then: Then, names: Names) -> Sentence:
    key, count = f"then_{then.kind.name.lower()}", amount(then.number)
    points = Sentence("so_many_points", {"n": count})
    if then.kind is ThenKind.POINTS and not then.group:
        return points
    if then.kind in (ThenKind.PLAYER_ENTERS, ThenKind.PLAYER_LEAVES) and then.number is None:
        count = Sentence("all")
    if then.kind is ThenKind.POINTS_TIMES and then.number == 2:
        key = "next_counts_double"
    held = names.limits.get(then.limit or "")
    goals = tuple(Sentence("the_goal", {"goal": names.goals.get(each, each)}) for each in then.goals)
    return Sentence(
        key,
        {
            "goals": goals or Sentence("the_goals"),
            "count": len(goals),
            "phase": names.phases.get(then.phase or "", then.phase or ""),
            "who": names.group(then.group),
            "place": names.place(then.zone),
            "limit": lifted(held, names) if held else then.limit or "",
            "points": points,
            "n": count,
            "source": Sentence("from_source", {"source": then.source}) if then.source else "",
        },
    )
