"""Checks of numbers that come in: an impossible input is a ValueError that names its field."""

from __future__ import annotations

import math

CR10_HIGHEST = 10.0


def at_least(name: str, value: float, lowest: float) -> float:
    """`value` in its own unit, if it is finite and not below `lowest`; else ValueError naming the field."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise ValueError(f"{name}: must be a number, not {value!r}")
    if value < lowest:
        raise ValueError(f"{name}: must be at least {lowest:g}, not {value:g}")
    return value


def whole(name: str, value: int, lowest: int) -> int:
    """`value`, if it is a whole number not below `lowest`; else ValueError naming the field."""
    if isinstance(value, bool) or not isinstance(value, int):
        raise ValueError(f"{name}: must be a whole number, not {value!r}")
    at_least(name, value, lowest)
    return value


def cr10(name: str, value: float) -> float:
    """`value`, if it lies on the CR10 scale (0 to 10); else ValueError naming the field.

    The scale from 6 to 20 is another one, so 11 is refused rather than guessed at.
    """
    at_least(name, value, 0)
    if value > CR10_HIGHEST:
        raise ValueError(f"{name}: the CR10 scale ends at 10, not {value:g}")
    return value
