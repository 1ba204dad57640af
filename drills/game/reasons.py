"""Reasons as data with a plain English sentence: pages translate by key and parameters, sheets print the text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

ChangeClass = Literal["space", "task", "equipment", "people"]
Weight = Literal["change", "warning", "refusal"]
Parameter = int | float | str

_NUMBERS = (
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a set-up is as it is (change), what to watch (warning), or why none is possible (refusal)."""

    key: str
    text: str
    change_class: ChangeClass
    params: Mapping[str, Parameter] = field(default_factory=dict)
    weight: Weight = "change"


def in_words(count: int) -> str:
    """Small counts in words, as one would say them: 3 → three, 13 → 13."""
    return _NUMBERS[count] if 0 <= count < len(_NUMBERS) else str(count)


def sentence(text: str) -> str:
    """A capital in front and a full stop at the end."""
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "?", "!")) else ".")


def plural(count: int, one: str, many: str | None = None) -> str:
    """`plural(2, "player")` → "two players"; counts in words."""
    return f"{in_words(count)} {one if count == 1 else many or one + 's'}"


def joined(parts: list[str]) -> str:
    """a, b and c"""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def size(value_m: float) -> str:
    """Metres without needless decimals."""
    return f"{value_m:g}"
