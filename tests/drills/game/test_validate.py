"""Contradictions are found, named and told apart from hints."""

from typing import Any

import pytest

from drills.game.validate import errors, missing_for_review, problems
from tests.drills.samples import WHOLE, small, whole


def test_a_complete_document_has_no_errors() -> None:
    assert errors(whole()) == []
    assert errors(small()) == []


FEWEST = {"type": "limit", "key": "x", "kind": "fewest in a zone", "zone": "mid", "number": 3}
CONTRADICTIONS: list[tuple[dict[str, Any], str]] = [
    ({"format": "4v"}, "format"),
    ({"numbers": {"kind": "range", "least": 8}}, "numbers"),
    ({"numbers": {"kind": "range", "least": 8, "most": 4}}, "numbers"),
    ({"under_from": 15, "under_to": 10}, "under_to"),
    ({"grids": [{**WHOLE["grids"][0], "length_m": 125}]}, "grids[0]"),
    ({"grids": [WHOLE["grids"][0], WHOLE["grids"][0]]}, "grids"),
    ({"zones": [{**WHOLE["zones"][0], "right": 0.4}]}, "zones[0]"),
    ({"conditions": [{"type": "limit", "key": "x", "kind": "touches"}]}, "conditions[0].number"),
    ({"conditions": [{"type": "limit", "key": "x", "kind": "touches", "number": 0}]}, "conditions[0].number"),
    (
        {"conditions": [{"type": "limit", "key": "x", "kind": "may not tackle", "scope": {"group": "Z"}}]},
        "conditions[0].scope.group",
    ),
    (
        {
            "conditions": [
                {"type": "when", "key": "x", "when": {"kind": "passes"}, "then": [{"kind": "goals open"}]}
            ]
        },
        "conditions[0].when.number",
    ),
    (
        {"conditions": [{"type": "when", "key": "x", "when": {"kind": "goal"}, "then": [{"kind": "phase"}]}]},
        "conditions[0].then[0].phase",
    ),
    ({"conditions": [{**FEWEST, "number": 13}]}, "conditions[0].number"),
    (
        {"conditions": [FEWEST, {**FEWEST, "key": "y", "kind": "most in a zone", "number": 2}]},
        "conditions[0].number",
    ),
    ({"phases": [{"key": "rush", "name": "the rush", "format": "9v9"}]}, "phases[0].format"),
    (
        {
            "numbers": {"kind": "range", "least": 8, "most": 14},
            "phases": [{"key": "rush", "name": "the rush", "format": "9v9"}],
        },
        "phases[0].format",
    ),
    ({"groups": [{**WHOLE["groups"][0], "most": 2}, *WHOLE["groups"][1:]]}, "groups[0].most"),
]


@pytest.mark.parametrize(("change", "field"), CONTRADICTIONS, ids=[field for _, field in CONTRADICTIONS])
def test_a_contradiction_is_named(change: dict[str, Any], field: str) -> None:
    found = errors(whole(variations=[], **change))
    assert [each.field for each in found if each.field == field] == [field]


def test_a_grid_that_nothing_can_be_laid_out_in_is_refused() -> None:
    found = errors(
        whole(grids=[{"key": "usual", "length_m": 0.5, "width_m": 20, "purpose": "tight"}], variations=[])
    )
    assert [each.text for each in found] == ["0.5 × 20 m is too small to play in: at least 2 × 2 m."]


def test_goals_that_are_not_there_can_not_open() -> None:
    found = errors(whole(goals=[], variations=[]))
    assert [each.field for each in found] == ["conditions[1].then[0].goals"]


def test_goals_that_are_open_from_the_start_can_hardly_open() -> None:
    west = {"key": "west-goal", "edge": "left"}
    found = problems(whole(goals=[west], variations=[]))
    assert [(each.field, each.severity) for each in found] == [("conditions[1].then[0].goals", "hint")]
    assert problems(whole(goals=[{**west, "open_at_start": False}], variations=[])) == []


def test_own_words_are_a_hint_not_an_error() -> None:
    found = problems(whole(conditions=[{"type": "free", "key": "x", "text": "be kind"}], variations=[]))
    assert [(each.field, each.severity) for each in found] == [("conditions[0]", "hint")]


def test_a_variation_that_can_no_longer_be_applied_stops_the_save_and_is_named() -> None:
    found = errors(whole(conditions=[], goals=WHOLE["goals"]))
    assert [each.field for each in found] == ["variations[0].changes"]
    assert "Eight seconds" in found[0].text


def test_a_variation_is_not_blamed_for_what_is_wrong_in_the_base() -> None:
    found = errors(whole(under_from=15, under_to=10))
    assert [each.field for each in found] == ["under_to"]


def test_what_another_coach_would_miss() -> None:
    assert missing_for_review(whole()) == []
    assert [each.field for each in missing_for_review(small())] == [
        "say_this",
        "restarts",
        "points",
        "questions",
    ]
