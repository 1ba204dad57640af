"""All rules of a drill as sentences: what holds for both sides, or for two places, is said once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

import msgspec

from drills.game.document.choices import LimitKind, PlaysFor
from drills.game.document.conditions import Condition, FreeText, Limit, WhenThen
from drills.game.document.drill import DrillDocument
from drills.game.sentences.said import Names, condition_said
from drills.game.wording.shapes import Part, Sentence

_EITHER, _THAT, _PLACES = "-either-", "-that-", "-places-"
# Said of two groups at once these would mean another thing: how many of them together, to whom of the others.
_NEVER_TOGETHER = frozenset(
    {LimitKind.MOST_IN_ZONE, LimitKind.FEWEST_IN_ZONE, LimitKind.NO_PASS_TO_EACH_OTHER}
)


@dataclass(frozen=True)
class RuleSentence:
    """One sentence, and the keys of the conditions that it says. `own_words`: nothing is computed from it."""

    said: Sentence
    keys: tuple[str, ...]
    own_words: bool = False


def rules_of(document: DrillDocument, names: Names) -> list[RuleSentence]:
    """Every condition of a document in its order; those that mirror each other once, where the first of them stands."""
    left = list(document.conditions)
    found: list[RuleSentence] = []
    sides = _sides(document)
    while left:
        first = left.pop(0)
        together = [
            first,
            *(each for each in left if _mirrors(first, each, sides) or _elsewhere(first, each)),
        ]
        if len(together) > 1 and not _all_alike(together, sides):
            together = together[:2]
        left = [each for each in left if each not in together]
        found.append(_rule(together, names, sides))
    return found


def _sides(document: DrillDocument) -> frozenset[str]:
    """The groups that stand for a whole side."""
    playing = (PlaysFor.A, PlaysFor.B)
    return frozenset(
        each.key for each in document.groups if each.plays_for in playing and each.key == each.plays_for.value
    )


def _rule(together: Sequence[Condition], names: Names, sides: frozenset[str]) -> RuleSentence:
    keys = tuple(each.key for each in together)
    first = together[0]
    if len(together) == 1:
        return RuleSentence(condition_said(first, names), keys, isinstance(first, FreeText))
    if _elsewhere(first, together[1]):
        places = [names.place(_place(each)) for each in together]
        named = replace(names, zones={**names.zones, _PLACES: _either_of(places)})
        return RuleSentence(condition_said(_at(first, _PLACES), named), keys)
    if isinstance(first, Limit):
        groups = tuple(names.who_as_part(_who(each)) for each in together)
        named = replace(names, stand_ins={_EITHER: groups})
        return RuleSentence(condition_said(_by(first, _EITHER, _EITHER), named), keys)
    named = replace(names, stand_ins={_EITHER: Sentence("either_side"), _THAT: Sentence("that_side")})
    return RuleSentence(condition_said(_by(first, _EITHER, _THAT), named), keys)


def _either_of(parts: Sequence[Part]) -> Sentence:
    said = Sentence("one_or_other", {"first": parts[0], "last": parts[1]})
    for each in parts[2:]:
        said = Sentence("one_or_other", {"first": said, "last": each})
    return said


def _mirrors(first: Condition, other: Condition, sides: frozenset[str]) -> bool:
    """Whether they say the same of two groups: every group that one names is the other's where the other names it."""
    if isinstance(first, FreeText) or type(first) is not type(other) or _who(first) in (None, _who(other)):
        return False
    if isinstance(first, Limit) and (first.kind in _NEVER_TOGETHER or first.other):
        return False
    if isinstance(first, WhenThen) and not {_who(first), _who(other)} <= sides:
        return False
    if any(each != _who(first) for each in _groups(first)):
        return False
    return _bare(_by(first, _EITHER, _EITHER)) == _bare(_by(other, _EITHER, _EITHER)) and all(
        each == _who(other) for each in _groups(other)
    )


def _elsewhere(first: Condition, other: Condition) -> bool:
    """Whether they say the same of two places."""
    if (
        isinstance(first, FreeText)
        or type(first) is not type(other)
        or _place(first) in (None, _place(other))
    ):
        return False
    if isinstance(first, Limit) and first.kind is not LimitKind.MAY_NOT_ENTER:
        return False
    return _place(other) is not None and _bare(_at(first, _PLACES)) == _bare(_at(other, _PLACES))


def _all_alike(together: Sequence[Condition], sides: frozenset[str]) -> bool:
    """Whether all differ from the first in the same way: all by their group, or all by their place."""
    first, *others = together
    return all(_mirrors(first, each, sides) for each in others) or all(
        _elsewhere(first, each) for each in others
    )


def _bare(condition: Any) -> Any:
    return msgspec.structs.replace(condition, key="-")


def _who(condition: Any) -> str | None:
    """The group that a rule is about."""
    found: str | None = condition.when.group if isinstance(condition, WhenThen) else condition.scope.group
    return found


def _groups(condition: Any) -> Iterator[str]:
    """Every group that a rule names."""
    named = [condition.scope.group]
    if isinstance(condition, WhenThen):
        named += [condition.when.group, *(each.group for each in condition.then)]
    yield from (each for each in named if each)


def _by(condition: Any, who: str, then: str) -> Any:
    """The rule about another group; what follows from it is `then`'s."""
    scope = condition.scope
    if scope.group:
        scope = msgspec.structs.replace(scope, group=who)
    if not isinstance(condition, WhenThen):
        return msgspec.structs.replace(condition, scope=scope)
    when = msgspec.structs.replace(condition.when, group=who) if condition.when.group else condition.when
    thens = tuple(
        msgspec.structs.replace(each, group=then) if each.group else each for each in condition.then
    )
    return msgspec.structs.replace(condition, scope=scope, when=when, then=thens)


def _place(condition: Any) -> str | None:
    """The place that a rule turns on."""
    found: str | None = condition.when.place if isinstance(condition, WhenThen) else condition.zone
    return found


def _at(condition: Any, place: str) -> Any:
    if isinstance(condition, WhenThen):
        return msgspec.structs.replace(condition, when=msgspec.structs.replace(condition.when, place=place))
    return msgspec.structs.replace(condition, zone=place)
