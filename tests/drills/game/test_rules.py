"""All rules as sentences: what holds for both sides, or for two places, is said once."""

from typing import Any

import msgspec

from drills.game.document import DrillDocument
from drills.game.sentences import Names, rules_of
from drills.game.wording import text_of
from tests.drills.samples import small

GROUPS = [
    {"key": key, "name": name, "plays_for": key, "place": "inside", "least": 4, "bib": name[:-1]}
    for key, name in (("A", "reds"), ("B", "blues"))
]
ZONES = [
    {"key": key, "name": f"the {key} box", "left": left, "bottom": 0, "right": left + 0.2, "top": 1}
    for key, left in (("west", 0), ("east", 0.8))
]


def document(*conditions: dict[str, Any], **more: Any) -> DrillDocument:
    keyed = [{"key": f"c{number}", **each} for number, each in enumerate(conditions)]
    return small(**{"format": "4v4", "groups": GROUPS, "zones": ZONES, "conditions": keyed, **more})


def told(*conditions: dict[str, Any]) -> list[str]:
    written = document(*conditions)
    return [text_of(each.said) for each in rules_of(written, Names.of(written))]


def limit(group: str, kind: str = "touches", **more: Any) -> dict[str, Any]:
    return {"type": "limit", "kind": kind, "scope": {"group": group}, "number": 3, **more}


def passes(group: str, *, then: str | None = None, number: int = 5) -> dict[str, Any]:
    points = {"kind": "points", "number": 1, "group": then or group}
    return {"type": "when", "when": {"kind": "passes", "number": number, "group": group}, "then": [points]}


def test_a_rule_for_both_sides_is_said_once() -> None:
    assert told(passes("A"), passes("B")) == ["after 5 passes in a row by either team, 1 point for that team"]
    assert told(limit("A"), limit("B")) == ["reds and blues: at most 3 touches"]


def test_what_is_not_the_same_for_both_is_said_of_each() -> None:
    assert len(told(passes("A"), passes("B", number=6))) == 2
    assert len(told(passes("A", then="B"), passes("B", then="A"))) == 2
    assert len(told(limit("A"), limit("B", number=2))) == 2


def test_what_would_mean_another_thing_together_stays_apart() -> None:
    for kind, more in (
        ("most in a zone", {"zone": "west"}),
        ("may not pass to each other", {"number": None}),
    ):
        assert len(told(limit("A", kind, **more), limit("B", kind, **more))) == 2


def test_two_places_are_said_once() -> None:
    def into(place: str) -> dict[str, Any]:
        double = {"kind": "points times", "number": 2}
        return {"type": "when", "when": {"kind": "into a zone", "place": place}, "then": [double]}

    assert told(into("west"), into("east")) == [
        "once the ball is brought into the west box or the east box, the next goal counts double"
    ]


def test_the_order_stays_and_no_rule_is_lost() -> None:
    own = {"type": "free", "text": "The keeper may not leave the box."}
    written = document(limit("A"), own, passes("A"), limit("B"), passes("B"))
    found = rules_of(written, Names.of(written))
    assert [each.keys for each in found] == [("c0", "c3"), ("c1",), ("c2", "c4")]
    assert [each.own_words for each in found] == [False, True, False]
    assert sorted(key for each in found for key in each.keys) == sorted(
        each.key for each in written.conditions
    )


def test_each_rule_alone_is_what_it_always_was() -> None:
    from drills.game.sentences import say

    written = document(limit("A"), passes("B"))
    for condition in written.conditions:
        alone = msgspec.structs.replace(written, conditions=(condition,))
        (rule,) = rules_of(alone, Names.of(alone))
        assert text_of(rule.said) == say(condition, Names.of(alone))
