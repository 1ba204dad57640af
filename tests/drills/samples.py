"""Documents that tests start from: our own game, complete, and the smallest that will do."""

from typing import Any

from drills.game.document import DrillDocument, decode

SMALL: dict[str, Any] = {
    "title": "Lantern Square",
    "purpose": "Keep the ball away from one hunter.",
    "activity": "rondo",
    "moment": "in possession",
    "format": "4v1",
    "grids": [{"key": "usual", "length_m": 9, "width_m": 9, "purpose": "room for two touches"}],
}

WHOLE: dict[str, Any] = {
    **SMALL,
    "title": "Lantern Gates",
    "activity": "possession",
    "format": "4v4+4",
    "themes": ["keep-the-ball"],
    "under_from": 12,
    "under_to": 15,
    "groups": [
        {"key": "A", "name": "reds", "plays_for": "A", "place": "inside", "least": 4, "bib": "red"},
        {"key": "B", "name": "blues", "plays_for": "B", "place": "inside", "least": 4, "bib": "blue"},
        {
            "key": "N", "name": "yellows", "plays_for": "whoever has the ball", "place": "every side", "least": 4,
            "bib": "yellow",
        },
    ],
    "grids": [
        {"key": "usual", "length_m": 25, "width_m": 20, "purpose": "tight"},
        {"key": "large", "length_m": 35, "width_m": 30, "purpose": "wide"},
    ],
    "zones": [{"key": "mid", "name": "the middle", "left": 0.4, "bottom": 0, "right": 0.6, "top": 1}],
    "gates": [{"key": "g1", "x": 0.5, "y": 0.5}],
    "goals": [{"key": "west-goal", "edge": "left"}, {"key": "east-goal", "edge": "right", "open_at_start": False}],
    "kit": [{"kind": "marker cones", "count": 12}],
    "balls": {"number": 1, "spare": 6},
    "start": {"trigger": "the coach plays in"},
    "restarts": [{"after": "side-out", "who": "N", "how": "pass in"}],
    "on_winning": {"task": "find a yellow", "within_s": 4},
    "scoring": [{"what": "a goal", "points": 1}],
    "queue": None,
    "conditions": [
        {"type": "limit", "key": "two", "kind": "touches", "scope": {"group": "N"}, "number": 2},
        {
            "type": "when", "key": "six", "when": {"kind": "passes", "number": 6},
            "then": [{"kind": "goals open"}, {"kind": "phase", "phase": "rush"}],
        },
    ],
    "phases": [{"key": "rush", "name": "the rush", "format": "4v4"}],
    "variations": [
        {
            "key": "eight", "title": "Eight passes", "rung": "harder",
            "changes": [
                {
                    "type": "replace_condition",
                    "condition": {
                        "type": "when", "key": "six", "when": {"kind": "passes", "number": 8},
                        "then": [{"kind": "goals open"}],
                    },
                }
            ],
        },
        {
            "key": "wide", "title": "Wide and calm", "rung": "easier", "effort": 4,
            "changes": [{"type": "set_grid", "length_m": 35, "width_m": 30}],
        },
    ],
    "say_this": ["Six passes open every goal."],
    "points": [{"role": "player on the ball", "looks_like": "Looks before it comes."}],
    "questions": [
        {"key": "q1", "role": "N", "moment": "between bouts", "ask": "Who was free?", "listen_for": "The far one."}
    ],
}  # fmt: skip
WHOLE.pop("queue")


def small(**changes: Any) -> DrillDocument:
    """The smallest document, with changes."""
    return decode({**SMALL, **changes})


def whole(**changes: Any) -> DrillDocument:
    """A complete document, with changes."""
    return decode({**WHOLE, **changes})
