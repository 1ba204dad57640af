"""Documents that tests start from: a game of gates, complete, a game with helpers outside, and the smallest that will do."""

from collections.abc import Mapping, Sequence
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
    "format": "5v5+2in",
    "themes": ["keep-the-ball"],
    "under_from": 12,
    "under_to": 15,
    "groups": [
        {"key": "A", "name": "reds", "plays_for": "A", "place": "inside", "least": 5, "bib": "red"},
        {"key": "B", "name": "blues", "plays_for": "B", "place": "inside", "least": 5, "bib": "blue"},
        {
            "key": "N", "name": "yellows", "plays_for": "whoever has the ball", "place": "inside", "least": 2,
            "role": "floater", "bib": "yellow",
        },
    ],
    "grids": [
        {"key": "usual", "length_m": 25, "width_m": 20, "purpose": "the lantern is one pass away"},
        {"key": "large", "length_m": 35, "width_m": 30, "purpose": "somebody has to carry it there"},
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
            "type": "when", "key": "lit", "when": {"kind": "through a gate", "place": "g1"},
            "then": [
                {"kind": "goals open"}, {"kind": "phase", "phase": "rush"}, {"kind": "seconds to score", "number": 12},
            ],
        },
    ],
    "phases": [{"key": "rush", "name": "the rush", "format": "5v5"}],
    "variations": [
        {
            "key": "eight", "title": "Eight seconds", "rung": "harder",
            "changes": [
                {
                    "type": "replace_condition",
                    "condition": {
                        "type": "when", "key": "lit", "when": {"kind": "through a gate", "place": "g1"},
                        "then": [{"kind": "goals open"}, {"kind": "seconds to score", "number": 8}],
                    },
                }
            ],
        },
        {
            "key": "wide", "title": "Wide and calm", "rung": "easier", "effort": 4,
            "changes": [{"type": "set_grid", "length_m": 35, "width_m": 30}],
        },
    ],
    "say_this": ["A pass through the lantern opens both goals."],
    "points": [{"role": "player on the ball", "looks_like": "Looks before it comes."}],
    "questions": [
        {"key": "q1", "role": "N", "moment": "between bouts", "ask": "Who was free?", "listen_for": "The far one."}
    ],
}  # fmt: skip
WHOLE.pop("queue")

OUTSIDE: dict[str, Any] = {
    **SMALL,
    "title": "Rope Walk",
    "purpose": "Draw them to one rope, then let the ball go by the other.",
    "activity": "possession",
    "format": "4v4+4",
    "themes": ["switch-play"],
    "under_from": 12,
    "under_to": 15,
    "groups": [
        {"key": "A", "name": "greens", "plays_for": "A", "place": "inside", "least": 4, "bib": "green"},
        {"key": "B", "name": "oranges", "plays_for": "B", "place": "inside", "least": 4, "bib": "orange"},
        {
            "key": "N", "name": "the ropes", "plays_for": "whoever has the ball", "place": "every side", "least": 4,
            "role": "bounce player", "bib": "red",
        },
    ],
    "grids": [{"key": "usual", "length_m": 25, "width_m": 20, "purpose": "one long pass from rope to rope"}],
    "balls": {"number": 1, "spare": 6},
    "conditions": [
        {
            "type": "when", "key": "across", "when": {"kind": "switch of side"},
            "then": [{"kind": "points", "number": 1}],
        },
    ],
}  # fmt: skip


HARBOUR: dict[str, Any] = {
    "title": "Harbour",
    "purpose": "Keep the ball.",
    "activity": "possession",
    "moment": "in possession",
    "format": "4v4+4",
    "grids": [{"key": "usual", "length_m": 30, "width_m": 24, "purpose": "usual"}],
}


def harbour(variations: Sequence[Mapping[str, Any]], **changes: Any) -> DrillDocument:
    """A game with four neutrals and no groups, and these variations."""
    return decode({**HARBOUR, "variations": list(variations), **changes})


def small(**changes: Any) -> DrillDocument:
    """The smallest document, with changes."""
    return decode({**SMALL, **changes})


def outside(**changes: Any) -> DrillDocument:
    """A game with a helper outside on every side, with changes."""
    return decode({**OUTSIDE, **changes})


def whole(**changes: Any) -> DrillDocument:
    """A complete document, with changes."""
    return decode({**WHOLE, **changes})
