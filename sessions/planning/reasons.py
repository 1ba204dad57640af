"""Reasons: why an answer is what it is, as data, with words from one catalogue.

Page, API and printed sheet say the same thing: a sentence of `catalogue` with the reason's code and values.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from drills.game.wording.rendering import Plural, Translate, as_written, text_of
from drills.game.wording.shapes import Sentence
from sessions.planning.catalogue import CATALOGUE

Value = str | int | float


@dataclass(frozen=True, slots=True)
class PlanningReason:
    """One reason. `values` fill the catalogue's sentence; `part` names the part it stands beside.

    `clears` are further reasons, each of them a change that would clear this one (or help to). Raises ValueError for a code
    that the catalogue does not have.
    """

    code: str
    values: tuple[tuple[str, Value], ...] = ()
    part: str | None = None
    clears: tuple[PlanningReason, ...] = ()

    def __post_init__(self) -> None:
        if self.code not in CATALOGUE:
            raise ValueError(f"code: no reason is called {self.code!r}")

    @property
    def text(self) -> str:
        """The sentence in plain English."""
        return self.said()

    @property
    def counted(self) -> int | None:
        """The number that decides between one and many; None for a sentence that is always the same."""
        value = dict(self.values).get(CATALOGUE[self.code].counted)
        return None if value is None else 1 if value == 1 else 2

    def said(self, translate: Translate = as_written, plural: Plural | None = None) -> str:
        """The sentence in the reader's language: as `text_of` takes them, of one wording and of two."""
        return text_of(Sentence(self.code, dict(self.values)), translate, plural, CATALOGUE)


def reason(
    code: str, part: str | None = None, clears: tuple[PlanningReason, ...] = (), **values: Value
) -> PlanningReason:
    """A reason with its numbers rounded as people say them (whole, else one decimal)."""
    return PlanningReason(code, tuple((name, spoken(value)) for name, value in values.items()), part, clears)


def spoken(value: Value) -> Value:
    """Round a number as it is said: 4.0 becomes 4, 4.04 becomes 4, 4.26 becomes 4.3."""
    if not isinstance(value, float):
        return value
    rounded = round(value, 1)
    return int(rounded) if rounded == int(rounded) else rounded


def kept_reason(each: PlanningReason) -> dict[str, Any]:
    """A reason as plain data."""
    return {
        "code": each.code,
        "values": [list(pair) for pair in each.values],
        "part": each.part,
        "clears": [kept_reason(other) for other in each.clears],
    }


def reason_from(kept: Mapping[str, Any]) -> PlanningReason:
    """The reason that `kept_reason` kept. Raises ValueError for a code that is not known (any more)."""
    return PlanningReason(
        kept["code"],
        tuple((name, value) for name, value in kept["values"]),
        kept["part"],
        tuple(reason_from(each) for each in kept["clears"]),
    )
