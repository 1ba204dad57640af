"""Format, numbers and groups that contradict one another: one broken document for each sentence, and where it is said."""

from typing import Any

import pytest

from drills.game.document import DrillDocument
from drills.game.validate import errors, problems
from tests.drills.game.test_groups import BALL, BLUES, REDS, drill, group
from tests.drills.samples import small

RANGE = {"numbers": {"kind": "range", "least": 8, "most": 12}}
RANGED = group("reds", 4, 6), group("blues", 4, 6, "B")


def said(document: DrillDocument) -> list[tuple[str, str]]:
    return [(each.field, each.text) for each in errors(document)]


def test_groups_that_agree_have_no_problem() -> None:
    for document in (
        drill("4v4", REDS, BLUES),
        drill("4v4"),
        drill("5v5", *RANGED, **RANGE),
        drill(
            "4",
            group("starters", 2, 5, place="queue"),
            group("stones", 3, role="stone"),
            numbers=_range(5, 8),
        ),
        drill("4v4", REDS, BLUES, group("helper", 1, role="adult")),
        drill("4v4", *RANGED, numbers={"kind": "anyone"}),
        drill("4v4", *RANGED, numbers={"kind": "anyone", "most": 12}),
    ):
        assert problems(document) == []


def _range(least: int, most: int) -> dict[str, Any]:
    return {"kind": "range", "least": least, "most": most}


