"""What a check says: the reason as data, and the same in plain English."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Severity = Literal["error", "warning"]

# Filled with a reason's parameters; a page may translate them.
MESSAGES = {
    "numbers": "The format has {wanted} {group}, the plan shows {shown}.",
    "not-inside": "{who} plays inside but stands outside the grid.",
    "not-outside": "{who} plays outside but stands inside the grid.",
    "wrong-edge": "{who} belongs on the {edge} edge but stands elsewhere.",
    "far-out": "{who} stands {metres} m from the grid, too far to take part.",
    "not-in-zone": "{who} starts outside the zone {zone}.",
    "on-top": "{who} and {other} stand on the same spot{when}.",
    "goal-off-edge": "The goal {goal} reaches beyond its edge.",
    "two-places": "{who} would have to be in two places at {time} s.",
    "ball-twice": "The ball {ball} is played at {time} s while it is still on its way.",
    "not-holding": "{who} runs with the ball {ball} at {time} s but does not have it.",
    "nobody-plays": "Nobody is where the ball {ball} is played at {time} s.",
    "nobody-there": "Nobody is where the ball {ball} arrives at {time} s.",
    "too-fast": "{who} would have to run {speed} m/s; {cap} m/s is the most for this age.",
    "ball-too-fast": "The ball {ball} would have to travel {speed} m/s; {cap} m/s is the most.",
    "shut-goal": "The shot at {time} s goes to the goal {goal}, which is drawn shut.",
    "cut-out": "{who}'s pass to {receiver} at {time} s would be cut out by {defender}.",
    "claim": "The text says “{claim}”, but the moves do not show it.",
    "claim-unclear": "The text says “{claim}”, but does not say {missing}, so it can't be checked.",
    "left-out-moves": "{who} is not there with these numbers; moves left out: {count}.",
    "left-out-ball": "From step {number} on a ball is not played as drawn: who or what it needs is not there.",
    "left-out-step": "Step {number} is left out: nothing of it remains.",
    "left-out-claim": "With these numbers the moves no longer show “{claim}”.",
    "no-moves-yet": "{who}: nobody drew them. They stand at the start and have no moves.",
    "start-only": "The drawn moves do not go with these numbers on this grid ({why}): only a start is shown.",
}


@dataclass(frozen=True)
class Reason:
    """One thing that is wrong (`error`) or odd (`warning`). `items` are the keys of what it is about."""

    key: str
    severity: Severity
    text: str
    items: tuple[str, ...] = ()
    params: dict[str, str] = field(default_factory=dict, hash=False)


def reason(key: str, severity: Severity, *items: str, **params: str) -> Reason:
    text = MESSAGES[key].format(**params)
    return Reason(key, severity, text[:1].upper() + text[1:], items, params)
