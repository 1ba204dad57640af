"""Conditions, restarts, phases and changes read as a coach would say them."""

import pytest

from drills.game.document import decode
from drills.game.sentences import Names, say, say_change, say_ends, say_grid, say_phase, say_restart
from drills.game.variations import apply
from drills.game.wording import joined, number, sentence
from tests.drills.samples import WHOLE, whole

DOCUMENT = whole()
NAMES = Names.of(DOCUMENT)


def said(condition: dict) -> str:
    document = decode({**WHOLE, "variations": [], "conditions": [condition]})
    return sentence(say(document.conditions[0], NAMES))


@pytest.mark.parametrize(
    ("condition", "text"),
    [
        ({"type": "limit", "key": "x", "kind": "touches", "number": 2, "scope": {"group": "N"}}, "Yellows: at most 2 touches."),
        ({"type": "limit", "key": "x", "kind": "touches", "number": 1}, "Everyone: one touch."),
        (
            {"type": "limit", "key": "x", "kind": "no pass", "number": 1} | {"kind": "may not pass to each other", "scope": {"group": "N"}},
            "Yellows may not pass to each other.",
        ),
        ({"type": "limit", "key": "x", "kind": "stay in", "zone": "mid", "scope": {"group": "A"}}, "Reds stay in the middle."),
        ({"type": "limit", "key": "x", "kind": "touches", "number": 3, "scope": {"phase": "rush"}}, "Everyone: at most 3 touches, during the rush."),
        (
            {"type": "when", "key": "x", "when": {"kind": "passes", "number": 6}, "then": [{"kind": "goals open"}]},
            "After 6 passes in a row, the goals open.",
        ),
        (
            {"type": "when", "key": "x", "when": {"kind": "regain", "group": "B"}, "then": [{"kind": "phase", "phase": "rush"}, {"kind": "points", "number": 1}]},
            "When the ball is won by blues, the rush starts and 1 point.",
        ),
        (
            {"type": "when", "key": "x", "when": {"kind": "goal"}, "then": [{"kind": "goals open", "goals": ["west-goal"]}]},
            "After a goal, the west goal opens.",
        ),
        ({"type": "free", "key": "x", "text": "be kind"}, "Be kind."),
    ],
)  # fmt: skip
def test_a_condition_as_a_sentence(condition: dict, text: str) -> None:
    assert said(condition) == text


def test_restarts_ends_and_phases() -> None:
    assert say_restart(DOCUMENT.restarts[0], NAMES) == "Out at the side: yellows – pass it in."
    assert say_ends(DOCUMENT.ends, NAMES) == "Ends with the time of the round."
    assert say_ends(whole(ends={"kind": "first to", "number": 3}).ends, NAMES) == "First to 3 goals."
    assert say_phase(DOCUMENT.phases[0], NAMES).endswith(
        "rush is 5v5. It ends with goal, ball out or ball won."
    )


def test_a_change_says_what_it_was_before() -> None:
    eight, wide = DOCUMENT.variations
    after = apply(DOCUMENT, eight)
    assert say_change(eight.changes[0], DOCUMENT, after, NAMES) == (
        "After a pass through gate g1, the goals open and there are 8 seconds to score "
        "(before: after a pass through gate g1, the goals open, the rush starts and there are 12 seconds to score)."
    )
    after = apply(DOCUMENT, wide)
    assert (
        say_change(wide.changes[0], DOCUMENT, after, NAMES) == "Larger grid: 35 × 30 m instead of 25 × 20 m."
    )


def test_a_goal_has_one_name_wherever_it_is_said() -> None:
    """Its key with spaces, whichever sign parts the words of the key."""
    goal = {"key": "far_left-goal", "edge": "left", "size": "mini"}
    document = whole(
        goals=[goal],
        variations=[
            {
                "key": "other",
                "title": "Other",
                "rung": "harder",
                "changes": [
                    {"type": "move_goal", "key": goal["key"], "edge": "right"},
                    {"type": "remove_goal", "key": goal["key"]},
                ],
            }
        ],
    )
    changes = document.variations[0].changes
    told = [say_change(each, document, document, Names.of(document)) for each in changes]
    assert Names.of(document).goals == {goal["key"]: "far left goal"}
    assert ["far left goal" in text for text in told] == [True, True]


def lifted(limit: dict) -> str:
    then = {
        "type": "when",
        "key": "x",
        "when": {"kind": "regain"},
        "then": [{"kind": "limit lifted", "limit": "y"}],
    }
    document = decode(
        {**WHOLE, "variations": [], "conditions": [{"type": "limit", "key": "y", **limit}, then]}
    )
    return sentence(say(document.conditions[1], Names.of(document)))


def test_a_lifted_limit_says_what_may_be_done_now() -> None:
    reds = {"scope": {"group": "A"}, "zone": "mid"}
    assert lifted({"kind": "stay in", **reds}) == "When the ball is won, reds may leave the middle."
    assert lifted({"kind": "may not enter", **reds}) == "When the ball is won, reds may enter the middle."
    assert lifted({"kind": "offside", "word": "halfway"}) == (
        "When the ball is won, this no longer holds: offside counts for everyone beyond halfway."
    )


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"type": "put_goal", "goal": {"key": "north-goal", "edge": "top"}}, "One more goal, mini: “north goal”."),
        ({"type": "put_goal", "goal": {"key": "west-goal", "edge": "top"}}, "The goal “west goal” stands elsewhere."),
        (
            {"type": "put_zone", "zone": {"key": "mid", "name": "the middle", "left": 0.3, "bottom": 0, "right": 0.7, "top": 1}},
            "The middle is larger.",
        ),
        (
            {"type": "put_zone", "zone": {"key": "mid", "name": "the middle", "left": 0.2, "bottom": 0, "right": 0.4, "top": 1}},
            "The middle lies elsewhere.",
        ),
        ({"type": "remove_gate", "key": "g1"}, "Without gate g1."),
        ({"type": "set_heading", "heading": "none"}, "No heading."),
        (
            {"type": "set_scoring", "scoring": [{"what": "A red goal", "points": 2}, {"what": "A steal", "points": 1}]},
            "Scoring, in points: a red goal (2); a steal (1).",
        ),
        (
            {"type": "put_group", "group": {"key": "J", "name": "the joker", "plays_for": "whoever has the ball", "place": "zone", "zone": "mid", "least": 1}},
            "The joker: 1 in the middle.",
        ),
    ],
)  # fmt: skip
def test_what_a_variation_adds_or_moves_is_named(change: dict, text: str) -> None:
    variation = {"key": "v", "title": "One", "rung": "harder", "changes": [change]}
    document = decode({**WHOLE, "variations": [variation]})
    made = document.variations[0]
    assert say_change(made.changes[0], document, apply(document, made), NAMES) == text


def test_words_go_through_the_translator() -> None:
    names = Names(NAMES.groups, translate=lambda text: text.replace("at most", "höchstens"))
    assert say(DOCUMENT.conditions[0], names) == "yellows: höchstens 2 touches"


def test_small_words() -> None:
    assert (number(4.0), number(2.5), number(None)) == ("4", "2.5", "?")
    assert joined(["a"]) == "a"
    assert joined(["a", "b", "c"]) == "a, b and c"
    assert sentence(" all in ") == "All in."
    assert sentence("Why?") == "Why?"
    assert say_grid(DOCUMENT.grids[0]) == "25 × 20 m"