THREE = group("backs", 2, role="back"), group("middles", 2), group("forwards", 1, 2)
BROKEN: list[tuple[DrillDocument, str, str]] = [
    (
        drill("5v4", REDS, BLUES),
        "groups[0].least",
        "5v4 has 5 for “the reds”, but the group has 4: change the group, or change the format.",
    ),
    (
        drill("3v4", RANGED[0], BLUES),
        "groups[0].least",
        "3v4 has 3 for “the reds”, but the group has 4–6: change the group, or change the format.",
    ),
    (
        drill("8v4", *THREE, BLUES),
        "groups[2].least",
        "8v4 has 8 for “the backs”, “the middles” and “the forwards” together, but these groups have 5–6: "
        "change one of them, or the format.",
    ),
    (
        drill("4v4+2", REDS, BLUES),
        "groups",
        "4v4+2 has 2 for whoever has the ball, but no group for them: add a group, or change the format.",
    ),
    (
        drill("4v4", REDS),
        "groups",
        "4v4 has 4 on the second side, but no group for them: add a group, or change the format.",
    ),
    (
        drill("GK+4v4", REDS, BLUES),
        "groups",
        "GK+4v4 has 1 in goal on the first side, but no group for them: add a group, or change the format.",
    ),
    (
        drill("4v4", REDS, BLUES, group("greens", 4, plays_for="C")),
        "groups[2].plays_for",
        "4v4 has nobody on the third side, where “the greens” should play: "
        "change whom the group plays for, or the format.",
    ),
    (
        drill("4v4", REDS, BLUES, group("floater", 1, plays_for=BALL)),
        "groups[2].plays_for",
        "4v4 has nobody for whoever has the ball, where “the floater” should play: "
        "change whom the group plays for, or the format.",
    ),
    (
        drill("4v4", REDS, BLUES, group("geese", 1, plays_for="itself")),
        "groups[2].plays_for",
        "“the geese” has no side of its own in 4v4: say which side the group plays for, or change the format.",
    ),
    (
        drill("4v4", *RANGED, numbers=_range(9, 12)),
        "numbers",
        "The drill is for 9 to 12 players, but 4v4 is 8 players: change the format, or the numbers.",
    ),
    (
        drill("4v4", *RANGED, numbers={"kind": "anyone", "least": 9}),
        "numbers",
        "The drill is for 9 players or more, but 4v4 is 8 players: change the format, or the numbers.",
    ),
    (
        drill("5v5", *RANGED, numbers={"kind": "anyone", "most": 9}),
        "numbers",
        "The drill is for at most 9 players, but 5v5 is 10 players: change the format, or the numbers.",
    ),
    (
        drill("4v4", group("reds", 3, 5), BLUES, **RANGE),
        "groups[0].most",
        "The drill is for 8 to 12 players, but the groups only go from 7 to 9: "
        "give a group a wider range, or change the numbers.",
    ),
    (
        drill("4v4", *RANGED, numbers=_range(6, 12)),
        "groups[0].least",
        "The drill is for 6 to 12 players, but the groups only go from 8 to 12: "
        "give a group a wider range, or change the numbers.",
    ),
    (
        drill("4v4", REDS, BLUES, **RANGE),
        "groups[0].most",
        "The drill is for 8 to 12 players, but every group has a fixed number: "
        "fill in “at most” for at least one of them.",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("document", "field", "text"), BROKEN, ids=[text[:40] for _, _, text in BROKEN])
def test_a_contradiction_is_said_where_it_can_be_cleared(
    document: DrillDocument, field: str, text: str
) -> None:
    assert said(document) == [(field, text)]


def test_anyone_can_join_only_where_a_group_can_take_them() -> None:
    document = drill("4v4", REDS, BLUES, numbers={"kind": "anyone", "most": 12})
    assert said(document) == [
        (
            "groups[0].most",
            "The drill is for at most 12 players, but every group has a fixed number: "
            "fill in “at most” for at least one of them.",
        )
    ]


def test_what_can_not_be_read_is_not_counted() -> None:
    assert [each.field for each in errors(drill("4v", REDS, BLUES))] == ["format"]
    assert [each.field for each in errors(drill("6v4", {**REDS, "most": 2}, BLUES))] == ["groups[0].most"]
    assert [each.field for each in errors(drill("9v4", REDS, REDS, BLUES))] == ["groups"]
    assert [each.field for each in errors(drill("4v4", *RANGED, numbers=_range(12, 8)))] == ["numbers"]


def test_a_variation_is_counted_as_it_is_played_and_named() -> None:
    five = {"type": "set_format", "format": "5v4"}
    rung = {"key": "five", "title": "Five", "rung": "easier", "changes": [five]}
    found = [
        each for each in problems(drill("4v4", REDS, BLUES, variations=[rung])) if each.severity == "error"
    ]
    assert [(each.field, each.text) for each in found] == [
        (
            "variations[0].changes",
            "In “Five”: 5v4 has 5 for “the reds”, but the group has 4: change the group, or change the format.",
        )
    ]
    put = {"type": "put_group", "group": group("reds", 5)}
    assert errors(drill("4v4", REDS, BLUES, variations=[{**rung, "changes": [five, put]}])) == []


ENTRY = {"group": "gone", "source": "a cone"}
LIMIT = {"type": "limit", "key": "x", "kind": "may not tackle"}
WHEN = {"type": "when", "key": "x", "when": {"kind": "goal"}, "then": [{"kind": "player leaves"}]}
NAMED: list[tuple[dict[str, Any], str]] = [
    ({"goals": [{"key": "west", "edge": "left", "defended_by": "gone"}]}, "goals[0].defended_by"),
    ({"scoring": [{"what": "a goal", "group": "gone"}]}, "scoring[0].group"),
    ({"start": {"trigger": "a pass", "delays": [ENTRY]}}, "start.delays[0].group"),
    ({"phases": [{"key": "p", "name": "p", "format": "4v4", "entries": [ENTRY]}]}, "phases[0].entries[0].group"),
    ({"conditions": [{**LIMIT, "scope": {"group": "gone"}}]}, "conditions[0].scope.group"),
    ({"conditions": [{**LIMIT, "other": "gone"}]}, "conditions[0].other"),
    ({"conditions": [{**WHEN, "scope": {"group": "gone"}}]}, "conditions[0].scope.group"),
    ({"conditions": [{**WHEN, "when": {"kind": "goal", "group": "gone"}}]}, "conditions[0].when.group"),
    ({"conditions": [{**WHEN, "then": [{"kind": "player leaves", "group": "gone"}]}]}, "conditions[0].then[0].group"),
]  # fmt: skip


@pytest.mark.parametrize(("change", "field"), NAMED, ids=[field for _, field in NAMED])
def test_a_group_that_is_gone_is_named_wherever_a_group_may_stand(change: dict[str, Any], field: str) -> None:
    assert said(drill("4v4", REDS, BLUES, **change)) == [(field, "There is no group “gone” in the drill.")]


def test_a_goal_may_be_defended_by_a_whole_side() -> None:
    goal = {"key": "west", "edge": "left"}
    assert said(drill("4v4", REDS, BLUES, goals=[{**goal, "defended_by": "B"}])) == []
    assert [field for field, _ in said(drill("4v4", REDS, BLUES, goals=[{**goal, "defended_by": "C"}]))] == [
        "goals[0].defended_by"
    ]


def test_a_variation_that_takes_a_group_away_names_what_still_needs_it() -> None:
    changes = [{"type": "remove_group", "key": "floater"}, {"type": "set_format", "format": "4v4"}]
    document = small(
        format="4v4+1in",
        groups=[REDS, BLUES, group("floater", 1, plays_for=BALL)],
        conditions=[{**LIMIT, "scope": {"group": "floater"}}],
        variations=[{"key": "none", "title": "Without", "rung": "harder", "changes": changes}],
    )
    assert ("variations[0].changes", "In “Without”: There is no group “floater” in the drill.") in said(
        document
    )
