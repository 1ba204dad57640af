"""Keys on a plan, which has one name for everything on it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, count
from typing import TypeVar

import msgspec

from drills.game.scene import LONGEST_KEY, SceneGate, SceneGoal, SceneZone

Thing = TypeVar("Thing", SceneGoal, SceneZone, SceneGate)


def with_own_keys(things: tuple[Thing, ...], taken: set[str]) -> tuple[Thing, ...]:
    """The same, with another key where something else has it: a drill may call a zone and a gate alike, a plan may not."""
    made = []
    for each in things:
        key = next(key for key in chain([each.key], _numbered(each.key)) if key not in taken)
        taken.add(key)
        made.append(each if key == each.key else msgspec.structs.replace(each, key=key))
    return tuple(made)


def _numbered(key: str) -> Iterator[str]:
    return (f"{key[: LONGEST_KEY - 4]}-{number}" for number in count(2))
